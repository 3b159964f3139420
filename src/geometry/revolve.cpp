#include "revolve.hpp"

#include <array>
#include <cmath>
#include <optional>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "difference.hpp"
#include "geometry/tolerance.hpp"
#include "hole_body.hpp"
#include "ring_layout.hpp"
#include "triangulate.hpp"

namespace bandwright::geometry {

namespace {

std::array<float, 3> asFloat(const Vec3& n) {
    return {static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)};
}

class MeshWriter {
  public:
    MeshWriter(RingLayout layout, std::span<const HoleRow> holes)
        : holes_(holes),
          layout_(std::move(layout)),
          rowCount_(static_cast<std::uint32_t>(layout_.rows.points.size())) {}

    Mesh run() {
        reserve();
        addPoints();
        for (std::size_t i = 0; i < layout_.rows.segments.size(); ++i)
            addSegment(i);
        for (std::size_t row = 0; row < holes_.size(); ++row) {
            for (std::size_t piece = 0; piece < holes_[row].profile.pieces.size(); ++piece)
                addWall(row, piece);
        }
        dropUnusedPoints();
        return std::move(mesh_);
    }

  private:
    /// Where a whole turn begins in the middle of a hole, the column of points there has gaps.
    void dropUnusedPoints() {
        if (layout_.columns.size() > 1) return;
        std::vector<std::uint32_t> number(mesh_.points.size(), kUnused);
        for (const std::uint32_t point : mesh_.pointOf)
            number[point] = 0;
        std::uint32_t count = 0;
        for (std::size_t i = 0; i < number.size(); ++i) {
            if (number[i] == kUnused) continue;
            mesh_.points[count] = mesh_.points[i];
            number[i] = count++;
        }
        mesh_.points.resize(count);
        for (std::uint32_t& point : mesh_.pointOf)
            point = number[point];
    }

    static constexpr std::uint32_t kUnused = 0xffffffff;

    /// Without this, large meshes spend most of their time growing vectors.
    void reserve() {
        std::size_t ownPoints = 0;
        std::size_t ownVertices = 0;
        std::size_t ownTriangles = 0;
        std::size_t plainColumns = 0;
        std::size_t plainSteps = 0;
        const auto count = [&](const SectorFace& face) {
            ownVertices += face.points.size();
            ownTriangles += face.triangles.size();
        };
        for (const Stretch& stretch : layout_.stretches) {
            if (stretch.laid == nullptr) {
                plainSteps += stretch.steps;
                plainColumns += stretch.steps + 1;
                continue;
            }
            ownPoints += stretch.laid->sector.points.size();
            for (const SectorFace& face : stretch.laid->sector.segments)
                count(face);
            for (const auto& walls : stretch.laid->sector.walls) {
                for (const SectorFace& face : walls)
                    count(face);
            }
        }
        std::size_t rows = 0;
        for (const RowedSegment& segment : layout_.rows.segments)
            rows += segment.rows.size();
        const std::size_t strips = rows - layout_.rows.segments.size();
        mesh_.points.reserve(layout_.columns.size() * layout_.rows.points.size() + ownPoints);
        mesh_.pointOf.reserve(plainColumns * rows + ownVertices);
        mesh_.normals.reserve(plainColumns * rows + ownVertices);
        mesh_.triangles.reserve(2 * plainSteps * strips + ownTriangles);
    }

    void addPoints() {
        for (const double angle : layout_.columns) {
            const double c = std::cos(angle);
            const double s = std::sin(angle);
            cosines_.push_back(c);
            sines_.push_back(s);
            for (const Vec2& p : layout_.rows.points)
                mesh_.points.push_back({p.r * c, p.r * s, p.z});
        }
        for (const Stretch& stretch : layout_.stretches) {
            firstPoints_.push_back(static_cast<std::uint32_t>(mesh_.points.size()));
            if (stretch.laid == nullptr) continue;
            const double c = std::cos(stretch.angle);
            const double s = std::sin(stretch.angle);
            for (const Vec3& p : stretch.laid->sector.points)
                mesh_.points.push_back({c * p.x - s * p.y, s * p.x + c * p.y, p.z});
        }
    }

    void closeFace(Tag tag, std::size_t firstTriangle) {
        if (mesh_.triangles.size() == firstTriangle) return;
        mesh_.faces.push_back({tag, static_cast<std::uint32_t>(firstTriangle),
                               static_cast<std::uint32_t>(mesh_.triangles.size() - firstTriangle)});
    }

    void addSegment(std::size_t number) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        for (std::size_t i = 0; i < layout_.stretches.size(); ++i) {
            const Stretch& stretch = layout_.stretches[i];
            if (stretch.laid == nullptr) {
                addPlainFace(number, stretch);
            } else {
                addSectorFace(stretch.laid->sector.segments[number], i);
            }
        }
        closeFace(layout_.rows.segments[number].segment->tag, firstTriangle);
    }

    void addPlainFace(std::size_t number, const Stretch& stretch) {
        const RowedSegment& segment = layout_.rows.segments[number];
        const auto n = static_cast<std::uint32_t>(segment.rows.size());
        const auto first = static_cast<std::uint32_t>(mesh_.pointOf.size());
        const std::size_t last = stretch.firstColumn + stretch.steps;
        std::vector<Vec2> normals;
        for (const std::uint32_t row : segment.rows)
            normals.push_back(outwardAt(*segment.segment, layout_.rows.points[row]));
        for (std::size_t c = stretch.firstColumn; c <= last; ++c) {
            const std::size_t column = c % layout_.columns.size();
            const auto base = static_cast<std::uint32_t>(column) * rowCount_;
            for (std::uint32_t j = 0; j < n; ++j) {
                mesh_.pointOf.push_back(base + segment.rows[j]);
                mesh_.normals.push_back(
                    asFloat({normals[j].r * cosines_[column], normals[j].r * sines_[column], normals[j].z}));
            }
        }
        for (std::uint32_t c = 0; c < last - stretch.firstColumn; ++c) {
            for (std::uint32_t j = 0; j + 1 < n; ++j) {
                const std::uint32_t a = first + c * n + j;  // angles grow to the left, seen from outside
                mesh_.triangles.push_back({a, a + n + 1, a + n});
                mesh_.triangles.push_back({a, a + 1, a + n + 1});
            }
        }
    }

