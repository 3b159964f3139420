#include "sector.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "arithmetic.hpp"
#include "geometry/tolerance.hpp"
#include "triangulate.hpp"

namespace bandwright::geometry {

namespace {

Vec3 turned(const Vec3& p, double c, double s) {
    return {c * p.x - s * p.y, s * p.x + c * p.y, p.z};
}

/// The points of one row in order of angle.
struct RowPoints {
    std::vector<double> angles;
    std::vector<std::uint32_t> points;
    std::vector<bool> solid;  ///< whether material follows the point
    bool crossed = false;     ///< by a hole
};

/// Which hole a point of the sector belongs to, and its number in that hole's cut.
struct HolePoint {
    std::uint32_t hole, number;
    bool isLeft, isMiddle;
};

class SectorBuilder {
  public:
    SectorBuilder(const SectionRows& rows, std::vector<SectorHole> holes, double from, double to, double step,
                  bool closely)
        : rows_(rows),
          holes_(std::move(holes)),
          step_(step),
          closely_(closely),
          rowCount_(static_cast<std::uint32_t>(rows.points.size())) {
        sector_.from = from;
        sector_.to = to;
        closed_ = to - from > kTurn - kSameAngle;
    }

    Sector run() {
        std::sort(holes_.begin(), holes_.end(),
                  [](const SectorHole& a, const SectorHole& b) { return a.angle < b.angle; });
        addHolePoints();
        rowPoints_.reserve(rowCount_);
        sector_.segments.reserve(rows_.segments.size());
        for (std::uint32_t row = 0; row < rowCount_; ++row)
            rowPoints_.push_back(makeRow(row));
        for (std::size_t i = 0; i < rows_.segments.size(); ++i)
            sector_.segments.push_back(makeSegment(i));
        for (std::size_t h = 0; h < holes_.size(); ++h)
            sector_.walls.push_back(makeWalls(h));
        return std::move(sector_);
    }

  private:
    std::uint32_t addPoint(const Vec3& p, double angle) {
        sector_.points.push_back(p);
        angles_.push_back(angle);
        return 2 * rowCount_ + static_cast<std::uint32_t>(sector_.points.size() - 1);
    }

    /// With those of the two columns.
    std::size_t pointCount() const { return std::size_t{2} * rowCount_ + sector_.points.size(); }

    double angleOf(std::uint32_t point) const {
        if (point < rowCount_) return sector_.from;
        if (point < 2 * rowCount_) return sector_.to;
        return angles_[point - 2 * rowCount_];
    }

    /// Distance from the axis and along it.
    Vec2 placeOf(std::uint32_t point) const {
        if (point < 2 * rowCount_) return rows_.points[point % rowCount_];
        const Vec3& p = sector_.points[point - 2 * rowCount_];
        return {p.z, std::sqrt(p.x * p.x + p.y * p.y)};
    }

    /// Both halves of each hole; the points in its plane of mirroring are shared by them.
    void addHolePoints() {
        for (const SectorHole& hole : holes_) {
            const double c = std::cos(hole.angle);
            const double s = std::sin(hole.angle);
            std::vector<std::uint32_t> right;
            std::vector<std::uint32_t> left;
            right.reserve(hole.cut->points.size());
            left.reserve(hole.cut->points.size());
            for (const Vec3& p : hole.cut->points) {
                const double w = std::atan2(p.y, p.x);
                const auto h = static_cast<std::uint32_t>(right_.size());
                const auto number = static_cast<std::uint32_t>(right.size());
                const bool middle = p.y == 0;
                right.push_back(addPoint(turned(p, c, s), hole.angle + w));
                holePoints_.push_back({h, number, false, middle});
                if (middle) {
                    left.push_back(right.back());
                    continue;
                }
                const double behind = straddles(h) ? kTurn : 0;
                left.push_back(addPoint(turned({p.x, -p.y, p.z}, c, s), hole.angle + behind - w));
                holePoints_.push_back({h, number, true, false});
            }
            right_.push_back(std::move(right));
            left_.push_back(std::move(left));
        }
    }

    /// Whether a hole stands on the line at which a sector of a whole turn begins and ends: its right half is
    /// at the beginning and its left half at the end.
    bool straddles(std::size_t h) const { return closed_ && holes_[h].angle - sector_.from < kSameAngle; }

