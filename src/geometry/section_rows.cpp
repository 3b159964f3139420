#include "section_rows.hpp"

#include <algorithm>
#include <cmath>

#include "arc.hpp"
#include "arithmetic.hpp"

namespace bandwright::geometry {

double stepFor(double radius, double sagitta) {
    const double share = std::min(1.0, sagitta / radius);
    return std::min(kPi / 3, 2 * std::acos(1 - share));
}

SectionRows rowsOf(const Section& section, double sagitta) {
    SectionRows result;
    for (const Loop& loop : section) {
        const auto loopFirst = static_cast<std::uint32_t>(result.points.size());
        for (const Segment& s : loop) {
            // Two segments that meet at both ends need a row between them to be two surfaces.
            const int least = loop.size() == 2 ? 2 : 1;
            int steps = 1;
            if (s.isArc()) {
                const double enough = std::ceil(std::abs(sweep(s)) / stepFor(s.radius, sagitta));
                steps = std::max(least, static_cast<int>(enough));
            }
            RowedSegment rowed{&s, {}, {}};
            for (int k = 0; k <= steps; ++k) {
                const bool isLast = k == steps && &s == &loop.back();
                const double share = static_cast<double>(k) / steps;
                rowed.rows.push_back(isLast ? loopFirst : static_cast<std::uint32_t>(result.points.size()));
                rowed.shares.push_back(share);
                if (k < steps) result.points.push_back(pointAt(s, share));
            }
            result.segments.push_back(std::move(rowed));
        }
    }
    return result;
}

Vec2 outwardAt(const Segment& s, Vec2 p) {
    const Vec2 t = tangentOn(s, p);  // with the material on its left
    return {t.r, -t.z};
}

}  // namespace bandwright::geometry
