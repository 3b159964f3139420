#include "revolve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "sector.hpp"
#include "trade/input_error.hpp"
#include "trade/wording.hpp"
#include "triangulate.hpp"

namespace bandwright {

namespace {

constexpr double kTurn = 2 * std::numbers::pi;

/// One hole as it stands in the ring.
struct PlacedHole {
    std::size_t row = 0;
    double angle = 0;
};

/// Holes that share a sector, in order of angle.
struct Cluster {
    double from = 0, to = 0;  ///< what its holes take, radians
    std::vector<PlacedHole> holes;
};

double positive(double angle) {
    return angle - kTurn * std::floor(angle / kTurn);
}

/// Runs of holes that overlap in angle, wherever they stand across the width.
std::vector<Cluster> clustersOf(std::span<const HoleRow> rows, const std::vector<HoleCut>& cuts) {
    std::vector<Cluster> single;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!cuts[i].touches()) continue;
        for (const double angle : rows[i].angles) {
            const double from = positive(angle - cuts[i].halfAngle);
            single.push_back({from, from + 2 * cuts[i].halfAngle, {{i, from + cuts[i].halfAngle}}});
        }
    }
    std::sort(single.begin(), single.end(),
              [](const Cluster& a, const Cluster& b) { return a.from < b.from; });
    constexpr double kApart = 1e-7;
    std::vector<Cluster> merged;
    for (Cluster& next : single) {
        if (merged.empty() || next.from > merged.back().to + kApart) {
            merged.push_back(std::move(next));
            continue;
        }
        merged.back().to = std::max(merged.back().to, next.to);
        merged.back().holes.push_back(next.holes.front());
    }
    // The last may reach round to the first.
    while (merged.size() > 1 && merged.back().to + kApart >= merged.front().from + kTurn) {
        Cluster& last = merged.back();
        for (PlacedHole hole : merged.front().holes)
            last.holes.push_back({hole.row, hole.angle + kTurn});
        last.to = std::max(last.to, merged.front().to + kTurn);
        merged.erase(merged.begin());
    }
    return merged;
}

/// Whether a point of one hole's wall lies in another hole or nearer to it than `clearance`. Radial holes
/// come nearest to each other at the inner end of each of their steps, and there are points there.
bool reaches(const SectorHole& a, const SectorHole& b, double clearance) {
    const double apart = std::abs(std::remainder(a.angle - b.angle, kTurn));
    constexpr double kRoom = 0.01;
    if (apart > a.cut->halfAngle + b.cut->halfAngle + kRoom) return false;
    const double c = std::cos(a.angle - b.angle);
    const double s = std::sin(a.angle - b.angle);
    for (const Vec3& p : a.cut->points) {
        for (const double y : {p.y, -p.y}) {
            const double x = c * p.x - s * y;
            const double across = std::hypot(s * p.x + c * y, p.z - b.profile->offset);
            if (across < radiusAt(*b.profile, x) + clearance) return true;
        }
    }
    return false;
}

std::string degrees(double angle) {
    return shortestNumber(std::round(positive(angle) * 360 / kTurn * 10) / 10);
}

[[noreturn]] void refuseMeeting(const SectorHole& a, const SectorHole& b, double zero) {
    const auto setting = [](const SectorHole& hole) {
        return "settings[" + std::to_string(hole.profile->pieces.front().tag.index) + "]";
    };
    throw InputError((setting(a) == setting(b) ? setting(a) : setting(a) + " and " + setting(b)) +
                     ": the holes at " + degrees(zero + a.angle) + " and " + degrees(zero + b.angle) +
                     " degrees run into each other; allowed: holes with metal between them");
}

/// A stretch of the ring: plain between columns of points, or a sector with holes.
struct Stretch {
    std::size_t firstColumn = 0, lastColumn = 0;
    const Sector* sector = nullptr;
    double angle = 0;  ///< the sector's zero
    std::uint32_t firstPoint = 0;
    const std::vector<std::size_t>* rowOfHole = nullptr;
};

std::array<float, 3> asFloat(const Vec3& n) {
    return {static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)};
}

class Assembly {
  public:
    Assembly(const Section& section, std::span<const HoleRow> holes, double tolerance, double holeTolerance)
        : holes_(holes), tolerance_(tolerance) {
        const bool hasArcs = std::any_of(section.begin(), section.end(), [](const Loop& loop) {
            return std::any_of(loop.begin(), loop.end(), [](const Segment& s) { return s.isArc(); });
        });
        // On a surface curved both ways the two chords add up.
        const double sagitta = hasArcs ? tolerance / 2 : tolerance;
        rows_ = rowsOf(section, sagitta);
        double widest = 0;
        for (const Vec2& p : rows_.points)
            widest = std::max(widest, p.r);
        step_ = stepFor(widest, sagitta);
        for (const HoleRow& hole : holes) {
            profiles_.push_back(hole.profile);
            cuts_.push_back(cutApart(section, hole.profile, holeTolerance));
        }
    }