    /// The place on a row where the hole on that line crosses it.
    std::optional<std::pair<std::size_t, std::size_t>> straddlingCrossing(std::uint32_t row) const {
        for (std::size_t h = 0; h < holes_.size() && straddles(h); ++h) {
            const int crossing = holes_[h].cut->pointOfRow[row];
            if (crossing >= 0) return std::pair{h, static_cast<std::size_t>(crossing)};
        }
        return std::nullopt;
    }

    RowPoints makeRow(std::uint32_t row) {
        RowPoints result;
        const auto enough =
            2 * holes_.size() + 3 + static_cast<std::size_t>((sector_.to - sector_.from) / step_);
        result.angles.reserve(enough);
        result.points.reserve(enough);
        result.solid.reserve(enough);
        const auto straddling = straddlingCrossing(row);
        const auto pointAtCut = [&](const auto& half) { return half[straddling->first][straddling->second]; };
        const Vec2 place = rows_.points[row];
        const auto add = [&](double angle, std::uint32_t point, bool solid) {
            result.angles.push_back(angle);
            result.points.push_back(point);
            result.solid.push_back(solid);
        };
        const auto fill = [&](double from, double to) {
            const int parts = static_cast<int>(std::ceil((to - from) / step_ - kSameAngle));
            for (int k = 1; k < parts; ++k) {
                const double angle = from + (to - from) * k / parts;
                add(angle, addPoint({place.r * std::cos(angle), place.r * std::sin(angle), place.z}, angle),
                    true);
            }
        };
        const std::uint32_t first = straddling ? pointAtCut(right_) : row;
        const std::uint32_t last = straddling ? pointAtCut(left_) : rowCount_ + row;
        result.crossed = straddling.has_value();
        add(angleOf(first), first, true);
        for (std::size_t h = 0; h < holes_.size(); ++h) {
            const int crossing = holes_[h].cut->pointOfRow[row];
            if (crossing < 0 || straddles(h)) continue;
            const std::uint32_t left = left_[h][static_cast<std::size_t>(crossing)];
            const std::uint32_t right = right_[h][static_cast<std::size_t>(crossing)];
            fill(result.angles.back(), angleOf(left));
            add(angleOf(left), left, false);
            add(angleOf(right), right, true);
            result.crossed = true;
        }
        fill(result.angles.back(), angleOf(last));
        add(angleOf(last), last, true);
        return result;
    }

    SectorFace makeSegment(std::size_t number) {
        const RowedSegment& segment = rows_.segments[number];
        face_ = {};
        reserveFace(segment, number);
        if (!segment.segment->isArc()) straightNormal_ = outwardAt(*segment.segment, {});
        vertexOf_.assign(pointCount(), kNoPoint);
        for (std::size_t strip = 0; strip + 1 < segment.rows.size(); ++strip) {
            const RowPoints& low = rowPoints_[segment.rows[strip]];
            const RowPoints& high = rowPoints_[segment.rows[strip + 1]];
            if (!low.crossed && !high.crossed && !curvesWithin(number, strip)) {
                joinRows(segment, low, high);
            } else {
                fillStrip(segment, number, strip);
            }
        }
        return std::move(face_);
    }

    void reserveFace(const RowedSegment& segment, std::size_t number) {
        std::size_t count = 0;
        for (const std::uint32_t row : segment.rows)
            count += rowPoints_[row].points.size();
        for (const SectorHole& hole : holes_) {
            for (const HoleCurve& curve : hole.cut->curves[number])
                count += 2 * curve.points.size();
        }
        face_.points.reserve(count);
        face_.normals.reserve(count);
        face_.triangles.reserve(2 * count);
    }

    std::uint32_t vertex(const Segment& segment, std::uint32_t point) {
        if (vertexOf_[point] == kNoPoint) {
            vertexOf_[point] = static_cast<std::uint32_t>(face_.points.size());
            face_.points.push_back(point);
            const Vec2 place = placeOf(point);
            const Vec2 n = segment.isArc() ? outwardAt(segment, place) : straightNormal_;
            double c = 0;
            double s = 0;
            if (point < 2 * rowCount_) {
                c = std::cos(angleOf(point));
                s = std::sin(angleOf(point));
            } else {
                const Vec3& p = sector_.points[point - 2 * rowCount_];
                c = p.x / place.r;
                s = p.y / place.r;
            }
            face_.normals.push_back({n.r * c, n.r * s, n.z});
        }
        return vertexOf_[point];
    }

    /// Seen from outside, angles grow to the left of a segment's direction.
    void addTriangle(const Segment& segment, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
        const std::uint32_t va = vertex(segment, a);
        const std::uint32_t vc = vertex(segment, c);
        face_.triangles.push_back({va, vc, vertex(segment, b)});
    }

