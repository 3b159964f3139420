#include "geometry/hole.hpp"
#include "arithmetic.hpp"
#include "geometry/tolerance.hpp"

#include <algorithm>
#include <cmath>

namespace bandwright::geometry {

namespace {

Feature floorOf(const design::HoleStep& step) {
    return step.bearing > 0 ? Feature::Bearing : Feature::Ledge;
}

}  // namespace

double drillPoint(const design::Hole& hole) {
    const double radius = hole.pilotDiameter / 2;
    switch (hole.bottom) {
        case design::HoleBottom::Drill118:
            return radius / std::tan(radians(118) / 2);
        case design::HoleBottom::Drill135:
            return radius / std::tan(radians(135) / 2);
        case design::HoleBottom::Through:
        case design::HoleBottom::Flat:
            break;
    }
    return 0;
}

double bearingRise(const design::HoleStep& step, double below) {
    return (step.diameter - below) / 2 * std::tan(radians(step.bearing));
}

HoleSeat seatOf(const design::Hole& hole, std::size_t setting) {
    const double mouth =
        (hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter) + hole.countersink;
    if (hole.steps.empty()) {
        return {hole.pilotDiameter,        hole.pilotDepth,
                hole.pilotDiameter,        mouth,
                {Feature::Pilot, setting}, {Feature::HoleBottom, setting}};
    }
    const std::size_t last = hole.steps.size() - 1;
    const design::HoleStep& step = hole.steps[last];
    return {step.diameter,
            step.depth,
            last > 0 ? hole.steps[last - 1].diameter : hole.pilotDiameter,
            mouth,
            {Feature::Seat, setting, Side::None, last},
            {floorOf(step), setting, Side::None, last}};
}

HoleProfile holeProfile(const design::Hole& hole, double offset, double outside, double reach,
                        std::size_t setting) {
    HoleProfile profile{.offset = offset, .pieces = {}};
    const double pilot = hole.pilotDiameter / 2;
    double x = 0;
    double radius = pilot;
    const auto add = [&](double toX, double toRadius, Tag tag) {
        profile.pieces.push_back({x, radius, toX, toRadius, tag});
        x = toX;
        radius = toRadius;
    };
    if (hole.bottom != design::HoleBottom::Through) {
        const double end = outside - hole.pilotDepth;
        x = end - drillPoint(hole);
        radius = 0;
        add(end, pilot, {Feature::HoleBottom, setting});
    }
    Tag side{Feature::Pilot, setting};
    for (std::size_t i = 0; i < hole.steps.size(); ++i) {
        const design::HoleStep& step = hole.steps[i];
        add(outside - step.depth - bearingRise(step, 2 * radius), radius, side);
        add(outside - step.depth, step.diameter / 2, {floorOf(step), setting, Side::None, i});
        side = {Feature::Seat, setting, Side::None, i};
    }
    if (hole.countersink > 0) {
        // 90 degrees in all: as much deeper as it is wider on the radius.
        add(outside - hole.countersink / 2, radius, side);
        add(reach, radius + reach - x, {Feature::Countersink, setting});
    } else {
        add(reach, radius, side);
    }
    return profile;
}

Section meridian(const HoleProfile& profile) {
    Loop loop;
    const auto at = [&](double side, double radius, double x) {
        return Vec2{profile.offset + side * radius, x};
    };
    const auto add = [&](Vec2 from, Vec2 to, Tag tag) {
        if (!(from == to)) loop.push_back(line(from, to, tag));
    };
    const HolePiece& first = profile.pieces.front();
    const HolePiece& last = profile.pieces.back();
    add(at(-1, first.radius0, first.x0), at(1, first.radius0, first.x0), first.tag);
    for (const HolePiece& p : profile.pieces)
        add(at(1, p.radius0, p.x0), at(1, p.radius1, p.x1), p.tag);
    add(at(1, last.radius1, last.x1), at(-1, last.radius1, last.x1), last.tag);
    for (auto p = profile.pieces.rbegin(); p != profile.pieces.rend(); ++p) {
        add(at(-1, p->radius1, p->x1), at(-1, p->radius0, p->x0), p->tag);
    }
    return {loop};
}

HoleProfile nudged(const HoleProfile& profile, int step) {
    // Wider and deeper, to cut away a film of no thickness between hole and channel.
    const double wider = holeWidening(step);
    const double deeper = holeDeepening(step);
    HoleProfile result = profile;
    for (HolePiece& p : result.pieces) {
        const bool point = p.radius0 == 0;
        p.radius0 += point ? 0 : wider;
        p.radius1 += wider;
        p.x0 -= p.x0 > 0 ? deeper : 0;
        p.x1 -= deeper;
    }
    return result;
}

}  // namespace bandwright::geometry
