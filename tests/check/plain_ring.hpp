#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "check/check.hpp"

namespace bandwright::check {

/// A tube of titanium without curves or corners taken off: every wall can be told by subtraction. 8 mm
/// wide, 2.4 mm thick; the limits of titanium are 0.5 mm floor and wall, 0.75 mm rim and hole to edge.
inline design::Design plainRing() {
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 20};
    design.band.metal = "titanium-grade-5";
    design.band.width = 8;
    design.band.thickness = 2.4;
    design.band.left.shape = design::EdgeShape::Sharp;
    design.band.right.shape = design::EdgeShape::Sharp;
    design.band.bore.shape = design::BoreShape::Straight;
    design.band.bore.ease = 0;
    return design;
}

inline design::Channel channel(double offset, double width, double depth) {
    design::Channel result;
    result.offset = offset;
    result.width = width;
    result.depth = depth;
    return result;
}

/// One hole: a pilot right through and a seat.
inline design::Setting bareHole(double offset, double pilot, double seat, double depth) {
    design::Setting result;
    result.placement.offset = offset;
    result.hole.pilotDiameter = pilot;
    result.hole.steps = {{seat, depth}};
    result.tube.reset();
    result.stone.reset();
    return result;
}

inline Report checked(const design::Design& design) {
    return check(design, trade::builtInCatalogue(), {.remedies = false});
}

inline const Measure* measureOf(const Report& report, const std::string& id,
                                design::Stage stage = design::Stage::Finished) {
    const auto found = std::find_if(report.measures.begin(), report.measures.end(),
                                    [&](const Measure& m) { return m.id == id && m.stage == stage; });
    return found == report.measures.end() ? nullptr : &*found;
}

/// The value of a measure; a failed test when there is none.
inline double valueOf(const Report& report, const std::string& id,
                      design::Stage stage = design::Stage::Finished) {
    const Measure* measure = measureOf(report, id, stage);
    EXPECT_NE(measure, nullptr) << id;
    return measure == nullptr ? -1 : measure->value;
}

/// The finding about a measure; by id, with its number.
inline const Finding* findingOf(const Report& report, const std::string& id) {
    const auto found = std::find_if(report.findings.begin(), report.findings.end(),
                                    [&](const Finding& f) { return report.measures[f.measure].id == id; });
    return found == report.findings.end() ? nullptr : &*found;
}

}  // namespace bandwright::check