    Mesh run() {
        layOut();
        reserve();
        addPoints();
        for (std::size_t i = 0; i < rows_.segments.size(); ++i)
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
        if (angles_.size() > 1) return;
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

    HoleCut cutApart(const Section& section, const HoleProfile& profile, double tolerance) {
        for (int nudge = 0; nudge <= kMostNudges; ++nudge) {
            profiles_.back() = nudge == 0 ? profile : nudged(profile, nudge);
            if (auto cut = cutHole(section, rows_, profiles_.back(), tolerance)) return std::move(*cut);
        }
        throw InputError(
            "settings: a hole runs along the edge of another cut; allowed: a hole a little to the side");
    }

    /// Divides the ring into stretches.
    void layOut() {
        const std::vector<Cluster> clusters = clustersOf(holes_, cuts_);
        if (clusters.empty()) {
            const int parts = static_cast<int>(std::ceil(kTurn / step_));
            for (int k = 0; k < parts; ++k)
                angles_.push_back(kTurn * k / parts);
            stretches_.push_back({0, static_cast<std::size_t>(parts), nullptr, 0, 0, nullptr});
            return;
        }
        if (clusters.size() == 1 && clusters[0].to - clusters[0].from >= kTurn) {
            layOutWholeTurn(clusters[0]);
            return;
        }
        const std::size_t n = clusters.size();
        // Room beside each cluster, in which its points are joined with the plain columns.
        std::vector<double> room(n);
        for (std::size_t i = 0; i < n; ++i) {
            const double next = i + 1 < n ? clusters[i + 1].from : clusters[0].from + kTurn;
            room[i] = next - clusters[i].to;
        }
        std::vector<double> margin(holes_.size(), step_ / 2);
        const auto marginOf = [&](const Cluster& c, double beside) {
            return c.holes.size() == 1 ? std::min(margin[c.holes[0].row], beside)
                                       : std::min(step_ / 2, beside);
        };
        for (std::size_t i = 0; i < n; ++i) {
            if (clusters[i].holes.size() != 1) continue;
            const double least = std::min(room[i], room[(i + n - 1) % n]) / 2;
            double& m = margin[clusters[i].holes[0].row];
            m = std::min(m, least);
        }
        std::vector<std::size_t> template_(holes_.size(), kNoSector);
        sectors_.reserve(n);
        rowsOfHoles_.reserve(n);
        std::vector<double> begins(n), ends(n);
        for (std::size_t i = 0; i < n; ++i) {
            const Cluster& c = clusters[i];
            const double before = marginOf(c, room[(i + n - 1) % n] / 2);
            const double after = marginOf(c, room[i] / 2);
            begins[i] = c.from - before;
            ends[i] = c.to + after;
        }
        for (std::size_t i = 0; i < n; ++i) {
            const Cluster& c = clusters[i];
            const double zero = c.holes[0].angle;
            std::size_t made = kNoSector;
            if (c.holes.size() == 1) made = template_[c.holes[0].row];
            if (made == kNoSector) {
                made = sectors_.size();
                sectors_.push_back(makeClusterSector(c, begins[i] - zero, ends[i] - zero, 0));
                if (c.holes.size() == 1) template_[c.holes[0].row] = made;
            }
            const std::size_t first = angles_.size();
            angles_.push_back(begins[i]);
            stretches_.push_back({first, first + 1, &sectors_[made], zero, 0, &rowsOfHoles_[made]});
            const double next = i + 1 < n ? begins[i + 1] : begins[0] + kTurn;
            addPlain(ends[i], next);
        }
        for (Stretch& s : stretches_)
            s.lastColumn %= angles_.size();
    }

    /// Holes that overlap in angle all the way round: one sector, from a line across the band that meets no
    /// hole but in its middle.
    void layOutWholeTurn(const Cluster& cluster) {
        const auto isFree = [&](double angle) {
            return std::all_of(cluster.holes.begin(), cluster.holes.end(), [&](const PlacedHole& hole) {
                const double off = std::abs(std::remainder(hole.angle - angle, kTurn));
                return off < kSame || off > cuts_[hole.row].halfAngle + kSame;
            });
        };
        const auto first = std::find_if(cluster.holes.begin(), cluster.holes.end(),
                                        [&](const PlacedHole& hole) { return isFree(hole.angle); });
        if (first == cluster.holes.end())
            throw InputError("settings: the holes leave no line across the band free; allowed: fewer holes");
        Cluster turned{0, kTurn, {}};
        for (const PlacedHole& hole : cluster.holes) {
            const double angle = positive(hole.angle - first->angle);
            turned.holes.push_back({hole.row, angle > kTurn - kSame || angle < kSame ? 0 : angle});
        }
        std::stable_sort(turned.holes.begin(), turned.holes.end(),
                         [](const PlacedHole& a, const PlacedHole& b) { return a.angle < b.angle; });
        sectors_.reserve(1);
        rowsOfHoles_.reserve(1);
        angles_.push_back(first->angle);
        sectors_.push_back(makeClusterSector(turned, 0, kTurn, first->angle));
        stretches_.push_back({0, 0, &sectors_[0], first->angle, 0, &rowsOfHoles_[0]});
    }

    static constexpr double kSame = 1e-9;  ///< radians
    static constexpr std::size_t kNoSector = static_cast<std::size_t>(-1);

    /// `zero` is where the angle 0 of a whole turn stands in the ring.
    Sector makeClusterSector(const Cluster& cluster, double from, double to, double zero) {
        std::vector<SectorHole> holes;
        std::vector<PlacedHole> placed = cluster.holes;
        std::sort(placed.begin(), placed.end(),
                  [](const PlacedHole& a, const PlacedHole& b) { return a.angle < b.angle; });
        std::vector<std::size_t> rows;
        for (const PlacedHole& hole : placed) {
            holes.push_back({&profiles_[hole.row], &cuts_[hole.row], hole.angle - cluster.holes[0].angle});
            rows.push_back(hole.row);
        }
        for (std::size_t i = 0; i < holes.size(); ++i) {
            for (std::size_t j = 0; j < holes.size(); ++j) {
                if (i != j && reaches(holes[i], holes[j], tolerance_))
                    refuseMeeting(holes[i], holes[j], zero + cluster.holes[0].angle);
            }
        }
        rowsOfHoles_.push_back(std::move(rows));
        return makeSector(rows_, std::move(holes), from, to, step_);
    }

    /// Plain columns from the end of one sector to the beginning of the next; one column when they touch.
    void addPlain(double from, double to) {
        const std::size_t first = angles_.size();
        constexpr double kNothing = 1e-9;
        if (to - from <= kNothing) return;
        const int parts = std::max(1, static_cast<int>(std::ceil((to - from) / step_ - kNothing)));
        for (int k = 0; k < parts; ++k)
            angles_.push_back(from + (to - from) * k / parts);
        stretches_.push_back({first, first + static_cast<std::size_t>(parts), nullptr, 0, 0, nullptr});
    }

    /// Large meshes spend most of their time in growing vectors otherwise.
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
        for (const Stretch& stretch : stretches_) {
            if (stretch.sector == nullptr) {
                const std::size_t steps = stepsOf(stretch);
                plainSteps += steps;
                plainColumns += steps + 1;
                continue;
            }
            ownPoints += stretch.sector->points.size();
            for (const SectorFace& face : stretch.sector->segments)
                count(face);
            for (const auto& walls : stretch.sector->walls) {
                for (const SectorFace& face : walls)
                    count(face);
            }
        }
        std::size_t rows = 0;
        for (const RowedSegment& segment : rows_.segments)
            rows += segment.rows.size();
        const std::size_t strips = rows - rows_.segments.size();
        mesh_.points.reserve(angles_.size() * rows_.points.size() + ownPoints);
        mesh_.pointOf.reserve(plainColumns * rows + ownVertices);
        mesh_.normals.reserve(plainColumns * rows + ownVertices);
        mesh_.triangles.reserve(2 * plainSteps * strips + ownTriangles);
    }

