// The step cuts: rows of facets parallel to a straight-sided girdle, each row less steep than the one nearer
// to it. Three rows above and three below are usual (diamonddictionary.net, "emerald cut"); rows of equal
// width in plan whose angles differ by 10 degrees are common practice, no source.

#include <array>
#include <cmath>

#include "arithmetic.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

constexpr int kSteps = 3;
/// What a cut corner takes from each side at the girdle, as a share of half the width. Common practice, no
/// source.
constexpr double kCorner = 0.3;

/// Rise over run of row 0 (at the girdle), 1 or 2.
double slope(double middleAngle, int row) {
    return std::tan(radians(middleAngle + kStepSpread * (1 - row)));
}

/// How far in from the girdle, in plan, the crown or the pavilion ends.
double crownRun(const design::Stone& stone) {
    return stone.diameter / 2 * (1 - stone.table / 100);
}
double pavilionRun(const design::Stone& stone) {
    return stone.diameter / 2;
}

double rise(double middleAngle, double run) {
    double sum = 0;
    for (int row = 0; row < kSteps; ++row)
        sum += run / kSteps * slope(middleAngle, row);
    return sum;
}

/// The sides of the outline, and how far they are from the axis once the outline has moved in by `run` mm.
/// The corners shrink so that they close where the long sides meet.
struct GirdleSide {
    Vec3 direction;
    double reach = 0;    ///< at the girdle, mm
    double inwards = 1;  ///< mm for each mm of run
};

std::vector<GirdleSide> sidesOf(const design::Stone& stone) {
    const double halfWidth = stone.diameter / 2;
    const bool octagon = stone.cut == design::StoneCut::StepOctagon;
    const double halfLength = octagon && stone.length > 0 ? stone.length / 2 : halfWidth;
    std::vector<GirdleSide> sides = {
        {{1, 0, 0}, halfLength}, {{0, 1, 0}, halfWidth}, {{-1, 0, 0}, halfLength}, {{0, -1, 0}, halfWidth}};
    if (!octagon) return sides;
    const double diagonal = std::sqrt(0.5);
    const double reach = diagonal * (halfLength + halfWidth - kCorner * halfWidth);
    const double inwards = diagonal * (2 - kCorner);
    constexpr std::array<std::array<int, 2>, 4> kQuarters = {{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}}};
    std::vector<GirdleSide> all;
    for (std::size_t i = 0; i < 4; ++i) {
        all.push_back(sides[i]);
        all.push_back({{diagonal * kQuarters[i][0], diagonal * kQuarters[i][1], 0}, reach, inwards});
    }
    return all;
}

/// `up` is 1 for the crown, -1 for the pavilion.
void addRows(std::vector<Plane>& planes, const design::Stone& stone, double angle, double run, int up,
             Tag tag) {
    const std::vector<GirdleSide> sides = sidesOf(stone);
    double z = halfGirdle(stone);
    double in = 0;
    for (int row = 0; row < kSteps; ++row) {
        for (const GirdleSide& side : sides) {
            planes.push_back(leaning(side.direction, side.reach - side.inwards * in, up * z,
                                     up * slope(angle, row) / side.inwards, tag));
        }
        in += run / kSteps;
        z += run / kSteps * slope(angle, row);
    }
}

}  // namespace

double stepCrown(const design::Stone& stone) {
    return rise(stone.crownAngle, crownRun(stone));
}
double stepPavilion(const design::Stone& stone) {
    return rise(stone.pavilionAngle, pavilionRun(stone));
}

std::vector<Plane> stepCut(const design::Stone& stone) {
    std::vector<Plane> planes;
    planes.push_back({{0, 0, 1}, halfGirdle(stone) + stepCrown(stone), {Feature::Table}});
    addRows(planes, stone, stone.crownAngle, crownRun(stone), 1, {Feature::Crown});
    for (const GirdleSide& side : sidesOf(stone))
        planes.push_back({side.direction, side.reach, {Feature::Girdle}});
    addRows(planes, stone, stone.pavilionAngle, pavilionRun(stone), -1, {Feature::Pavilion});
    return planes;
}

}  // namespace bandwright::geometry
