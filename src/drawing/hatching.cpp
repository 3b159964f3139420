#include "drawing/hatching.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bandwright::drawing {

namespace {

/// A piece of an outline along which the level only rises or only falls, so a line cuts it at most once.
struct Stretch {
    double from = 0, to = 0;             ///< levels of its ends
    double alongFrom = 0, alongTo = 0;   ///< of a line's ends
    double centre = 0, alongCentre = 0;  ///< of an arc
    double radius = 0, side = 0;         ///< of an arc: its half before (-1) or beyond (1) the centre
    geometry::Tag tag;

    /// Ends count by the same rule for both neighbours. A line through a corner then crosses once, twice or
    /// not at all, but never enters without leaving.
    bool isCutAt(double level) const { return (from < level) != (to < level); }
    double alongAt(double level) const {
        if (radius == 0) return alongFrom + (level - from) / (to - from) * (alongTo - alongFrom);
        const double off = level - centre;
        return alongCentre + side * std::sqrt(std::max(0.0, radius * radius - off * off));
    }
};

/// The outlines in a frame turned so that the hatching lines are its levels.
class Outlines {
  public:
    Outlines(const geometry::Section& section, geometry::Vec2 direction)
        : direction_(direction), normal_{-direction.r, direction.z} {
        for (const geometry::Loop& loop : section) {
            for (const geometry::Segment& segment : loop)
                segment.isArc() ? addArc(segment) : addLine(segment);
        }
    }

    double least() const { return least_; }
    double most() const { return most_; }

    void cuts(double level, std::vector<LineCut>& found) const {
        found.clear();
        for (const Stretch& stretch : stretches_) {
            if (stretch.isCutAt(level)) found.push_back({stretch.alongAt(level), stretch.tag});
        }
        std::ranges::stable_sort(found, {}, &LineCut::along);
    }

  private:
    double along(geometry::Vec2 p) const { return geometry::dot(p, direction_); }
    double level(geometry::Vec2 p) const { return geometry::dot(p, normal_); }

    void add(const Stretch& stretch) {
        least_ = std::min({least_, stretch.from, stretch.to});
        most_ = std::max({most_, stretch.from, stretch.to});
        stretches_.push_back(stretch);
    }

    void addLine(const geometry::Segment& s) {
        Stretch stretch{.from = level(s.from), .to = level(s.to), .tag = s.tag};
        stretch.alongFrom = along(s.from);
        stretch.alongTo = along(s.to);
        add(stretch);
    }

    /// The arc is split where it runs parallel to the lines: there its radius is square to them.
    void addArc(const geometry::Segment& s) {
        constexpr double kPi = std::numbers::pi;
        const geometry::Vec2 out = s.from - s.centre;
        const double way = s.ccw ? 1 : -1;
        const double start = std::atan2(level(out), along(out));
        const double end = start + way * geometry::arcLength(s) / s.radius;
        Stretch stretch{.from = level(s.from), .tag = s.tag};
        stretch.centre = level(s.centre);
        stretch.alongCentre = along(s.centre);
        stretch.radius = s.radius;
        double angle = start;
        double k = s.ccw ? std::floor(start / kPi - 0.5) + 1 : std::ceil(start / kPi - 0.5) - 1;
        for (bool last = false; !last; k += way) {
            const double turning = (k + 0.5) * kPi;
            last = way * (turning - end) >= 0;
            const double next = last ? end : turning;
            stretch.to = last ? level(s.to) : stretch.centre + s.radius * std::sin(turning);
            stretch.side = std::cos((angle + next) / 2) < 0 ? -1 : 1;
            add(stretch);
            stretch.from = stretch.to;
            angle = next;
        }
    }

    geometry::Vec2 direction_, normal_;
    std::vector<Stretch> stretches_;
    double least_ = std::numeric_limits<double>::infinity(), most_ = -least_;
};

}  // namespace

std::vector<LineCut> cutsAlong(const geometry::Section& section, geometry::Vec2 direction, double level) {
    std::vector<LineCut> found;
    Outlines(section, direction).cuts(level, found);
    return found;
}

std::vector<geometry::Segment> hatching(const geometry::Section& section, double degrees, double spacing) {
    const double angle = degrees * std::numbers::pi / 180;
    const geometry::Vec2 direction{std::cos(angle), std::sin(angle)};
    const Outlines outlines(section, direction);
    std::vector<geometry::Segment> lines;
    std::vector<LineCut> cuts;
    for (double k = std::ceil(outlines.least() / spacing - 0.5); (k + 0.5) * spacing < outlines.most(); ++k) {
        const double level = (k + 0.5) * spacing;
        const auto at = [&](double along) {
            return along * direction + level * geometry::Vec2{-direction.r, direction.z};
        };
        outlines.cuts(level, cuts);
        for (std::size_t i = 0; i + 1 < cuts.size(); i += 2) {
            if (cuts[i].along < cuts[i + 1].along)
                lines.push_back(geometry::line(at(cuts[i].along), at(cuts[i + 1].along), {}));
        }
    }
    return lines;
}

HatchStyle hatchStyle(geometry::PartRole role) {
    switch (role) {
        case geometry::PartRole::Band:
            return {45, 1};
        case geometry::PartRole::Liner:
            return {135, 0.65};
        case geometry::PartRole::Fill:
            return {150, 0.8};
        case geometry::PartRole::Tube:
            return {120, 0.6};
        case geometry::PartRole::Stone:
            break;  // clear
    }
    return {};
}

}  // namespace bandwright::drawing