    std::size_t stepsOf(const Stretch& plain) const {
        const std::size_t n = angles_.size();
        return plain.lastColumn > plain.firstColumn ? plain.lastColumn - plain.firstColumn
                                                    : plain.lastColumn + n - plain.firstColumn;
    }

    void addPoints() {
        const auto rowCount = static_cast<std::uint32_t>(rows_.points.size());
        for (const double angle : angles_) {
            const double c = std::cos(angle);
            const double s = std::sin(angle);
            cosines_.push_back(c);
            sines_.push_back(s);
            for (const Vec2& p : rows_.points)
                mesh_.points.push_back({p.r * c, p.r * s, p.z});
        }
        for (Stretch& stretch : stretches_) {
            if (stretch.sector == nullptr) continue;
            stretch.firstPoint = static_cast<std::uint32_t>(mesh_.points.size());
            const double c = std::cos(stretch.angle);
            const double s = std::sin(stretch.angle);
            for (const Vec3& p : stretch.sector->points)
                mesh_.points.push_back({c * p.x - s * p.y, s * p.x + c * p.y, p.z});
        }
        rowCount_ = rowCount;
    }

    void closeFace(Tag tag, std::size_t firstTriangle) {
        if (mesh_.triangles.size() == firstTriangle) return;
        mesh_.faces.push_back({tag, static_cast<std::uint32_t>(firstTriangle),
                               static_cast<std::uint32_t>(mesh_.triangles.size() - firstTriangle)});
    }