    void addSectorFace(const SectorFace& face, std::size_t number) {
        const Stretch& stretch = layout_.stretches[number];
        const std::size_t lastColumn = (stretch.firstColumn + 1) % layout_.columns.size();
        const auto first = static_cast<std::uint32_t>(mesh_.pointOf.size());
        const double c = std::cos(stretch.angle);
        const double s = std::sin(stretch.angle);
        const auto begin = static_cast<std::uint32_t>(stretch.firstColumn) * rowCount_;
        const auto end = static_cast<std::uint32_t>(lastColumn) * rowCount_;
        for (std::size_t i = 0; i < face.points.size(); ++i) {
            const std::uint32_t p = face.points[i];
            mesh_.pointOf.push_back(p < rowCount_       ? begin + p
                                    : p < 2 * rowCount_ ? end + p - rowCount_
                                                        : firstPoints_[number] + p - 2 * rowCount_);
            const Vec3& n = face.normals[i];
            mesh_.normals.push_back(asFloat({c * n.x - s * n.y, s * n.x + c * n.y, n.z}));
        }
        for (const auto& t : face.triangles)
            mesh_.triangles.push_back({first + t[0], first + t[1], first + t[2]});
    }

    void addWall(std::size_t row, std::size_t piece) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        for (std::size_t i = 0; i < layout_.stretches.size(); ++i) {
            const Stretch& stretch = layout_.stretches[i];
            if (stretch.laid == nullptr) continue;
            for (std::size_t h = 0; h < stretch.laid->sector.walls.size(); ++h) {
                if (stretch.laid->rowOfHole[h] != row || stretch.laid->sector.walls[h].empty()) continue;
                addSectorFace(stretch.laid->sector.walls[h][piece], i);
            }
        }
        closeFace(holes_[row].profile.pieces[piece].tag, firstTriangle);
    }

    std::span<const HoleRow> holes_;
    RingLayout layout_;
    std::uint32_t rowCount_;
    std::vector<double> cosines_, sines_;     ///< of the columns
    std::vector<std::uint32_t> firstPoints_;  ///< of each stretch's own points
    Mesh mesh_;
};

/// Every other hole is drawn with the turned surface; these are cut out of its mesh.
Mesh without(Mesh mesh, const RingLayout& layout, std::span<const HoleRow> holes, double tolerance) {
    for (const PlacedHole& hole : layout.later) {
        std::optional<Mesh> left;
        for (int nudge = 1; !left && nudge <= kMostNudges; ++nudge) {
            // Each attempt has its corners elsewhere, so that what lay on each other comes apart.
            const double phase = 0.37 + 0.1 * nudge;
            left = difference(mesh,
                              holeBody(nudged(holes[hole.row].profile, nudge), hole.angle, tolerance, phase));
        }
        if (!left)
            throw base::InputError("settings[" +
                                   std::to_string(holes[hole.row].profile.pieces.front().tag.owner) +
                                   "]: a hole runs too nearly along another to be drawn; allowed: a hole a "
                                   "little to the side");
        mesh = *std::move(left);
    }
    return mesh;
}

}  // namespace

Mesh revolved(const Section& section, std::span<const HoleRow> holes, double tolerance, bool apart) {
    constexpr int kMost = 6;
    constexpr int kMostApart = 4;  // the last has some 16 times the triangles of the first
    constexpr std::size_t kMostPoints = 10'000'000;
    constexpr double kFiner = 4;
    Chords chords{tolerance, tolerance, tolerance, false};
    std::optional<RingLayout> found;
    std::optional<std::size_t> crosses;  // the row of a hole at which it does
    for (int attempt = 1; attempt <= (found ? kMostApart : kMost); ++attempt) {
        try {
            RingLayout layout = layOut(section, holes, chords);
            if (found && layout.rows.points.size() * layout.columns.size() > kMostPoints) break;
            crosses = apart ? rowThatCrosses(layout) : std::nullopt;
            if (!crosses || !found) found = std::move(layout);
            if (!crosses) break;
        } catch (const OutlinesCross&) {
            // Two curves of a hole run nearer to each other than its chords can follow.
        }
        chords.holes /= kFiner;
        if (chords.closely) {
            chords.rows /= kFiner;
            chords.round /= kFiner;
        }
        chords.closely = found.has_value();
    }
    if (crosses)
        throw base::InputError("settings[" +
                               std::to_string(holes[*crosses].profile.pieces.front().tag.owner) +
                               "]: beside its hole metal is so thin that with a chord of " +
                               base::shortestNumber(base::roundedTo(1000 * tolerance, 6)) +
                               " micrometres the mesh would run through itself; allowed: a finer chord, or a "
                               "hole that leaves more");
    if (!found) {
        found = layOut(section, {}, {tolerance, tolerance, tolerance, false});
        for (std::size_t row = 0; row < holes.size(); ++row) {
            for (const double angle : holes[row].angles)
                found->later.push_back({row, angle});
        }
    }
    const RingLayout& layout = *found;
    return without(MeshWriter(layout, holes).run(), layout, holes, tolerance);
}

}  // namespace bandwright::geometry
