#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "check/tolerance_stack.hpp"
#include "design/design_file.hpp"

namespace bandwright {

namespace {

constexpr std::string_view kBore = "finger.size";

/// The maker's own for a field, the last that covers it.
const OwnTolerance* ownTolerance(const Catalogue& catalogue, std::string_view field) {
    const OwnTolerance* found = nullptr;
    for (const OwnTolerance& own : catalogue.tolerances)
        if (covers(own.field, field)) found = &own;
    return found;
}

/// What is chosen or bought by the sieve and does not come out otherwise, and what is cut away whole.
bool isExact(std::string_view path) {
    const bool isStock =
        path.starts_with("allowances.blank-") || path == "allowances.parting" || path == "allowances.fill";
    return isStock || path.starts_with("finger.") || path.find(".grain-") != std::string_view::npos;
}

bool isPosition(std::string_view path) {
    return path.ends_with(".offset") || path.ends_with(".proud") || path.ends_with(".draft") ||
           path.ends_with(".start") || path.find(".angles[") != std::string_view::npos;
}

Tolerance standard(const DesignNumber& number, ToleranceClass grade) {
    const std::string iso = "ISO 2768-1, " + name(grade);
    if (number.unit == NumberUnit::Degrees) return {number.path, angleTolerance(grade), iso};
    const bool isEdge = number.path.ends_with("left.width") || number.path.ends_with("right.width") ||
                        number.path.ends_with(".ease");
    if (isEdge) return {number.path, edgeTolerance(grade, number.value), iso};
    if (number.path.ends_with(".stone.diameter") || number.path.ends_with(".stone.length"))
        return {number.path, 0.1, "IGS standard sizes: stones below 1 ct fit within 0.1 mm"};
    // A position counts as a length of the first row.
    constexpr double kFirstRow = 0.5;
    const double length =
        isPosition(number.path) ? std::max(kFirstRow, std::abs(number.value)) : number.value;
    return {number.path, lengthTolerance(grade, length), iso};
}

}  // namespace

std::vector<Tolerance> tolerances(const Design& design, const Catalogue& catalogue) {
    std::vector<Tolerance> result;
    const auto add = [&](Tolerance tolerance) {
        if (const OwnTolerance* own = ownTolerance(catalogue, tolerance.field)) {
            tolerance.plusMinus = own->plusMinus;
            tolerance.source = own->source;
        }
        if (tolerance.plusMinus > 0) result.push_back(std::move(tolerance));
    };
    const ToleranceClass grade = catalogue.toleranceClass;
    add({std::string(kBore), lengthTolerance(grade, 2 * boreRadius(design)), "ISO 2768-1, " + name(grade)});
    for (const DesignNumber& number : numbersIn(design)) {
        const bool isMade = number.unit == NumberUnit::Millimetres || number.unit == NumberUnit::Degrees;
        if (!isMade || isExact(number.path)) continue;
        if (number.value == 0 && !isPosition(number.path)) continue;
        add(standard(number, grade));
    }
    return result;
}

}  // namespace bandwright
