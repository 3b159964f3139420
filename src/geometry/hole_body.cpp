#include "hole_body.hpp"

#include <algorithm>
#include <cmath>

#include "arithmetic.hpp"
#include "section_rows.hpp"

namespace bandwright::geometry {

namespace {

/// Writes rings of points about the hole's axis, in the frame of the ring.
class HoleBody {
  public:
    HoleBody(const HoleProfile& profile, double angle, double sagitta, double phase)
        : profile_(profile), angle_(angle), phase_(phase) {
        double widest = 0;
        for (const HolePiece& piece : profile.pieces)
            widest = std::max(widest, piece.radius1);
        count_ = static_cast<std::uint32_t>(std::ceil(kTurn / stepFor(widest, sagitta)));
    }

    Mesh run() {
        const HolePiece& bottom = profile_.pieces.front();
        const HolePiece& top = profile_.pieces.back();
        std::uint32_t low = addPoints(bottom.x0, bottom.radius0);
        if (bottom.radius0 > 0) addEnd(low, bottom.x0, -1, bottom.tag);
        for (const HolePiece& piece : profile_.pieces) {
            if (piece.isFlat() && piece.isCylinder()) continue;
            const std::uint32_t high = addPoints(piece.x1, piece.radius1);
            addWall(piece, low, high);
            low = high;
        }
        addEnd(low, top.x1, 1, top.tag);
        return std::move(mesh_);
    }

  private:
    Vec3 turned(double x, double y, double z) const {
        const double c = std::cos(angle_), s = std::sin(angle_);
        return {c * x - s * y, s * x + c * y, z};
    }
    double around(std::uint32_t i) const { return phase_ + kTurn * i / count_; }

    /// One point at the axis, a ring of them elsewhere.
    std::uint32_t addPoints(double x, double radius) {
        const auto first = static_cast<std::uint32_t>(mesh_.points.size());
        for (std::uint32_t i = 0; i < (radius > 0 ? count_ : 1); ++i) {
            const double a = around(i);
            mesh_.points.push_back(turned(x, radius * std::cos(a), profile_.offset + radius * std::sin(a)));
        }
        return first;
    }

    std::uint32_t addVertex(std::uint32_t point, double along, double out, double around) {
        const Vec3 n = turned(along, out * std::cos(around), out * std::sin(around));
        mesh_.pointOf.push_back(point);
        mesh_.normals.push_back({static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)});
        return static_cast<std::uint32_t>(mesh_.pointOf.size() - 1);
    }

    void closeFace(Tag tag, std::size_t first) {
        mesh_.faces.push_back({tag, static_cast<std::uint32_t>(first),
                               static_cast<std::uint32_t>(mesh_.triangles.size() - first)});
    }

    /// `side` is 1 where it looks along the axis, -1 where against it.
    void addEnd(std::uint32_t ring, double x, double side, Tag tag) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        const std::uint32_t middle = addVertex(addPoints(x, 0), side, 0, 0);
        for (std::uint32_t i = 0; i < count_; ++i)
            addVertex(ring + i, side, 0, 0);
        for (std::uint32_t i = 0; i < count_; ++i) {
            const std::uint32_t a = middle + 1 + i, b = middle + 1 + (i + 1) % count_;
            mesh_.triangles.push_back(side > 0 ? std::array{middle, a, b} : std::array{middle, b, a});
        }
        closeFace(tag, firstTriangle);
    }

    void addWall(const HolePiece& piece, std::uint32_t low, std::uint32_t high) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        const double size = std::hypot(piece.x1 - piece.x0, piece.radius1 - piece.radius0);
        const double along = (piece.radius0 - piece.radius1) / size, out = (piece.x1 - piece.x0) / size;
        const bool fromAxis = piece.radius0 == 0;
        const auto first = static_cast<std::uint32_t>(mesh_.pointOf.size());
        for (std::uint32_t i = 0; i < count_; ++i) {
            addVertex(low + (fromAxis ? 0 : i), along, out, around(i));
            addVertex(high + i, along, out, around(i));
        }
        for (std::uint32_t i = 0; i < count_; ++i) {
            const std::uint32_t a = first + 2 * i, b = first + 2 * ((i + 1) % count_);
            mesh_.triangles.push_back({a, b + 1, a + 1});
            if (!fromAxis) mesh_.triangles.push_back({a, b, b + 1});
        }
        closeFace(piece.tag, firstTriangle);
    }

    const HoleProfile& profile_;
    double angle_, phase_;
    std::uint32_t count_ = 0;
    Mesh mesh_;
};

}  // namespace

Mesh holeBody(const HoleProfile& profile, double angle, double sagitta, double phase) {
    return HoleBody(profile, angle, sagitta, phase).run();
}

}  // namespace bandwright::geometry
