#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "check/tolerance_stack.hpp"
#include "design/field_table.hpp"

namespace bandwright {

namespace {

/// The maker's own for a field, the last that covers it.
const OwnTolerance* ownTolerance(const Catalogue& catalogue, std::string_view field) {
    const OwnTolerance* found = nullptr;
    for (const OwnTolerance& own : catalogue.tolerances)
        if (covers(own.field, field)) found = &own;
    return found;
}

Tolerance standard(const DesignNumber& number, ToleranceClass grade) {
    const std::string iso = "ISO 2768-1, " + name(grade);
    if (number.rule.unit == Unit::Degrees) return {number.path, angleTolerance(grade), iso};
    switch (number.rule.tolerance) {
        case ToleranceKind::Size:
            return {number.path, lengthTolerance(grade, number.value), iso};
        case ToleranceKind::Position: {
            constexpr double kFirstRow = 0.5;  // it counts as a length of the first row at least
            return {number.path, lengthTolerance(grade, std::max(kFirstRow, std::abs(number.value))), iso};
        }
        case ToleranceKind::Edge:
            return {number.path, edgeTolerance(grade, number.value), iso};
        case ToleranceKind::StoneSize:
            return {number.path, 0.1, "IGS standard sizes: stones below 1 ct fit within 0.1 mm"};
        case ToleranceKind::Exact:
            break;
    }
    return {number.path, 0, ""};
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
        const ToleranceKind kind = number.rule.tolerance;
        const bool isThere = number.value != 0 || kind == ToleranceKind::Position;
        if (kind != ToleranceKind::Exact && isThere) add(standard(number, grade));
    }
    return result;
}

}  // namespace bandwright
