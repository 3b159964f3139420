#include "geometry/solid.hpp"

#include <cmath>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "gauss.hpp"

namespace bandwright::geometry {

Vec3 SolidProperties::centroid() const {
    return volume == 0 ? Vec3{} : (1 / volume) * first;
}

SolidProperties& SolidProperties::operator+=(const SolidProperties& other) {
    volume += other.volume;
    area += other.area;
    first = first + other.first;
    xx += other.xx;
    yy += other.yy;
    zz += other.zz;
    xy += other.xy;
    yz += other.yz;
    zx += other.zx;
    return *this;
}

SolidProperties operator*(double factor, SolidProperties s) {
    s.volume *= factor;
    s.area *= factor;
    s.first = factor * s.first;
    for (double* product : {&s.xx, &s.yy, &s.zz, &s.xy, &s.yz, &s.zx})
        *product *= factor;
    return s;
}

Inertia inertia(const SolidProperties& s) {
    const Vec3 c = s.centroid();
    const Vec3 f = s.first;
    const double xx = s.xx - c.x * f.x;
    const double yy = s.yy - c.y * f.y;
    const double zz = s.zz - c.z * f.z;
    return {yy + zz, zz + xx, xx + yy, s.xy - c.x * f.y, s.yz - c.y * f.z, s.zx - c.z * f.x};
}

SolidProperties placed(const SolidProperties& s, const std::array<Vec3, 3>& axes, Vec3 origin) {
    const auto rotated = [&](Vec3 p) { return p.x * axes[0] + p.y * axes[1] + p.z * axes[2]; };
    // The integral of p p' after rotation: each of its columns rotated, then each of its rows.
    const Vec3 ofX = rotated({s.xx, s.xy, s.zx});
    const Vec3 ofY = rotated({s.xy, s.yy, s.yz});
    const Vec3 ofZ = rotated({s.zx, s.yz, s.zz});
    const Vec3 toX = rotated({ofX.x, ofY.x, ofZ.x});
    const Vec3 toY = rotated({ofX.y, ofY.y, ofZ.y});
    const Vec3 toZ = rotated({ofX.z, ofY.z, ofZ.z});
    const Vec3 f = rotated(s.first);
    const Vec3 o = origin;
    SolidProperties result;
    result.volume = s.volume;
    result.area = s.area;
    result.first = f + s.volume * o;
    result.xx = toX.x + 2 * o.x * f.x + s.volume * o.x * o.x;
    result.yy = toY.y + 2 * o.y * f.y + s.volume * o.y * o.y;
    result.zz = toZ.z + 2 * o.z * f.z + s.volume * o.z * o.z;
    result.xy = toX.y + o.x * f.y + o.y * f.x + s.volume * o.x * o.y;
    result.yz = toY.z + o.y * f.z + o.z * f.y + s.volume * o.y * o.z;
    result.zx = toZ.x + o.z * f.x + o.x * f.z + s.volume * o.z * o.x;
    return result;
}

SolidProperties turnedSolid(const Section& section) {
    // Integrals over the section of r, z r, z z r and r r r, by Green's theorem: closed integrals of z dr.
    double one = 0, z = 0, zz = 0, rr = 0;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            alongSegment(s, [&](Vec2 p, Vec2 step) {
                const double share = step.r * p.z * p.r;
                one += share;
                z += share * p.z / 2;
                zz += share * p.z * p.z / 3;
                rr += share * p.r * p.r;
            });
        }
    }
    SolidProperties result;
    result.volume = 2 * kPi * one;
    result.area = turnedArea(section);
    result.first.z = 2 * kPi * z;
    result.xx = kPi * rr;
    result.yy = kPi * rr;
    result.zz = 2 * kPi * zz;
    return result;
}

SolidProperties meshSolid(const Mesh& mesh) {
    SolidProperties result;
    result.area = area(mesh);
    for (const auto& triangle : mesh.triangles) {
        const Vec3& a = mesh.points[mesh.pointOf[triangle[0]]];
        const Vec3& b = mesh.points[mesh.pointOf[triangle[1]]];
        const Vec3& c = mesh.points[mesh.pointOf[triangle[2]]];
        // Over the tetrahedron on the origin: the integral of p is its volume times the sum of the corners
        // over 4, that of p q times (sum p sum q + sum of p q) over 20.
        const double volume = dot(a, cross(b, c)) / 6;
        const Vec3 sum = a + b + c;
        const auto product = [&](double Vec3::*p, double Vec3::*q) {
            return volume / 20 * (sum.*p * sum.*q + a.*p * a.*q + b.*p * b.*q + c.*p * c.*q);
        };
        result.volume += volume;
        result.first = result.first + volume / 4 * sum;
        result.xx += product(&Vec3::x, &Vec3::x);
        result.yy += product(&Vec3::y, &Vec3::y);
        result.zz += product(&Vec3::z, &Vec3::z);
        result.xy += product(&Vec3::x, &Vec3::y);
        result.yz += product(&Vec3::y, &Vec3::z);
        result.zx += product(&Vec3::z, &Vec3::x);
    }
    return result;
}

}  // namespace bandwright::geometry
