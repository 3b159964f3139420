#include "ring_layout.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "crossing.hpp"
#include "geometry/tolerance.hpp"
#include "hole_clusters.hpp"

namespace bandwright::geometry {

namespace {

std::optional<CutRow> cutIfApart(const Section& section, const SectionRows& rows, const HoleProfile& profile,
                                 double tolerance) {
    for (int nudge = 0; nudge <= kMostNudges; ++nudge) {
        const HoleProfile tried = nudge == 0 ? profile : nudged(profile, nudge);
        if (auto cut = cutHole(section, rows, tried, tolerance)) return CutRow{tried, *std::move(cut)};
    }
    return std::nullopt;
}

}  // namespace

CutRow cutApart(const Section& section, const SectionRows& rows, const HoleProfile& profile,
                double tolerance) {
    if (auto cut = cutIfApart(section, rows, profile, tolerance)) return *std::move(cut);
    throw base::InputError(
        "settings: a hole runs along the edge of another cut; allowed: a hole a little to the side");
}

namespace {

/// A hole drilled once more in the same place takes nothing more.
void keepDistinct(std::vector<double>& angles) {
    std::vector<double> kept;
    for (const double angle : angles) {
        const bool isThere = std::ranges::any_of(
            kept, [&](double other) { return std::abs(std::remainder(angle - other, kTurn)) < kSameAngle; });
        if (!isThere) kept.push_back(angle);
    }
    angles = std::move(kept);
}

bool hasArcs(const Section& section) {
    return std::any_of(section.begin(), section.end(), [](const Loop& loop) {
        return std::any_of(loop.begin(), loop.end(), [](const Segment& s) { return s.isArc(); });
    });
}

/// Where each cluster's sector begins and ends: a little beside its holes, where their points are joined with
/// the plain columns. All single holes of a row have the same room, so that they can have the same sector.
struct Span {
    double begin, end;
};

std::vector<Span> spansOf(const std::vector<HoleCluster>& clusters, std::size_t rows, double step) {
    const std::size_t n = clusters.size();
    std::vector<double> room(n);
    for (std::size_t i = 0; i < n; ++i) {
        const double next = i + 1 < n ? clusters[i + 1].from : clusters[0].from + kTurn;
        room[i] = next - clusters[i].to;
    }
    const auto before = [&](std::size_t i) { return std::min(step, room[(i + n - 1) % n]) / 2; };
    const auto after = [&](std::size_t i) { return std::min(step, room[i]) / 2; };
    std::vector<double> shared(rows, step / 2);
    for (std::size_t i = 0; i < n; ++i) {
        if (clusters[i].holes.size() != 1) continue;
        double& margin = shared[clusters[i].holes[0].row];
        margin = std::min({margin, before(i), after(i)});
    }
    std::vector<Span> spans;
    for (std::size_t i = 0; i < n; ++i) {
        const HoleCluster& c = clusters[i];
        const bool single = c.holes.size() == 1;
        spans.push_back({c.from - (single ? shared[c.holes[0].row] : before(i)),
                         c.to + (single ? shared[c.holes[0].row] : after(i))});
    }
    return spans;
}

class Layout {
  public:
    Layout(const Section& section, std::span<const HoleRow> holes, const Chords& chords)
        : holes_(holes.begin(), holes.end()), tolerance_(chords.round), closely_(chords.closely) {
        // On a surface curved both ways the two chords add up.
        const double share = hasArcs(section) ? 0.5 : 1;
        const double sagitta = share * chords.round;
        result_.rows = rowsOf(section, share * chords.rows);
        double widest = 0;
        for (const Vec2& p : result_.rows.points)
            widest = std::max(widest, p.r);
        step_ = stepFor(widest, sagitta);
        for (HoleRow& hole : holes_) {
            keepDistinct(hole.angles);
            std::optional<CutRow> row = cutIfApart(section, result_.rows, hole.profile, chords.holes);
            if (!row) {
                for (const double angle : hole.angles)
                    result_.later.push_back({profiles_.size(), angle});
                row = CutRow{hole.profile, {}};
            }
            profiles_.push_back(std::move(row->profile));
            cuts_.push_back(std::move(row->cut));
        }
    }

    RingLayout run() {
        const std::vector<HoleCluster> clusters = clustersApart();
        if (clusters.empty()) {
            addPlain(0, kTurn);
        } else if (clusters.size() == 1 && clusters[0].isWholeTurn()) {
            double zero = 0;
            const HoleCluster turned = *fromFreeLine(clusters[0], cuts_, zero);
            result_.columns.push_back(zero);
            addSector(makeLaid(turned, 0, kTurn, 0), zero);
        } else {
            addClusters(clusters);
        }
        return std::move(result_);
    }

