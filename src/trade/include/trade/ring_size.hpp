#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bandwright::trade {

/// The systems in which a finger is measured; `sizeRules()` has the rule and the source of each.
enum class SizeSystem {
    Iso,            ///< ISO 8653: inner circumference, mm (also France, Germany)
    Us,             ///< US and Canada, quarter sizes
    Uk,             ///< UK, Ireland, Australia: letters with halves (BS 6820:1987)
    Japan,          ///< traditional number
    Swiss,          ///< circumference less 40 mm (also Italy, Spain)
    Diameter,       ///< inner diameter, mm (older German sizes)
    Circumference,  ///< inner circumference, mm
};

/// One US size on the inner diameter, mm: 0.032 in; the source is with the system's rule.
inline constexpr double kMmPerUsSize = 0.032 * 25.4;

/// What the trade says of one system; plain text, fit to be shown.
struct SizeRule {
    SizeSystem system = SizeSystem::Diameter;
    std::string_view name;
    std::string_view rule;      ///< the formula in words
    std::string_view source;    ///< where the formula is published
    std::string_view rounding;  ///< how `convert` rounds
    std::string_view note;      ///< where charts and makers differ; may be empty
    double step = 1;            ///< finest marked step, in the system's own count
    double first = 0;           ///< smallest size the system has a name for
};

/// Every system, in the order of SizeSystem.
std::span<const SizeRule> sizeRules();
const SizeRule& sizeRule(SizeSystem system);

/// A finger size in the system the client named it in. `value` counts in that system's own steps: US 9.5
/// is 9.5, UK A is 0 and each letter 1 more (R½ is 17.5, Z+1 is 26), the others as written.
struct RingSize {
    SizeSystem system = SizeSystem::Diameter;
    double value = 18.0;

    bool operator==(const RingSize&) const = default;
};

/// Inner diameters, in mm, that `parseRingSize` takes.
inline constexpr double kLeastInnerDiameter = 8;
inline constexpr double kMostInnerDiameter = 40;

/// Inner diameter in mm of the finger size at mid-width, by the system's own formula, not rounded and not
/// limited.
double innerDiameter(const RingSize& size);

/// The same finger in another system, rounded to the nearest of that system's finest marked steps (ISO 1, US
/// 1/4, UK 1/2, Japan 1, Swiss 1/4, mm 0.01); halfway goes to the larger. Small fingers have no name in some
/// systems (nothing is below UK A): the value is then below the rule's `first`, and formatRingSize says so.
RingSize convert(const RingSize& size, SizeSystem to);

/// Reads "US 9.5", "us9 1/2", "size US 9½", "UK R½", "UK Z+1", "ISO 60", "FR 60", "JP 18", "CH 19.5",
/// "18.95 mm", "19,1 mm", "0.746 in", "Ø 18.95", "59.5 mm circumference"; upper or lower case, country before
/// or after. With no system named, letters are UK, a number from 41 to 76 is the circumference and a length
/// the inner diameter. Any other number is taken where one system alone has it among its marked sizes; where
/// several do, as with 9, it is read in the `expected` one, if that is given and has it. Sums, fractions and
/// inches come out to the micrometre. Throws InputError with what was found and what is allowed, or what has
/// to be told.
RingSize parseRingSize(std::string_view text, std::optional<SizeSystem> expected = std::nullopt);

/// The usual way to write it: "US 9 1/2", "UK R½", "ISO 60", "JP 18", "CH 19.5", "18.95 mm", "59.5 mm
/// circumference". parseRingSize reads it back as the same size (UK letters to the quarter). A size below the
/// system's first is written "below UK A" and does not read back.
std::string formatRingSize(const RingSize& size);

/// The band and bore that a width correction looks at.
struct FitQuestion {
    double bandWidth = 0;  ///< mm
    bool comfortBore = false;
};

/// A correction of the inner diameter that a maker may choose; nothing applies it by itself.
struct WidthCorrection {
    double least = 0;  ///< mm on the inner diameter; negative makes the ring smaller
    double most = 0;
    std::string text;  ///< one sentence
    std::string_view source;
};

/// What shops commonly add to or take from a size for this fit; empty when nothing is customary.
std::vector<WidthCorrection> offeredWidthCorrections(const FitQuestion& fit);

}  // namespace bandwright::trade
