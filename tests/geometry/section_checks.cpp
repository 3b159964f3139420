#include "section_checks.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "arc.hpp"

namespace bandwright::geometry {

namespace {

/// Ends of neighbours and of arcs may differ by as much as tidying up moves them, mm.
constexpr double kSlack = 4e-6;

std::string at(const Segment& s) {
    std::ostringstream text;
    text.precision(17);
    text << " at " << name(s.tag.feature) << " " << int{s.tag.owner} << " (" << s.from.z << ", " << s.from.r
         << ") to (" << s.to.z << ", " << s.to.r << ")";
    return text.str();
}

std::string segmentFlaw(const Segment& s) {
    for (const double value : {s.from.z, s.from.r, s.to.z, s.to.r, s.centre.z, s.centre.r, s.radius}) {
        if (!std::isfinite(value)) return "a number that is not finite" + at(s);
    }
    if (distance(s.from, s.to) < kLeastSegment && !(s.isArc() && std::abs(sweep(s)) > 1))
        return "a segment of no length" + at(s);
    if (!s.isArc()) return {};
    for (const Vec2 end : {s.from, s.to}) {
        if (std::abs(distance(end, s.centre) - s.radius) > kSlack) return "an arc beside its own end" + at(s);
    }
    return {};
}

/// Whether two segments meet elsewhere than in an end they share.
bool meets(const Segment& a, const Segment& b) {
    const Crossings found = crossings(a, b);
    return std::any_of(found.begin(), found.end(), [&](const Crossing& c) {
        const auto isEnd = [&](Vec2 p) { return distance(p, c.point) < kSlack; };
        const bool shared = ((isEnd(a.from) && (a.from == b.to || a.from == b.from)) ||
                             (isEnd(a.to) && (a.to == b.from || a.to == b.to)));
        return !shared;
    });
}

}  // namespace

std::string flaw(const Section& section) {
    for (std::size_t i = 0; i < section.size(); ++i) {
        const Loop& loop = section[i];
        if (loop.size() < 2) return "a loop of one segment";
        for (std::size_t j = 0; j < loop.size(); ++j) {
            if (std::string wrong = segmentFlaw(loop[j]); !wrong.empty()) return wrong;
            if (!(loop[j].to == loop[(j + 1) % loop.size()].from)) return "a gap" + at(loop[j]);
            const Vec2 out = tangentAt(loop[j], 1);
            const Vec2 on = tangentAt(loop[(j + 1) % loop.size()], 0);
            const bool lines = !loop[j].isArc() && !loop[(j + 1) % loop.size()].isArc();
            if (lines && dot(out, on) < 0 && std::abs(cross(out, on)) < 1e-7) return "a spike" + at(loop[j]);
        }
        for (std::size_t k = 0; k <= i; ++k) {
            for (const Segment& a : loop) {
                for (const Segment& b : section[k]) {
                    if (&a != &b && meets(a, b)) return "outlines that cross" + at(a) + at(b);
                }
            }
        }
        std::size_t around = 0;
        const Vec2 place = pointAt(loop.front(), 0.5);
        for (std::size_t k = 0; k < section.size(); ++k)
            around += k != i && contains({section[k]}, place) ? 1 : 0;
        const double enclosed = area({loop});
        if ((enclosed > 0) != (around % 2 == 0)) return "a loop that runs the wrong way round" + at(loop[0]);
        if (std::abs(enclosed) < kLeastSegment * kLeastSegment) return "a loop of no area" + at(loop[0]);
    }
    return {};
}

const Segment* find(const Section& section, Tag tag) {
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            if (s.tag == tag) return &s;
        }
    }
    return nullptr;
}

Section disc(Vec2 centre, double radius, Feature feature) {
    const Vec2 right = centre + Vec2{radius, 0};
    const Vec2 left = centre - Vec2{radius, 0};
    return {{arcBySagitta(left, right, radius, {feature}), arcBySagitta(right, left, radius, {feature})}};
}

double area(const Section& section) {
    return section.empty() ? 0 : properties(section).area;
}

Section mirrored(const Section& section) {
    Section result;
    for (const Loop& loop : section) {
        Loop turned;
        for (auto s = loop.rbegin(); s != loop.rend(); ++s) {
            Segment t = reversed(*s);
            for (Vec2* p : {&t.from, &t.to, &t.centre})
                p->z = -p->z;
            t.ccw = s->ccw;
            turned.push_back(t);
        }
        result.push_back(std::move(turned));
    }
    return result;
}

bool sameGround(const Section& a, const Section& b, double within) {
    const double areaA = area(a);
    const double areaB = area(b);
    if (std::abs(areaA - areaB) > within) return false;
    if (a.empty() || b.empty()) return true;
    const SectionProperties p = properties(a);
    const SectionProperties q = properties(b);
    return std::abs(p.area * p.centroid.z - q.area * q.centroid.z) <= 30 * within &&
           std::abs(p.area * p.centroid.r - q.area * q.centroid.r) <= 30 * within;
}

}  // namespace bandwright::geometry