  private:
    /// What is left once those that cannot be drawn with the others are put off.
    std::vector<HoleCluster> clustersApart() {
        for (;;) {
            std::vector<HoleCluster> clusters = clustersOf(holes_, cuts_);
            std::vector<PlacedHole> off;
            for (const HoleCluster& cluster : clusters) {
                const std::vector<PlacedHole> near = tooNear(cluster, profiles_, cuts_, tolerance_);
                off.insert(off.end(), near.begin(), near.end());
            }
            double zero = 0;
            if (off.empty() && clusters.size() == 1 && clusters[0].isWholeTurn() &&
                !fromFreeLine(clusters[0], cuts_, zero))
                off = overFirst(clusters[0], cuts_);
            if (off.empty()) return clusters;
            for (const PlacedHole& hole : off) {
                std::erase_if(holes_[hole.row].angles, [&](double angle) {
                    return std::abs(std::remainder(angle - hole.angle, kTurn)) < kSameAngle;
                });
                result_.later.push_back(hole);
            }
        }
    }

    void addClusters(const std::vector<HoleCluster>& clusters) {
        const std::vector<Span> spans = spansOf(clusters, holes_.size(), step_);
        std::vector<const LaidSector*> ofSingleHole(holes_.size(), nullptr);
        for (std::size_t i = 0; i < clusters.size(); ++i) {
            const HoleCluster& c = clusters[i];
            const double zero = c.holes[0].angle;
            const LaidSector* laid = c.holes.size() == 1 ? ofSingleHole[c.holes[0].row] : nullptr;
            if (laid == nullptr) laid = makeLaid(c, spans[i].begin - zero, spans[i].end - zero, zero);
            if (c.holes.size() == 1) ofSingleHole[c.holes[0].row] = laid;
            result_.columns.push_back(spans[i].begin);
            addSector(laid, zero);
            addPlain(spans[i].end, i + 1 < spans.size() ? spans[i + 1].begin : spans[0].begin + kTurn);
        }
    }

    /// Angles of the cluster's holes count from `from`.
    const LaidSector* makeLaid(const HoleCluster& cluster, double begin, double end, double from) {
        std::vector<PlacedHole> placed = cluster.holes;
        std::stable_sort(placed.begin(), placed.end(),
                         [](const PlacedHole& a, const PlacedHole& b) { return a.angle < b.angle; });
        std::vector<SectorHole> holes;
        LaidSector laid;
        for (const PlacedHole& hole : placed) {
            holes.push_back({&profiles_[hole.row], &cuts_[hole.row], hole.angle - from});
            laid.rowOfHole.push_back(hole.row);
        }
        laid.sector = makeSector(result_.rows, std::move(holes), begin, end, step_, closely_);
        result_.sectors.push_back(std::move(laid));
        return &result_.sectors.back();
    }

    void addSector(const LaidSector* laid, double zero) {
        result_.stretches.push_back({result_.columns.size() - 1, 1, laid, zero});
    }

    /// Plain columns from the end of one sector to the beginning of the next; none when they touch.
    void addPlain(double from, double to) {
        if (to - from <= kSameAngle) return;
        const std::size_t first = result_.columns.size();
        const int parts = std::max(1, static_cast<int>(std::ceil((to - from) / step_ - kSameAngle)));
        for (int k = 0; k < parts; ++k)
            result_.columns.push_back(from + (to - from) * k / parts);
        result_.stretches.push_back({first, static_cast<std::size_t>(parts), nullptr, 0});
    }

    std::vector<HoleRow> holes_;  ///< without those put off
    double tolerance_;
    bool closely_;
    double step_ = 0;
    std::vector<HoleProfile> profiles_;  ///< as cut, nudged where needed
    std::vector<HoleCut> cuts_;
    RingLayout result_;
};

}  // namespace

RingLayout layOut(const Section& section, std::span<const HoleRow> holes, const Chords& chords) {
    return Layout(section, holes, chords).run();
}

namespace {

bool crossesItself(const Sector& sector, const SectionRows& rows) {
    std::vector<Vec3> points;
    for (const double angle : {sector.from, sector.to}) {
        for (const Vec2& p : rows.points)
            points.push_back({p.r * std::cos(angle), p.r * std::sin(angle), p.z});
    }
    points.insert(points.end(), sector.points.begin(), sector.points.end());
    std::vector<CornerPoints> triangles, away;
    std::vector<bool> ofHole(points.size(), false);
    const auto cornersOf = [](const SectorFace& face, const auto& t) {
        return CornerPoints{face.points[t[0]], face.points[t[1]], face.points[t[2]]};
    };
    for (const auto& walls : sector.walls) {
        for (const SectorFace& face : walls) {
            for (const auto& t : face.triangles)
                triangles.push_back(cornersOf(face, t));
            for (const std::uint32_t point : face.points)
                ofHole[point] = true;
        }
    }
    for (const SectorFace& face : sector.segments) {
        for (const auto& t : face.triangles) {
            const CornerPoints corners = cornersOf(face, t);
            const bool atHole = std::ranges::any_of(corners, [&](std::uint32_t p) { return ofHole[p]; });
            (atHole ? triangles : away).push_back(corners);
        }
    }
    const std::size_t suspects = triangles.size();
    triangles.insert(triangles.end(), away.begin(), away.end());
    return anyCross(points, triangles, suspects);
}

}  // namespace

std::optional<std::size_t> rowThatCrosses(const RingLayout& layout) {
    const auto laid = std::ranges::find_if(
        layout.sectors, [&](const LaidSector& l) { return crossesItself(l.sector, layout.rows); });
    return laid == layout.sectors.end() ? std::nullopt : std::optional(laid->rowOfHole.front());
}

}  // namespace bandwright::geometry