    void addSegment(std::size_t number) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        for (const Stretch& stretch : stretches_) {
            if (stretch.sector == nullptr) {
                addPlainFace(number, stretch);
            } else {
                addSectorFace(stretch.sector->segments[number], stretch);
            }
        }
        closeFace(rows_.segments[number].segment->tag, firstTriangle);
    }

    void addPlainFace(std::size_t number, const Stretch& stretch) {
        const RowedSegment& segment = rows_.segments[number];
        const auto n = static_cast<std::uint32_t>(segment.rows.size());
        const auto first = static_cast<std::uint32_t>(mesh_.pointOf.size());
        const std::size_t last = stretch.firstColumn + stepsOf(stretch);
        std::vector<Vec2> normals;
        for (const std::uint32_t row : segment.rows)
            normals.push_back(outwardAt(*segment.segment, rows_.points[row]));
        for (std::size_t c = stretch.firstColumn; c <= last; ++c) {
            const std::size_t column = c % angles_.size();
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

    void addSectorFace(const SectorFace& face, const Stretch& stretch) {
        const auto first = static_cast<std::uint32_t>(mesh_.pointOf.size());
        const double c = std::cos(stretch.angle);
        const double s = std::sin(stretch.angle);
        const auto begin = static_cast<std::uint32_t>(stretch.firstColumn) * rowCount_;
        const auto end = static_cast<std::uint32_t>(stretch.lastColumn) * rowCount_;
        for (std::size_t i = 0; i < face.points.size(); ++i) {
            const std::uint32_t p = face.points[i];
            mesh_.pointOf.push_back(p < rowCount_       ? begin + p
                                    : p < 2 * rowCount_ ? end + p - rowCount_
                                                        : stretch.firstPoint + p - 2 * rowCount_);
            const Vec3& n = face.normals[i];
            mesh_.normals.push_back(asFloat({c * n.x - s * n.y, s * n.x + c * n.y, n.z}));
        }
        for (const auto& t : face.triangles)
            mesh_.triangles.push_back({first + t[0], first + t[1], first + t[2]});
    }

    void addWall(std::size_t row, std::size_t piece) {
        const std::size_t firstTriangle = mesh_.triangles.size();
        for (const Stretch& stretch : stretches_) {
            if (stretch.sector == nullptr) continue;
            for (std::size_t h = 0; h < stretch.sector->walls.size(); ++h) {
                if ((*stretch.rowOfHole)[h] != row || stretch.sector->walls[h].empty()) continue;
                addSectorFace(stretch.sector->walls[h][piece], stretch);
            }
        }
        closeFace(holes_[row].profile.pieces[piece].tag, firstTriangle);
    }

    std::span<const HoleRow> holes_;
    double tolerance_;
    SectionRows rows_;
    double step_ = 0;
    std::uint32_t rowCount_ = 0;
    std::vector<HoleProfile> profiles_;  ///< as cut, nudged where need was
    std::vector<HoleCut> cuts_;
    std::vector<Sector> sectors_;
    std::vector<std::vector<std::size_t>>
        rowsOfHoles_;  ///< for each sector, the row of holes each of its holes is of
    std::vector<double> angles_, cosines_, sines_;  ///< of the columns
    std::vector<Stretch> stretches_;
    Mesh mesh_;
};

}  // namespace

Mesh revolved(const Section& section, std::span<const HoleRow> holes, double tolerance) {
    constexpr int kFiner = 4;
    double holeTolerance = tolerance;
    for (int attempt = 0; attempt < 6; ++attempt, holeTolerance /= kFiner) {
        try {
            return Assembly(section, holes, tolerance, holeTolerance).run();
        } catch (const OutlinesCross&) {
            // Two curves of a hole run nearer to each other than its chords can follow.
            continue;
        }
    }
    throw InputError(
        "settings: a hole leaves a sliver of metal too thin to draw; allowed: a hole a little to the side");
}

}  // namespace bandwright
