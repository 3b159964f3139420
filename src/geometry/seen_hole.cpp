#include "seen_hole.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

bool isInside(const SeenHole& hole, const Vec3& place) {
    const double x = hole.along(place);
    const double radius = planeNorm(hole.across(place), place.z - hole.profile->offset);
    return x > 0 &&
           std::any_of(hole.profile->pieces.begin(), hole.profile->pieces.end(), [&](const HolePiece& p) {
               return !p.isFlat() && x >= p.x0 && x <= p.x1 && radius <= p.radius0 + slopeOf(p) * (x - p.x0);
           });
}

std::optional<Hit> hit(const SeenHole& hole, const Line& line) {
    std::optional<Hit> best;
    const double x0 = hole.along(line.at0), xs = hole.along(line.step);
    const double q0 = hole.across(line.at0), qs = hole.across(line.step);
    const double d0 = line.at0.z - hole.profile->offset, ds = line.step.z;
    const auto offer = [&](double w, const HolePiece& piece) {
        if (!best || hole.side * w < hole.side * best->w) best = Hit{w, &piece};
    };
    for (const HolePiece& piece : hole.profile->pieces) {
        if (piece.isFlat()) {
            if (xs == 0) continue;
            const double w = (piece.x0 - x0) / xs;
            const double radius = planeNorm(q0 + w * qs, d0 + w * ds);
            if (radius >= piece.radius0 + kLeastMargin && radius <= piece.radius1 - kLeastMargin)
                offer(w, piece);
            continue;
        }
        const double k = slopeOf(piece);
        const double radius = piece.radius0 + k * (x0 - piece.x0);
        const double a = square(qs) + square(ds) - square(k * xs);
        const double b = q0 * qs + d0 * ds - k * xs * radius;
        const double c = square(q0) + square(d0) - square(radius);
        const double root = square(b) - a * c;
        if (root < 0 || a == 0) continue;
        for (const double sign : {-1.0, 1.0}) {
            const double w = (-b + sign * std::sqrt(root)) / a;
            const double x = x0 + w * xs;
            if (x >= piece.x0 + kLeastMargin && x <= piece.x1 - kLeastMargin && x > 0) offer(w, piece);
        }
    }
    return best;
}

}  // namespace bandwright::geometry