    void joinRows(const RowedSegment& segment, const RowPoints& low, const RowPoints& high) {
        for (std::size_t i = 0; i + 1 < low.points.size(); ++i) {
            addTriangle(*segment.segment, low.points[i], low.points[i + 1], high.points[i + 1]);
            addTriangle(*segment.segment, low.points[i], high.points[i + 1], high.points[i]);
        }
    }

    bool curvesWithin(std::size_t number, std::size_t strip) const {
        const RowedSegment& segment = rows_.segments[number];
        for (const SectorHole& hole : holes_) {
            for (const HoleCurve& curve : hole.cut->curves[number]) {
                if (curve.shares.front() < segment.shares[strip + 1] &&
                    curve.shares.back() > segment.shares[strip])
                    return true;
            }
        }
        return false;
    }

    /// A place on the sector's first and last line where material begins or ends, from the strip's lower row
    /// upwards.
    struct BorderStop {
        double share;
        std::uint32_t first, last;
    };

    std::vector<BorderStop> borderStops(const RowedSegment& segment, std::size_t number,
                                        std::size_t strip) const {
        const double lowShare = segment.shares[strip];
        const double highShare = segment.shares[strip + 1];
        std::vector<BorderStop> stops;
        for (const std::size_t end : {strip, strip + 1}) {
            const std::uint32_t row = segment.rows[end];
            if (!straddlingCrossing(row)) stops.push_back({segment.shares[end], row, rowCount_ + row});
        }
        for (std::size_t h = 0; h < holes_.size() && straddles(h); ++h) {
            for (const HoleCurve& curve : holes_[h].cut->curves[number]) {
                for (const std::size_t end : {std::size_t{0}, curve.points.size() - 1}) {
                    const std::uint32_t tip = curve.points[end];
                    const double share = curve.shares[end];
                    const bool within = share > lowShare && share < highShare;
                    if (within && holes_[h].cut->points[tip].y == 0)
                        stops.push_back({share, right_[h][tip], right_[h][tip]});
                }
            }
        }
        std::sort(stops.begin(), stops.end(),
                  [](const BorderStop& a, const BorderStop& b) { return a.share < b.share; });
        return stops;
    }

    void fillStrip(const RowedSegment& segment, std::size_t number, std::size_t strip) {
        const double scale = rows_.points[segment.rows[strip]].r;
        const double l = arcLength(*segment.segment);
        PlaneRegion& region = region_;
        region.vertices.clear();
        pointOfVertex_.clear();
        stripVertexOf_.resize(pointCount(), kNoPoint);
        const auto place = [&](std::uint32_t point, double share) {
            std::uint32_t& v = stripVertexOf_[point];
            if (v == kNoPoint) {
                v = region.add(angleOf(point) * scale, share * l);
                pointOfVertex_.push_back(point);
            }
            return v;
        };
        const double lowShare = segment.shares[strip];
        const double highShare = segment.shares[strip + 1];
        const RowPoints& low = rowPoints_[segment.rows[strip]];
        const RowPoints& high = rowPoints_[segment.rows[strip + 1]];
        for (std::size_t i = 0; i + 1 < low.points.size(); ++i) {
            if (low.solid[i]) region.join(place(low.points[i], lowShare), place(low.points[i + 1], lowShare));
        }
        for (std::size_t i = 0; i + 1 < high.points.size(); ++i) {
            if (high.solid[i])
                region.join(place(high.points[i + 1], highShare), place(high.points[i], highShare));
        }
        // A point on the line where a whole turn begins is on the line where it ends, too.
        std::vector<std::pair<std::uint32_t, std::uint32_t>> ends;
        const auto placeAtEnd = [&](std::uint32_t point, double share) {
            if (angleOf(point) > sector_.from) return place(point, share);
            for (const auto& [known, v] : ends) {
                if (known == point) return v;
            }
            ends.emplace_back(point, region.add(sector_.to * scale, share * l));
            pointOfVertex_.push_back(point);
            return ends.back().second;
        };
        const std::vector<BorderStop> stops = borderStops(segment, number, strip);
        for (std::size_t i = 0; i + 1 < stops.size(); i += 2) {
            const BorderStop& a = stops[i];
            const BorderStop& b = stops[i + 1];
            region.join(placeAtEnd(a.last, a.share), placeAtEnd(b.last, b.share));
            region.join(place(b.first, b.share), place(a.first, a.share));
        }
        for (std::size_t h = 0; h < holes_.size(); ++h) {
            const auto placeLeft = [&](std::uint32_t point, double share) {
                return straddles(h) ? placeAtEnd(point, share) : place(point, share);
            };
            for (const HoleCurve& curve : holes_[h].cut->curves[number]) {
                for (std::size_t i = 0; i + 1 < curve.points.size(); ++i) {
                    if (curve.shares[i] < lowShare || curve.shares[i + 1] > highShare) continue;
                    const std::uint32_t a = curve.points[i];
                    const std::uint32_t b = curve.points[i + 1];
                    region.join(place(right_[h][b], curve.shares[i + 1]),
                                place(right_[h][a], curve.shares[i]));
                    region.join(placeLeft(left_[h][a], curve.shares[i]),
                                placeLeft(left_[h][b], curve.shares[i + 1]));
                }
            }
        }
        triangles_.clear();
        const std::vector<PlaneRegion::Vertex> unrolled = region.vertices;
        if (closely_) develop(*segment.segment, region, scale, l);
        triangulate(region, triangles_);
        widenAngles(region, step_ * scale, triangles_);
        if (closely_) leaveCurve(region, step_ * scale, onHole(pointOfVertex_), triangles_);
        std::copy(unrolled.begin(), unrolled.end(), region.vertices.begin());
        partFromWalls(*segment.segment, region, scale, l);
        for (const auto& t : triangles_)
            addTriangle(*segment.segment, pointOfVertex_[t[0]], pointOfVertex_[t[1]], pointOfVertex_[t[2]]);
        for (const std::uint32_t point : pointOfVertex_)
            stripVertexOf_[point] = kNoPoint;
    }

