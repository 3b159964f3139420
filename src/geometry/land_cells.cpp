#include "land_cells.hpp"

#include <algorithm>

#include "arc.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

/// What stands over one z, from the axis outwards.
void addCells(TurnedMetal metal, double from, double to, std::vector<LandCell>& cells) {
    const double middle = (from + to) / 2;
    struct Crossed {
        double r;
        Branch branch;
    };
    std::vector<Crossed> crossed;
    for (const Section* section : metal) {
        for (const Loop& loop : *section) {
            for (const Segment& s : loop) {
                if (!s.isArc()) {
                    if ((s.from.z < middle) == (s.to.z < middle)) continue;
                    const Branch branch{&s, 0};
                    crossed.push_back({branch.at(middle), branch});
                    continue;
                }
                if (std::abs(middle - s.centre.z) >= s.radius) continue;
                for (const double side : {-1.0, 1.0}) {
                    const Branch branch{&s, side};
                    const double r = branch.at(middle);
                    if (onSweep(s, {middle, r})) crossed.push_back({r, branch});
                }
            }
        }
    }
    std::sort(crossed.begin(), crossed.end(), [](const Crossed& a, const Crossed& b) { return a.r < b.r; });
    for (std::size_t i = 0; i + 1 < crossed.size(); i += 2) {
        // Band and liner that lie on each other are one.
        const bool goesOn = i > 0 && crossed[i].r - crossed[i - 1].r < 2 * kFilm;
        if (goesOn) {
            cells.back().high = crossed[i + 1].branch;
        } else {
            cells.push_back({from, to, crossed[i].branch, crossed[i + 1].branch});
        }
    }
}

}  // namespace

bool isMouth(const Branch& branch) {
    const Region region = regionOf(branch.segment->tag.feature);
    return region == Region::Outside || region == Region::Edge;
}

std::vector<LandCell> cellsOf(TurnedMetal metal, double from, double to, std::vector<double> places) {
    places.push_back(from);
    places.push_back(to);
    for (const Section* section : metal) {
        for (const Loop& loop : *section) {
            for (const Segment& s : loop) {
                places.push_back(s.from.z);
                if (!s.isArc()) continue;
                for (const double side : {-1.0, 0.0, 1.0})
                    places.push_back(s.centre.z + side * s.radius);
            }
        }
    }
    std::erase_if(places, [&](double z) { return z < from || z > to; });
    std::sort(places.begin(), places.end());
    std::vector<LandCell> cells;
    double last = places.front();
    for (const double z : places) {
        if (z - last < kSamePoint) continue;
        addCells(metal, last, z, cells);
        last = z;
    }
    return cells;
}

}  // namespace bandwright::geometry
