#include "wall_patch.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

Vec3 WallPiece::at(double share, double turn) const {
    const double x = x0 + share * (x1 - x0);
    const double radius = radius0 + share * (radius1 - radius0);
    const double across = radius * std::cos(turn);
    return {x * hole->cosine - across * hole->sine, x * hole->sine + across * hole->cosine,
            hole->profile->offset + radius * std::sin(turn)};
}

void WallPatch::setTurns(double first, double last) {
    from = first;
    to = last;
    cosine0 = std::cos(from);
    sine0 = std::sin(from);
    cosine1 = std::cos(to);
    sine1 = std::sin(to);
}

double WallPatch::leastAlong(const Vec3& d) const {
    const double along = d.x * hole->cosine + d.y * hole->sine;
    const double across = d.y * hole->cosine - d.x * hole->sine;
    double least = std::min(across * cosine0 + d.z * sine0, across * cosine1 + d.z * sine1);
    const bool turnsAway = sine0 * across >= cosine0 * d.z && cosine1 * d.z >= sine1 * across;
    if (turnsAway) least = -planeNorm(across, d.z);
    return std::min(along * x0 + radius0 * least, along * x1 + radius1 * least) + d.z * hole->profile->offset;
}

PlaceBox boxRound(const WallPatch& patch) {
    const Vec3 m{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
    return {{patch.leastAlong(m), patch.leastAlong(y), patch.leastAlong(z)},
            {patch.mostAlong(m), patch.mostAlong(y), patch.mostAlong(z)}};
}

std::vector<WallPatch> patchesOf(const SeenHole& hole, double low, double high,
                                 const std::vector<double>& places) {
    std::vector<WallPatch> patches;
    for (const HolePiece& piece : hole.profile->pieces) {
        WallPatch patch{{&hole, &piece, piece.x0, piece.radius0, piece.x1, piece.radius1}, {}};
        if (!piece.isFlat()) {
            const double k = slopeOf(piece);
            const auto radiusAt = [&](double x) { return piece.radius0 + k * (x - piece.x0); };
            patch.x1 = std::min(piece.x1, high);
            patch.radius1 = radiusAt(patch.x1);
            patch.x0 = std::max(piece.x0, std::sqrt(std::max(0.0, square(low) - square(patch.radius1))));
            patch.radius0 = radiusAt(patch.x0);
        }
        if (patch.x1 < patch.x0 || patch.x0 > high) continue;
        const WallPiece& whole = patch;
        patch.whole = whole;
        std::vector<double> turns;
        for (int i = 0; i <= 4; ++i)
            turns.push_back(kQuarter * (i - 0.5));
        if (piece.isCylinder()) {
            for (const double z : places) {
                const double sine = (z - hole.profile->offset) / piece.radius0;
                if (std::abs(sine) >= 1) continue;
                for (const double turn : {std::asin(sine), kPi - std::asin(sine)})
                    turns.push_back(positive(turn + kQuarter / 2) - kQuarter / 2);
            }
        }
        std::sort(turns.begin(), turns.end());
        for (std::size_t i = 0; i + 1 < turns.size(); ++i) {
            patch.setTurns(turns[i], turns[i + 1]);
            if (patch.to - patch.from > kSameAngle) patches.push_back(patch);
        }
    }
    return patches;
}

std::array<WallPatch, 2> halves(const WallPatch& patch) {
    std::array<WallPatch, 2> result{patch, patch};
    if (patch.along() > patch.round()) {
        result[0].x1 = result[1].x0 = (patch.x0 + patch.x1) / 2;
        result[0].radius1 = result[1].radius0 = (patch.radius0 + patch.radius1) / 2;
    } else {
        const double middle = (patch.from + patch.to) / 2;
        result[0].setTurns(patch.from, middle);
        result[1].setTurns(middle, patch.to);
    }
    return result;
}

}  // namespace bandwright::geometry
