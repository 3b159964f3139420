#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace bandwright {

/// The systems in which a finger is measured. Each names the rule and its source in ring_size.cpp.
enum class SizeSystem {
    Iso,            ///< ISO 8653: inner circumference, mm
    Us,             ///< US and Canada, quarter sizes
    Uk,             ///< UK, Ireland, Australia: letters with halves (BS 6820:1987)
    Japan,          ///< traditional number
    Swiss,          ///< circumference less 40 mm (also Italy, Spain, Netherlands)
    Diameter,       ///< inner diameter, mm (older German sizes)
    Circumference,  ///< inner circumference, mm, not rounded
};

/// A finger size in the system the client named it in. `value` counts in that system's own steps: US 9.5 is 9.5,
/// UK A is 0 and each letter 1 more (R½ is 17.5), the others as written.
struct RingSize {
    SizeSystem system = SizeSystem::Diameter;
    double value = 18.0;

    bool operator==(const RingSize&) const = default;
};

/// Inner diameter in mm of the finger size at mid-width, by the system's own formula, not rounded.
double innerDiameter(const RingSize& size);

/// The same finger in another system, rounded to that system's finest marked step (ISO 1, US 1/4, UK 1/2, ...).
RingSize convert(const RingSize& size, SizeSystem to);

/// Reads "US 9.5", "US 9 1/2", "UK R½", "UK Z+1", "ISO 60", "JP 18", "CH 19.5", "18.95 mm", "59.5 mm circumference".
/// Throws InputError with what was found and what is allowed.
RingSize parseRingSize(std::string_view text);

/// The usual way to write it: "US 9 1/2", "UK R½", "ISO 60", "18.95 mm".
std::string formatRingSize(const RingSize& size);

}  // namespace bandwright
