#include "compare/walls.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <tuple>

#include "fit.hpp"
#include "geometry/tolerance.hpp"
#include "in_parts.hpp"
#include "triangle_tree.hpp"

namespace bandwright::compare {

namespace {

/// Facing: a normal at 120 degrees or more to the other.
constexpr double kFacing = -0.5;
/// Nearer than this a line comes out of the surface that it goes in at, mm.
constexpr double kThrough = 1e-5;

using TagKey = std::tuple<geometry::Feature, geometry::Side, std::uint8_t, std::uint8_t>;
TagKey keyOf(const geometry::Tag& tag) {
    return {tag.feature, tag.side, tag.owner, tag.step};
}
using Pair = std::pair<TagKey, TagKey>;

struct Chord {
    double length = 0;
    Vec3 from, to;
    std::uint32_t fromTriangle = 0, toTriangle = 0;
};
using ShortestChords = std::map<Pair, Chord>;

class WallSeeker {
  public:
    WallSeeker(const Deviation& deviation, const geometry::Triangles& body)
        : deviation_(deviation), body_(body), tree_(deviation.points, body.triangles) {
        normals_.resize(body.triangles.size());
        for (std::uint32_t i = 0; i < normals_.size(); ++i)
            normals_[i] = normalOf(tree_.corners(i));
    }

    std::vector<BodyWall> seek(const std::function<void(double)>& progress) const {
        constexpr std::size_t kStretches = 20;
        ShortestChords shortest;
        const std::size_t count = body_.triangles.size();
        for (std::size_t s = 0; s < kStretches; ++s) {
            const std::size_t begin = count * s / kStretches, end = count * (s + 1) / kStretches;
            std::vector<ShortestChords> found(kPieces);
            inParts(end - begin, [&](std::size_t from, std::size_t to) {
                ShortestChords& here = found[pieceAt(end - begin, from)];
                for (std::size_t i = begin + from; i < begin + to; ++i)
                    addChords(static_cast<std::uint32_t>(i), here);
            });
            for (const ShortestChords& some : found)
                for (const auto& [pair, chord] : some)
                    take(shortest, pair, chord);
            if (progress) progress(static_cast<double>(s + 1) / kStretches);
        }
        std::vector<BodyWall> walls;
        for (const auto& [pair, chord] : shortest)
            walls.push_back(slidTogether(chord, kFacing));
        std::ranges::stable_sort(walls, {}, &BodyWall::thickness);
        return walls;
    }

    /// The wall of a measure of the design, from where the design has it; nothing where the body has not both
    /// its features.
    std::optional<BodyWall> where(const check::Measure& measure) const {
        const auto on = [&](const Vec3& p, const geometry::Tag& tag) {
            const std::function<bool(std::uint32_t)> allowed = [&](std::uint32_t triangle) {
                return tagOf(triangle) == tag;
            };
            return tree_.nearest(p, std::numeric_limits<double>::infinity(), &allowed);
        };
        const Nearest from = on(measure.from, measure.fromTag), to = on(measure.to, measure.toTag);
        if (!from.found() || !to.found()) return std::nullopt;
        // Holes that are alike have one tag, and nothing but the angle tells one from the other.
        const double mostCosine = measure.fromTag == measure.toTag ? kFacing : 1;
        const Chord start{geometry::distance(from.point, to.point), from.point, to.point, from.triangle,
                          to.triangle};
        // A way along a face may seem to leave the metal; then it is taken as it stands.
        if (!isInside(start))
            return BodyWall{start.length, start.from, start.to, measure.fromTag, measure.toTag};
        return slidTogether(start, mostCosine);
    }

  private:
    const geometry::Tag& tagOf(std::uint32_t triangle) const { return deviation_.ofTriangle[triangle]; }

    static void take(ShortestChords& into, const Pair& pair, const Chord& chord) {
        const auto [at, isNew] = into.try_emplace(pair, chord);
        if (!isNew && chord.length < at->second.length) at->second = chord;
    }

    void addChords(std::uint32_t triangle, ShortestChords& into) const {
        const Vec3 inward = -1.0 * normals_[triangle];
        forEachPiece(tree_.corners(triangle), kPlacesApart, [&](const Vec3& middle, double area) {
            if (!(area > 0)) return;
            constexpr double kFarthest = 100;  // mm; beyond any ring
            const Hit hit = tree_.leaves(middle, inward, kThrough, kFarthest);
            if (hit.distance >= kFarthest || dot(normals_[triangle], normals_[hit.triangle]) > kFacing)
                return;
            const TagKey a = keyOf(tagOf(triangle)), b = keyOf(tagOf(hit.triangle));
            Chord chord{hit.distance, middle, middle + hit.distance * inward, triangle, hit.triangle};
            if (b < a) {
                std::swap(chord.from, chord.to);
                std::swap(chord.fromTriangle, chord.toTriangle);
            }
            take(into, {std::min(a, b), std::max(a, b)}, chord);
        });
    }