    /// Where surface and wall both bulge, both triangulations may contain the same chord of their common
    /// curve. Four triangles would then share an edge; a new point in its middle, on the surface, splits it.
    void partFromWalls(const Segment& segment, PlaneRegion& region, double scale, double segmentLength) {
        std::vector<std::array<std::uint32_t, 2>> shared;
        for (const auto& t : triangles_) {
            for (std::size_t k = 0; k < 3; ++k) {
                const std::uint32_t a = t[k];
                const std::uint32_t b = t[(k + 1) % 3];
                if (a < b && !isBorder(region, a, b) && isWallEdge(pointOfVertex_[a], pointOfVertex_[b]))
                    shared.push_back({a, b});
            }
        }
        for (const auto& [a, b] : shared) {
            const double share = (region.vertices[a].v + region.vertices[b].v) / 2 / segmentLength;
            const double angle = (region.vertices[a].u + region.vertices[b].u) / 2 / scale;
            const Vec2 place = pointAt(segment, share);
            const std::uint32_t point =
                addPoint({place.r * std::cos(angle), place.r * std::sin(angle), place.z}, angle);
            vertexOf_.push_back(kNoPoint);
            stripVertexOf_.push_back(kNoPoint);
            const std::uint32_t middle = region.add(0, 0);
            pointOfVertex_.push_back(point);
            const std::size_t count = triangles_.size();
            for (std::size_t i = 0; i < count; ++i) {
                for (std::size_t k = 0; k < 3; ++k) {
                    const auto t = triangles_[i];
                    const std::uint32_t p = t[k];
                    const std::uint32_t q = t[(k + 1) % 3];
                    if (!((p == a && q == b) || (p == b && q == a))) continue;
                    triangles_[i] = {p, middle, t[(k + 2) % 3]};
                    triangles_.push_back({middle, q, t[(k + 2) % 3]});
                    break;
                }
            }
        }
    }

    /// Lays a cone, or a face across the axis, flat without stretching it: a way that is straight there is a
    /// chord of the surface, and does not pass over its neighbours. Too wide a sector would lie on itself.
    void develop(const Segment& segment, PlaneRegion& region, double scale, double segmentLength) const {
        constexpr double kWidest = 3;    // radians
        constexpr double kLeast = 1e-3;  // a cone nearly a cylinder has its point too far away
        const double rise = segment.to.r - segment.from.r;
        const double sine = std::abs(rise) / segmentLength;
        if (segment.isArc() || closed_ || sine < kLeast || (sector_.to - sector_.from) * sine > kWidest)
            return;
        const double middle = (sector_.from + sector_.to) / 2;
        for (PlaneRegion::Vertex& vertex : region.vertices) {
            const double radius = (segment.from.r + rise * vertex.v / segmentLength) / sine;
            const double angle = (vertex.u / scale - middle) * sine;
            vertex.u = radius * std::sin(angle);
            vertex.v = (rise > 0 ? radius : -radius) * std::cos(angle);
        }
    }

