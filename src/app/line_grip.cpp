#include "app/line_grip.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "design/field_table.hpp"
#include "geometry/measured.hpp"
#include "geometry/ring.hpp"

namespace bandwright::app {

namespace {

/// The lines that a tag made in the section shown; none when the ring cannot be made.
std::vector<geometry::Segment> linesOf(const design::Design& plan, design::Stage stage, int shown,
                                       geometry::Tag tag) {
    std::vector<geometry::Segment> lines;
    const auto add = [&](const geometry::Section& section) {
        for (const geometry::Segment& s :
             geometry::segmentsWhere(section, [&](geometry::Tag other) { return other == tag; }))
            lines.push_back(s);
    };
    try {
        const design::Design made = geometry::asMeasured(plan);
        geometry::requireBuildable(made);
        if (shown == 0) {
            const geometry::RingSections plain = geometry::sections(made, stage);
            add(plain.band);
            add(plain.liner);
            for (const geometry::Section& fill : plain.fills)
                add(fill);
        } else {
            const geometry::SettingSection through =
                geometry::sectionThrough(made, static_cast<std::size_t>(shown - 1), stage);
            add(through.band);
            add(through.liner);
            add(through.tube);
            add(through.stone);
            for (const geometry::Section& fill : through.fills)
                add(fill);
        }
    } catch (const base::InputError&) {
        lines.clear();
    }
    return lines;
}

/// The place of the lines nearest to another, and the way along the line there.
struct Held {
    geometry::Vec2 foot, way;
};

std::optional<Held> nearest(const std::vector<geometry::Segment>& lines, geometry::Vec2 place) {
    std::optional<Held> held;
    double least = HUGE_VAL;
    for (const geometry::Segment& s : lines) {
        const geometry::Vec2 foot = nearestOn(s, place);
        const double away = geometry::length(foot - place);
        if (away >= least) continue;
        least = away;
        geometry::Vec2 way = s.to - s.from;
        if (s.isArc()) way = {s.centre.r - foot.r, foot.z - s.centre.z};
        held = Held{foot, 1 / std::max(geometry::length(way), 1e-12) * way};
    }
    return held;
}

}  // namespace

double LineGrip::pulled(geometry::Vec2 by, bool fine) const {
    const double step = fine ? number.grid : number.step;
    const double value = std::round((start + geometry::dot(by, normal) / gain) / step) * step;
    return std::clamp(value, number.least, number.most);
}

std::optional<LineGrip> gripOn(const design::Design& plan, design::Stage stage, int shown, geometry::Tag tag,
                               geometry::Vec2 place) {
    constexpr double kStep = 1e-3;       // of the field: small against every length, large against rounding
    constexpr double kLeastGain = 0.02;  // less moves the line too little to be felt
    LineGrip grip;
    grip.field = geometry::fieldOf(plan, tag);
    const auto field = design::fieldAt(plan, grip.field);
    const double* value = field ? design::numberAt(plan, grip.field) : nullptr;
    if (value == nullptr) return std::nullopt;
    grip.number = field->number;
    grip.start = *value;
    const auto held = nearest(linesOf(plan, stage, shown, tag), place);
    if (!held) return std::nullopt;
    grip.normal = {-held->way.r, held->way.z};
    // One way or the other, since a number may stand at its bound.
    for (const double step : {kStep, -kStep}) {
        design::Design moved = plan;
        *design::numberAt(moved, grip.field) += step;
        const auto there = nearest(linesOf(moved, stage, shown, tag), held->foot);
        if (!there) continue;
        grip.gain = geometry::dot(there->foot - held->foot, grip.normal) / step;
        if (std::abs(grip.gain) >= kLeastGain) return grip;
    }
    return std::nullopt;
}

}  // namespace bandwright::app