    /// The nearest place of a feature to p, which lies on the triangle `across`, on the other side of the
    /// metal there; its normal at that angle to this one's or more.
    Nearest beyond(const Vec3& p, std::uint32_t across, const geometry::Tag& tag, double within,
                   double mostCosine) const {
        // Of a hole the far side stands opposite too, across the air.
        const std::function<bool(std::uint32_t)> allowed = [&](std::uint32_t triangle) {
            return tagOf(triangle) == tag && dot(normals_[triangle], normals_[across]) <= mostCosine &&
                   dot(tree_.corners(triangle)[0] - p, normals_[across]) < -kThrough;
        };
        return tree_.nearest(p, within * within * (1 + 1e-12), &allowed);
    }

    /// Whether the straight way runs through metal alone. Its ends lie on the surface, which may be bent by a
    /// chord near them.
    bool isInside(const Chord& chord) const {
        constexpr double kNearEnd = 0.02;  // mm
        const Vec3 direction = unit(chord.to - chord.from);
        const double end = chord.length - kNearEnd;
        return end <= kNearEnd || tree_.leaves(chord.from, direction, kNearEnd, end).distance >= end;
    }

    /// Each end in turn goes to the place of its feature that is nearest to the other, as long as the way
    /// there stays in the metal.
    BodyWall slidTogether(Chord chord, double mostCosine) const {
        constexpr int kMostTurns = 50;
        constexpr double kEnd = 1e-9;
        const geometry::Tag fromTag = tagOf(chord.fromTriangle), toTag = tagOf(chord.toTriangle);
        for (int i = 0; i < kMostTurns; ++i) {
            Chord next = chord;
            const Nearest to = beyond(next.from, next.fromTriangle, toTag, next.length, mostCosine);
            if (to.found()) {
                next.to = to.point;
                next.toTriangle = to.triangle;
                next.length = std::sqrt(to.squared);
            }
            const Nearest from = beyond(next.to, next.toTriangle, fromTag, next.length, mostCosine);
            if (from.found()) {
                next.from = from.point;
                next.fromTriangle = from.triangle;
                next.length = std::sqrt(from.squared);
            }
            const double gain = chord.length - next.length;
            if (!isInside(next)) break;
            chord = next;
            if (gain < kEnd) break;
        }
        return {chord.length, chord.from, chord.to, fromTag, toTag};
    }

    const Deviation& deviation_;
    const geometry::Triangles& body_;
    TriangleTree tree_;
    std::vector<Vec3> normals_;
};

bool isInner(const geometry::Tag& tag) {
    const geometry::Region region = geometry::regionOf(tag.feature);
    return region == geometry::Region::Bore || region == geometry::Region::LinerJoint;
}
bool isOuter(const geometry::Tag& tag) {
    const geometry::Region region = geometry::regionOf(tag.feature);
    return region == geometry::Region::Outside || region == geometry::Region::Channel;
}

/// The thinnest wall of the turned band lies between its inside and its outside or a channel; the floor of a
/// dent that is deeper than half of the wall is nearest to the inside too.
bool isOf(const BodyWall& wall, const check::Measure& measure, const std::string& rule) {
    const bool fromInner = isInner(wall.fromTag), toInner = isInner(wall.toTag);
    if (rule == "thinnest-wall" && (fromInner || toInner) && (fromInner || isOuter(wall.fromTag)) &&
        (toInner || isOuter(wall.toTag)))
        return true;
    return (wall.fromTag == measure.fromTag && wall.toTag == measure.toTag) ||
           (wall.fromTag == measure.toTag && wall.toTag == measure.fromTag);
}

}  // namespace

BodyWalls bodyWalls(const Deviation& deviation, const geometry::Triangles& body, const check::Report& report,
                    const std::function<void(double)>& progress) {
    constexpr double kRounding = 1e-6;  // as check holds its limits
    const WallSeeker seeker(deviation, body);
    BodyWalls result{seeker.seek(progress), {}};
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const check::Finding& finding = report.findings[i];
        const check::Measure& measure = report.measures[finding.measure];
        // Between mouths of holes it is their edges at the outside that count, not the holes' sides; and
        // where two features meet there is no wall.
        if (finding.group != check::Group::Walls || measure.unit != "mm" || !measure.hasPlace ||
            finding.sense != check::Sense::AtLeast || finding.rule == "mouth-to-mouth" ||
            measure.value < geometry::kFilm)
            continue;
        std::optional<BodyWall> least = seeker.where(measure);
        const auto found = std::ranges::find_if(
            result.all, [&](const BodyWall& wall) { return isOf(wall, measure, finding.rule); });
        if (found != result.all.end() && (!least || found->thickness < least->thickness)) least = *found;
        if (!least) continue;
        JudgedWall one{i, *least, check::Verdict::Go};
        if (least->thickness < finding.comfortable - kRounding) one.verdict = check::Verdict::Marginal;
        if (least->thickness < finding.limit - kRounding) one.verdict = check::Verdict::NoGo;
        result.judged.push_back(one);
    }
    return result;
}

}  // namespace bandwright::compare
