#include "trade/ring_size.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include "base/numbers.hpp"

namespace bandwright::trade {

namespace {

using std::numbers::pi;

constexpr double kMmPerInch = 25.4;

constexpr std::array<SizeRule, 7> kRules{{
    {SizeSystem::Iso, "ISO 8653, France, Germany", "inner circumference in mm",
     "ISO 8653:2016, by the public preview of BS EN ISO 8653:2014; JIS S 4700:1998 has the same text",
     "to the nearest whole number, as the standard does",
     "The standard's stick is marked 41 to 76. A comfort bore touches the stick at mid-width, a straight one "
     "at its lower "
     "edge.",
     1, 1},
    {SizeSystem::Us, "US, Canada", "inner diameter in inches = 0.458 + 0.032 x size",
     "Wikipedia, 'Ring size'; GNU Units, definitions.units", "to the nearest quarter",
     "No legal standard. Another published rule, circumference 1.4216 + 0.1018 x size inches, gives 0.37 mm "
     "less in "
     "circumference at size 2 and the same near 12.",
     0.25, 0},
    {SizeSystem::Uk, "UK, Ireland, Australia, New Zealand",
     "circumference in mm = 37.5 + 1.25 for each letter after A",
     "BS 6820:1987, by GNU Units, definitions.units", "to the nearest half letter",
     "Read the letter as the nearest one: many charts still follow BS 1283:1945 or stand half a letter off. "
     "The mm are "
     "what is meant.",
     0.5, 0},
    {SizeSystem::Japan, "Japan, traditional", "inner diameter in mm = (38 + size) / 3",
     "GNU Units, definitions.units", "to the nearest whole number",
     "JIS S 4700 itself counts the circumference, as ISO 8653 does.", 1, 1},
    {SizeSystem::Swiss, "Switzerland, Italy, Spain", "inner circumference in mm less 40",
     "Wikipedia, 'Ring size'; GNU Units, definitions.units", "to the nearest quarter",
     "Printed charts may differ from the formula by nearly 1 mm of circumference. The Netherlands use it "
     "beside "
     "the diameter, and some French shops use it: ask which.",
     0.25, 1},
    {SizeSystem::Diameter, "Inner diameter", "inner diameter in mm at mid-width",
     "by definition; Germany's older sizes (Wikipedia, 'Ring size')", "to the nearest 0.01 mm", "", 0.01, 0},
    {SizeSystem::Circumference, "Inner circumference", "inner diameter x pi, in mm", "by definition",
     "to the nearest 0.01 mm", "", 0.01, 0},
}};

constexpr std::string_view kCommonPractice =
    "common practice, no standard; shop advice (careypearson.com, tenderessentials.com)";

/// Inner circumference in mm; exact for the systems that count it.
double innerCircumference(const RingSize& size) {
    switch (size.system) {
        case SizeSystem::Iso:
        case SizeSystem::Circumference:
            return size.value;
        case SizeSystem::Uk:
            return 37.5 + 1.25 * size.value;
        case SizeSystem::Swiss:
            return size.value + 40;
        case SizeSystem::Us:
        case SizeSystem::Japan:
        case SizeSystem::Diameter:
            break;
    }
    return innerDiameter(size) * pi;
}

double unroundedValue(const RingSize& size, SizeSystem to) {
    switch (to) {
        case SizeSystem::Iso:
        case SizeSystem::Circumference:
            return innerCircumference(size);
        case SizeSystem::Uk:
            return (innerCircumference(size) - 37.5) / 1.25;
        case SizeSystem::Swiss:
            return innerCircumference(size) - 40;
        case SizeSystem::Us:
            return (innerDiameter(size) - 0.458 * kMmPerInch) / kMmPerUsSize;
        case SizeSystem::Japan:
            return 3 * innerDiameter(size) - 38;
        case SizeSystem::Diameter:
            break;
    }
    return innerDiameter(size);
}

/// "R", "R½", "Z", "Z½", "Z+1", "Z+1½"; to the quarter.
std::string ukLetter(double value) {
    constexpr double kZ = 25;
    constexpr std::array<std::string_view, 4> kQuarters{"", "\u00bc", "\u00bd", "\u00be"};
    const double quarters = std::round(value * 4);
    const double whole = std::floor(quarters / 4);
    const auto part = static_cast<std::size_t>(quarters - 4 * whole);
    std::string text(1, static_cast<char>('A' + static_cast<int>(std::min(whole, kZ))));
    if (whole > kZ) text += "+" + base::fixed(whole - kZ, 0);
    return text + std::string(kQuarters[part]);
}

/// "9", "9 1/2", "9 3/4", "1/2"; decimals when it is no whole quarter.
std::string withQuarters(double value) {
    constexpr std::array<std::string_view, 4> kQuarters{"", "1/4", "1/2", "3/4"};
    const double quarters = value * 4;
    if (quarters != std::floor(quarters)) return base::shortestNumber(value);
    const double whole = std::floor(value);
    const auto part = static_cast<std::size_t>(quarters - 4 * whole);
    if (part == 0) return base::fixed(whole, 0);
    const std::string lead = whole > 0 ? base::fixed(whole, 0) + " " : "";
    return lead + std::string(kQuarters[part]);
}

}  // namespace

std::span<const SizeRule> sizeRules() {
    return kRules;
}

const SizeRule& sizeRule(SizeSystem system) {
    return kRules.at(static_cast<std::size_t>(system));
}

double innerDiameter(const RingSize& size) {
    switch (size.system) {
        case SizeSystem::Us:
            return 0.458 * kMmPerInch + kMmPerUsSize * size.value;
        case SizeSystem::Japan:
            return (38 + size.value) / 3;
        case SizeSystem::Iso:
        case SizeSystem::Uk:
        case SizeSystem::Swiss:
        case SizeSystem::Circumference:
            return innerCircumference(size) / pi;
        case SizeSystem::Diameter:
            break;
    }
    return size.value;
}

RingSize convert(const RingSize& size, SizeSystem to) {
    // Steps are counted by their inverse, a whole number, so that 18.95 comes out as the number 18.95 is read
    // as. The small term keeps a half step that rounding of the last bit has lowered with the larger size.
    const double stepsPerUnit = std::round(1 / sizeRule(to).step);
    const double steps = std::floor(unroundedValue(size, to) * stepsPerUnit + 0.5 + 1e-9);
    return {to, steps / stepsPerUnit};
}

std::string formatRingSize(const RingSize& size) {
    const double first = sizeRule(size.system).first;
    const std::string below = size.value < first ? "below " : "";
    const double shown = std::max(size.value, first);
    switch (size.system) {
        case SizeSystem::Iso:
            return below + "ISO " + base::shortestNumber(shown);
        case SizeSystem::Us:
            return below + "US " + withQuarters(shown);
        case SizeSystem::Uk:
            return below + "UK " + ukLetter(shown);
        case SizeSystem::Japan:
            return below + "JP " + base::shortestNumber(shown);
        case SizeSystem::Swiss:
            return below + "CH " + base::shortestNumber(shown);
        case SizeSystem::Circumference:
            return below + base::shortestNumber(shown) + " mm circumference";
        case SizeSystem::Diameter:
            break;
    }
    return below + base::shortestNumber(shown) + " mm";
}

std::vector<WidthCorrection> offeredWidthCorrections(const FitQuestion& fit) {
    constexpr double kWideBand = 5;  // mm
    std::vector<WidthCorrection> offers;
    if (fit.bandWidth >= kWideBand) {
        offers.push_back(
            {kMmPerUsSize / 2, kMmPerUsSize / 2,
             "A band 5 mm or wider is commonly made half a US size larger: 0.41 mm on the diameter.",
             kCommonPractice});
    }
    if (fit.comfortBore) {
        offers.push_back(
            {-kMmPerUsSize / 2, -kMmPerUsSize / 4,
             "A comfort bore is commonly made a quarter to half a US size smaller: 0.20 to 0.41 mm on the "
             "diameter.",
             kCommonPractice});
    }
    return offers;
}

}  // namespace bandwright::trade
