#pragma once

#include <cmath>

namespace bandwright::geometry {

/// A point or direction in the half-plane of the section: z along the ring's axis, r away from it. mm.
struct Vec2 {
    double z = 0, r = 0;

    friend Vec2 operator+(Vec2 a, Vec2 b) { return {a.z + b.z, a.r + b.r}; }
    friend Vec2 operator-(Vec2 a, Vec2 b) { return {a.z - b.z, a.r - b.r}; }
    friend Vec2 operator*(double s, Vec2 a) { return {s * a.z, s * a.r}; }
    bool operator==(const Vec2&) const = default;
};

inline double dot(Vec2 a, Vec2 b) {
    return a.z * b.z + a.r * b.r;
}
/// Positive when b is counter-clockwise of a, with z to the right and r up.
inline double cross(Vec2 a, Vec2 b) {
    return a.z * b.r - a.r * b.z;
}
inline double length(Vec2 a) {
    return std::sqrt(dot(a, a));
}
inline double distance(Vec2 a, Vec2 b) {
    return length(b - a);
}

/// A point or direction in space. mm; the ring's axis is z.
struct Vec3 {
    double x = 0, y = 0, z = 0;

    friend Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
    friend Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend Vec3 operator*(double s, Vec3 a) { return {s * a.x, s * a.y, s * a.z}; }
    bool operator==(const Vec3&) const = default;
};

inline double dot(Vec3 a, Vec3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline Vec3 cross(Vec3 a, Vec3 b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a) {
    return std::sqrt(dot(a, a));
}
inline double distance(Vec3 a, Vec3 b) {
    return length(b - a);
}

}  // namespace bandwright::geometry
