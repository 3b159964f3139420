#pragma once

#include <functional>
#include <vector>

#include "check/check.hpp"
#include "compare/deviation.hpp"

/// The walls of the real body.
namespace bandwright::compare {

/// The least metal of the body between two features that face each other through it.
struct BodyWall {
    double thickness = 0;     ///< mm
    geometry::Vec3 from, to;  ///< on the body, in the ring's frame
    geometry::Tag fromTag, toTag;
};

/// A wall of the design on the body, held against the limit that `check` holds the design to.
struct JudgedWall {
    std::size_t finding = 0;  ///< of the report
    BodyWall wall;
    check::Verdict verdict = check::Verdict::Go;
};

struct BodyWalls {
    /// One for each two features with metal between them, the thinnest first.
    std::vector<BodyWall> all;
    /// Those of the report that are lengths in mm between two features of the body, in the report's order.
    std::vector<JudgedWall> judged;
};

/// From the body's surface, at places nowhere farther apart than `kPlacesApart`, a line goes straight into
/// the metal until it comes out again at a surface that faces this one, its normal at 120 degrees or more (as
/// `geometry::wallMap`); from the shortest for each two features the ends slide until they are nearest to
/// each other. A wall of the report is also sought where the design has it, between its two features
/// however they stand to each other. `thinnest-wall` is the least between the inside and the outside or a
/// channel.
BodyWalls bodyWalls(const Deviation& deviation, const geometry::Triangles& body, const check::Report& report,
                    const std::function<void(double)>& progress = {});

}  // namespace bandwright::compare
