#include <algorithm>
#include <array>
#include <string_view>

#include "measure.hpp"

/// The wall of a turned body: the shortest straight way through its metal between two of its surfaces that do
/// not meet in an edge on purpose. Holes are left aside; what they leave is measured by itself.
namespace bandwright::check {

namespace {

std::optional<geometry::Gap> throughWall(const geometry::Section& body, geometry::Region inside,
                                         auto&& isOutside) {
    return geometry::shortestInside(
        body,
        geometry::segmentsWhere(body,
                                [&](geometry::Tag t) { return geometry::regionOf(t.feature) == inside; }),
        geometry::segmentsWhere(body,
                                [&](geometry::Tag t) { return isOutside(geometry::regionOf(t.feature)); }));
}

/// Floors, rims and lands, which are walls of the band too.
bool isBesideChannel(const Measure& m) {
    constexpr std::array<std::string_view, 4> kWalls{"floor-wall", "rim-left", "rim-right", "land"};
    return std::ranges::find(kWalls, std::string_view(m.id).substr(0, m.id.find('@'))) != kWalls.end();
}

}  // namespace

void measureThinnestWall(const StagedRing& ring, Measures& measures) {
    using geometry::Region;
    constexpr const char* kLabel = "Thinnest wall of the turned band";
    const bool isLined = !ring.plain.liner.empty();
    std::optional<Measure> thinnest;
    if (const auto gap = throughWall(ring.plain.band, isLined ? Region::LinerJoint : Region::Bore,
                                     [](Region r) { return r == Region::Outside; }))
        thinnest = measureOf("thinnest-wall", kLabel, ring.stage, *gap, ring.quietAngle, 0);
    for (const Measure& m : measures) {
        if (m.stage != ring.stage || !isBesideChannel(m) || (thinnest && thinnest->value <= m.value))
            continue;
        thinnest = m;
        thinnest->id = "thinnest-wall";
        thinnest->label = kLabel;
        thinnest->number = 0;
    }
    if (thinnest) measures.push_back(std::move(*thinnest));
    const auto liner = throughWall(ring.plain.liner, Region::Bore, [](Region r) {
        return r != Region::Bore && r != Region::Ease && r != Region::Edge;
    });
    if (liner)
        measures.push_back(
            measureOf("liner-wall", "Thinnest wall of the liner", ring.stage, *liner, ring.quietAngle, 0));
}

}  // namespace bandwright::check
