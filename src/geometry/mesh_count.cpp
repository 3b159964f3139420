#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "geometry/stone.hpp"
#include "ring_bodies.hpp"
#include "section_rows.hpp"
#include "setting.hpp"

/// How many triangles a mesh will have, from the numbers of steps alone: nothing is laid out for it.
namespace bandwright::geometry {

namespace {

double stepsOf(double angle, double radius, double sagitta) {
    return std::max(1.0, std::ceil(angle / stepFor(radius, sagitta)));
}

/// A section's rows and how many steps it is turned in.
struct Turning {
    double rows = 0, columns = 0, outermost = 0;
};

Turning turningOf(const Section& section, double tolerance) {
    Turning turning;
    const bool hasArcs = std::ranges::any_of(
        section, [](const Loop& loop) { return std::ranges::any_of(loop, &Segment::isArc); });
    const double sagitta = hasArcs ? tolerance / 2 : tolerance;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            turning.rows += s.isArc() ? stepsOf(std::abs(sweep(s)), s.radius, sagitta) : 1;
            turning.outermost = std::max(turning.outermost, std::max(s.from.r, s.to.r));
        }
    }
    turning.columns = stepsOf(kTurn, turning.outermost, sagitta);
    return turning;
}

/// Along the curves where the hole meets the body and the joints of its wall, each point is the corner of two
/// triangles more.
double byHole(const HoleProfile& hole, const Turning& body, double tolerance) {
    double widest = 0;
    double joints = 0;
    for (const HolePiece& piece : hole.pieces) {
        if (piece.x0 >= body.outermost) continue;
        const double share = std::min(1.0, (body.outermost - piece.x0) / std::max(piece.x1 - piece.x0, 1e-9));
        widest = std::max(widest, piece.radius0 + share * (piece.radius1 - piece.radius0));
        ++joints;
    }
    if (widest == 0) return 0;
    constexpr int kMouths = 2;
    const double round = stepsOf(kTurn, widest, tolerance);
    return 2 * ((joints + kMouths) * round + kMouths * body.rows);
}

double ofStone(const design::Stone& stone, double tolerance) {
    if (!isCurved(stone)) return static_cast<double>(stoneMesh(stone).triangles.size());
    const double largest = std::max(girdleLength(stone), stone.diameter) / 2;
    const double radius = std::max(largest, stone.dome / 100 * stone.diameter);
    const double sagitta = tolerance / 2;
    return 2 * stepsOf(kTurn, radius, sagitta) * (stepsOf(kTurn / 4, radius, sagitta) + 1);
}

std::string million(double count) {
    return base::shortestNumber(base::roundedTo(count / 1e6, count < 1e8 ? 1 : 0)) + " million triangles";
}

}  // namespace

double expectedTriangles(const design::Design& design, design::Stage stage, const Workpiece& piece,
                         const RingSections& plain, std::span<const HoleRow> holes, double tolerance) {
    double count = 0;
    for (const auto& [part, section] : turnedBodies(design, plain)) {
        const Turning turning = turningOf(*section, tolerance);
        count += 2 * turning.rows * turning.columns;
        for (const HoleRow& row : holes)
            count += static_cast<double>(row.angles.size()) * byHole(row.profile, turning, tolerance);
    }
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        double each = 0;
        if (hasTube(piece, setting)) {
            const Turning turning = turningOf(tubeSection(design, i, stage), tolerance);
            each += 2 * turning.rows * turning.columns;
        }
        if (hasStone(piece, setting)) each += ofStone(*setting.stone, tolerance);
        count += each * static_cast<double>(holes[i].angles.size());
    }
    return count;
}

void requireFewTriangles(const std::function<double(double)>& expected, double tolerance) {
    const double count = expected(tolerance);
    if (count <= kMostTriangles) return;
    std::string said = "A chord of " + base::shortestNumber(base::roundedTo(1000 * tolerance, 6)) +
                       " micrometres makes about " + million(count) + " of this ring; allowed are " +
                       million(kMostTriangles);
    // To two digits, so that it can be typed.
    constexpr std::array<double, 10> kDigits = {1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8};
    for (int decade = -6; decade < 0; ++decade) {
        for (const double digit : kDigits) {
            const double tried = digit * std::pow(10, decade);
            if (tried > tolerance && expected(tried) <= kMostTriangles)
                throw base::InputError(said + ", so a chord of " +
                                       base::shortestNumber(base::roundedTo(1000 * tried, 6)) + " or more.");
        }
    }
    throw base::InputError(said + ", so fewer stones or plainer models of them.");
}

}  // namespace bandwright::geometry
