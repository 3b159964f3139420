#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "check/tolerance_stack.hpp"
#include "design/field_table.hpp"

namespace bandwright::check {

namespace {

/// The maker's own tolerance for a field: the last one that covers it.
const trade::OwnTolerance* ownTolerance(const trade::Catalogue& catalogue, std::string_view field) {
    const trade::OwnTolerance* found = nullptr;
    for (const trade::OwnTolerance& own : catalogue.tolerances)
        if (design::covers(own.field, field)) found = &own;
    return found;
}

Tolerance standard(const design::DesignNumber& number, trade::ToleranceClass grade) {
    const std::string iso = "ISO 2768-1, " + trade::name(grade);
    if (number.rule.unit == design::Unit::Degrees) return {number.path, trade::angleTolerance(grade), iso};
    switch (number.rule.tolerance) {
        case design::ToleranceKind::Size:
            return {number.path, trade::lengthTolerance(grade, number.value), iso};
        case design::ToleranceKind::Position: {
            constexpr double kFirstRow = 0.5;  // it counts as a length of the first row at least
            return {number.path, trade::lengthTolerance(grade, std::max(kFirstRow, std::abs(number.value))),
                    iso};
        }
        case design::ToleranceKind::Edge:
            return {number.path, trade::edgeTolerance(grade, number.value), iso};
        case design::ToleranceKind::StoneSize:
            return {number.path, 0.1, "IGS standard sizes: stones below 1 ct fit within 0.1 mm"};
        case design::ToleranceKind::Exact:
            break;
    }
    return {number.path, 0, ""};
}

/// The diameters that are made to fit what goes in: a tube and its hole, and the seat of a stone.
std::vector<std::string> fitted(const design::Design& design) {
    std::vector<std::string> fields;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& s = design.settings[i];
        const std::string at = "settings[" + std::to_string(i) + "].";
        if (!s.hole.steps.empty() && (s.tube || s.stone))
            fields.push_back(at + "hole.steps[" + std::to_string(s.hole.steps.size() - 1) + "].diameter");
        if (!s.tube) continue;
        fields.push_back(at + "tube.outer-diameter");
        if (s.stone) fields.push_back(at + "tube.seat-diameter");
    }
    return fields;
}

}  // namespace

std::vector<Tolerance> tolerances(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<Tolerance> result;
    const auto add = [&](Tolerance tolerance) {
        if (const trade::OwnTolerance* own = ownTolerance(catalogue, tolerance.field)) {
            tolerance.plusMinus = own->plusMinus;
            tolerance.source = own->source;
        }
        if (tolerance.plusMinus > 0) result.push_back(std::move(tolerance));
    };
    const trade::ToleranceClass grade = catalogue.toleranceClass;
    add({std::string(kBore), trade::lengthTolerance(grade, 2 * design::boreRadius(design)),
         "ISO 2768-1, " + trade::name(grade)});
    const std::vector<std::string> fits = fitted(design);
    if (design.band.liner) {
        add({"band.liner.interference", trade::fitTolerance(2 * design::linerRadius(design)),
             "ISO 286-1, IT7: made to fit"});
    }
    for (const design::DesignNumber& number : design::numbersIn(design)) {
        const design::ToleranceKind kind = number.rule.tolerance;
        const bool isThere = number.value != 0 || kind == design::ToleranceKind::Position;
        if (std::ranges::find(fits, number.path) != fits.end()) {
            add({number.path, trade::fitTolerance(number.value), "ISO 286-1, IT7: made to fit"});
        } else if (kind != design::ToleranceKind::Exact && isThere) {
            add(standard(number, grade));
        }
    }
    return result;
}

}  // namespace bandwright::check