    std::vector<bool> onHole(const std::vector<std::uint32_t>& points) const {
        std::vector<bool> result;
        result.reserve(points.size());
        for (const std::uint32_t point : points)
            result.push_back(point >= 2 * rowCount_ && point - 2 * rowCount_ < holePoints_.size());
        return result;
    }

    static bool isBorder(const PlaneRegion& region, std::uint32_t a, std::uint32_t b) {
        return region.vertices[a].next == b || region.vertices[b].next == a;
    }

    bool isWallEdge(std::uint32_t a, std::uint32_t b) const {
        const std::uint32_t first = 2 * rowCount_;
        if (a < first || b < first || a - first >= holePoints_.size() || b - first >= holePoints_.size())
            return false;
        const HolePoint& p = holePoints_[a - first];
        const HolePoint& q = holePoints_[b - first];
        if (p.hole != q.hole || (p.isLeft != q.isLeft && !p.isMiddle && !q.isMiddle)) return false;
        return hasChord(*holes_[p.hole].cut, p.number, q.number);
    }

    std::vector<SectorFace> makeWalls(std::size_t h) {
        const SectorHole& hole = holes_[h];
        const double c = std::cos(hole.angle);
        const double s = std::sin(hole.angle);
        std::vector<SectorFace> faces;
        for (std::size_t k = 0; k < hole.cut->walls.size(); ++k) {
            SectorFace face;
            face.triangles.reserve(2 * hole.cut->walls[k].size());
            for (const bool mirrored : {false, true}) {
                vertexOf_.assign(hole.cut->points.size(), kNoPoint);
                for (const auto& t : hole.cut->walls[k]) {
                    std::array<std::uint32_t, 3> triangle{};
                    for (std::size_t j = 0; j < 3; ++j) {
                        const std::uint32_t point = t[mirrored ? 2 - j : j];
                        if (vertexOf_[point] == kNoPoint) {
                            vertexOf_[point] = static_cast<std::uint32_t>(face.points.size());
                            face.points.push_back((mirrored ? left_ : right_)[h][point]);
                            Vec3 n = wallNormal(*hole.profile, k, hole.cut->points[point]);
                            if (mirrored) n.y = -n.y;
                            face.normals.push_back(turned(n, c, s));
                        }
                        triangle[j] = vertexOf_[point];
                    }
                    face.triangles.push_back(triangle);
                }
            }
            faces.push_back(std::move(face));
        }
        return faces;
    }

    /// Towards the hole's axis, or up from a flat; in the hole's frame.
    static Vec3 wallNormal(const HoleProfile& profile, std::size_t number, const Vec3& p) {
        const HolePiece& piece = profile.pieces[number];
        if (piece.isFlat()) return {1, 0, 0};
        const double zeta = p.z - profile.offset;
        const double radius = std::sqrt(p.y * p.y + zeta * zeta);
        if (radius == 0) return {1, 0, 0};
        const double slope = piece.isCylinder() ? 0 : (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
        const double slant = 1 / std::sqrt(1 + slope * slope);
        return {slope * slant, -slant * p.y / radius, -slant * zeta / radius};
    }

    const SectionRows& rows_;
    std::vector<SectorHole> holes_;
    double step_;
    bool closely_;
    std::uint32_t rowCount_;
    bool closed_ = false;  ///< a whole turn
    Sector sector_;
    std::vector<double> angles_;  ///< of the sector's own points
    std::vector<std::vector<std::uint32_t>> right_,
        left_;                           ///< points of each hole's cut, and their mirror images
    std::vector<HolePoint> holePoints_;  ///< of the sector's first points
    std::vector<RowPoints> rowPoints_;
    SectorFace face_;
    Vec2 straightNormal_;  ///< of the segment in hand where it is a line
    std::vector<std::uint32_t> vertexOf_, stripVertexOf_, pointOfVertex_;
    PlaneRegion region_;  ///< of the strip in hand
    std::vector<std::array<std::uint32_t, 3>> triangles_;
};

}  // namespace

Sector makeSector(const SectionRows& rows, std::vector<SectorHole> holes, double from, double to, double step,
                  bool closely) {
    return SectorBuilder(rows, std::move(holes), from, to, step, closely).run();
}

}  // namespace bandwright::geometry
