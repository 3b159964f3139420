#pragma once

#include <optional>

#include "land_cells.hpp"

namespace bandwright::geometry {

/// A straight line: m, y and z at w mm along it.
struct Line {
    Vec3 at0, step;  ///< x is m
    Vec3 at(double w) const { return at0 + w * step; }
};

/// A hole seen in the frame of the pair.
struct SeenHole {
    const HoleProfile* profile;
    double cosine, sine;
    double side;  ///< 1: beyond the metal along the line, -1: before it

    double along(const Vec3& p) const { return p.x * cosine + p.y * sine; }
    double across(const Vec3& p) const { return p.y * cosine - p.x * sine; }
};

/// Whether a place lies in the hole or on its wall.
bool isInside(const SeenHole& hole, const Vec3& place);

/// Where the metal beside a hole ends along a line.
struct Hit {
    double w = 0;
    const HolePiece* piece = nullptr;
};

/// The first place of a hole along a line that comes from the metal on the hole's side of it.
std::optional<Hit> hit(const SeenHole& hole, const Line& line);

}  // namespace bandwright::geometry
