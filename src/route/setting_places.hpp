#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/ring.hpp"
#include "job.hpp"
#include "places.hpp"

/// Places of a setting in the plane through its hole's middle, and what is said of settings. Private to the
/// room.
namespace bandwright::route {

using Outlines = std::vector<geometry::Segment>;

/// Where the line of constant z leaves band, liner and fills for good: what a drill touches first.
std::optional<Place> surfaceAt(const geometry::RingSections& ring, double z);

/// All outlines in the plane through the middle of a setting's hole at the job's stage: band, liner, fills,
/// tube, stone.
Outlines outlinesThrough(const Job& job, std::size_t setting);

/// Of those the end of a segment farthest out, or nearest to the axis, on one side (-1 left, +1 right) of a
/// hole's middle.
std::optional<Place> endWhere(const Outlines& outlines, double middle, int side, bool farthest, auto&& test) {
    std::optional<Place> best;
    for (const geometry::Segment& s : outlines) {
        if (!test(s.tag)) continue;
        for (const geometry::Vec2 p : {s.from, s.to}) {
            if (side * (p.z - middle) <= 0) continue;
            if (!best || (farthest ? p.r > best->at.r : p.r < best->at.r)) best = Place{s.tag, p};
        }
    }
    return best;
}

/// Where the surface ends at the mouth of a setting's hole, on the side nearer to mid-width: a gauge stands
/// there. Nothing where an edge or another hole has taken it.
std::optional<Place> besideHole(const Outlines& outlines, const design::Setting& setting, std::size_t number);

/// Across a hole, a tube or a stone, from its left to its right.
Reading acrossReading(std::string what, Instrument instrument, const Place& left, const Place& right,
                      double plusMinus, std::string field);

/// " of setting 2"; empty where there is one alone.
std::string ofSetting(const design::Design& design, std::size_t setting);

/// The side of a hole that is nearer to mid-width.
int sideInwards(const design::Setting& setting);

/// "settings[1].hole.countersink" for the second setting's "hole.countersink".
std::string settingField(std::size_t setting, const std::string& field);

/// How many places it has round the band.
int placesOf(const design::Setting& setting);

/// "drill of 2 mm"; says so where the drawer has none.
std::string toolOf(const std::string& kind, double diameter, const std::vector<double>& drawer,
                   Operation& operation);

}  // namespace bandwright::route
