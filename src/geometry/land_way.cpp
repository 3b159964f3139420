#include "land_way.hpp"

#include <algorithm>
#include <array>

namespace bandwright::geometry {

namespace {

double radiusOf(const Vec3& p) {
    return planeNorm(p.x, p.y);
}

constexpr double kAtEnd = 1e-9;  ///< shares of a way nearer to each other are one

/// Where on the way, between two shares, it comes nearest to a branch.
double nearestShare(const Way& way, const Branch& branch, double sign, double from, double to) {
    const Vec3 step = way.to - way.from;
    const double run = square(step.x) + square(step.y);
    const auto margin = [&](double t) {
        const Vec3 p = way.at(t);
        return sign * (radiusOf(p) - branch.at(p.z));
    };
    // What is convex all through has its least where the derivative changes its sign; else try some places.
    constexpr int kTries = 4;
    std::array<double, kTries + 1> at{};
    std::size_t least = 0;
    for (std::size_t i = 0; i <= kTries; ++i) {
        at[i] = margin(from + (to - from) * static_cast<double>(i) / kTries);
        if (at[i] < at[least]) least = i;
    }
    const double width = (to - from) / kTries;
    const double middle = from + width * static_cast<double>(least);
    double low = std::max(from, middle - width), high = std::min(to, middle + width);
    double t = middle;
    for (int i = 0; i < 30; ++i) {
        const Vec3 p = way.at(t);
        const double r = radiusOf(p);
        const double along = (p.x * step.x + p.y * step.y) / r;
        const double first = sign * (along - branch.slopeAt(p.z) * step.z);
        const double second = sign * ((run - square(along)) / r - branch.bendAt(p.z) * square(step.z));
        (first > 0 ? high : low) = t;
        double next = second > 0 ? t - first / second : (low + high) / 2;
        if (!(next >= low && next <= high)) next = (low + high) / 2;
        if (std::abs(next - t) < 1e-11) return next;
        t = next;
    }
    return t;
}

double scaleAt(double share) {
    return 1 / (4 * share * (1 - share));
}

double nearestScaled(const Way& way, const Branch& high, double from, double to) {
    const auto margin = [&](double t) {
        const Vec3 p = way.at(t);
        return scaleAt(t) * (high.at(p.z) - radiusOf(p));
    };
    constexpr int kTries = 8;
    int least = 0;
    double lowest = kNever;
    for (int i = 0; i <= kTries; ++i) {
        const double here = margin(from + (to - from) * i / kTries);
        if (here >= lowest) continue;
        lowest = here;
        least = i;
    }
    const double width = (to - from) / kTries, middle = from + width * least;
    const double t = lowestPlace(margin, std::max(from, middle - width), std::min(to, middle + width));
    return margin(t) < lowest ? t : middle;
}

}  // namespace

const LandCell& CellStack::nearest(double z, double r) const {
    const LandCell* best = &cells.front();
    double least = kNever;
    for (const LandCell& cell : cells) {
        const double off = std::max(cell.low.at(z) - r, r - cell.high.at(z));
        if (off >= least) continue;
        least = off;
        best = &cell;
    }
    return *best;
}

std::vector<CellStack> stacked(std::span<const LandCell> cells) {
    std::vector<CellStack> stacks;
    for (std::size_t i = 0, end = 0; i < cells.size(); i = end) {
        while (end < cells.size() && cells[end].from == cells[i].from)
            ++end;
        stacks.push_back({cells[i].from, cells[i].to, cells.subspan(i, end - i)});
    }
    return stacks;
}

Vec3 Nearness::gradient(const Way& way) const {
    const Vec3 p = way.at(share);
    const double r = radiusOf(p);
    return scale * signOf(bound) * Vec3{p.x / r, p.y / r, -slope};
}

LandMetal::LandMetal(std::span<const LandCell> inside, std::span<const LandCell> ends, bool onBoundary)
    : inside_(stacked(inside)), ends_(stacked(ends)), onBoundary_(onBoundary) {}

std::size_t LandMetal::stackAt(double z) const {
    std::size_t best = 0;
    double least = kNever;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
        const double off = std::max({0.0, ends_[i].from - z, z - ends_[i].to});
        if (off >= least) continue;
        least = off;
        best = i;
    }
    return best;
}

LandMetal::EndStretch LandMetal::stretchAt(const Vec3& end) const {
    const double r = radiusOf(end);
    const auto goesOn = [&](std::size_t i, double z) {
        const LandCell& cell = ends_[i].nearest(z, r);
        return r > cell.low.at(z) - kFilm && r < cell.high.at(z) + kFilm;
    };
    std::size_t first = stackAt(end.z), last = first;
    while (first > 0 && ends_[first].from - ends_[first - 1].to < kSamePoint &&
           goesOn(first - 1, ends_[first].from))
        --first;
    while (last + 1 < ends_.size() && ends_[last + 1].from - ends_[last].to < kSamePoint &&
           goesOn(last + 1, ends_[last].to))
        ++last;
    return {ends_[first].from, ends_[last].to};
}

void LandMetal::addEnd(const Way& way, double share, double reach, std::vector<Nearness>& result) const {
    const Vec3 p = way.at(share);
    const double r = radiusOf(p);
    const unsigned base = share == 0 ? 0 : 1;
    const auto add = [&](const LandCell& cell, std::size_t number, Bound bound) {
        const double sign = signOf(bound);
        const Branch& branch = branchOf(cell, bound);
        const double margin = sign * (r - branch.at(p.z));
        if (margin > reach) return;
        result.push_back({margin, share, branch.slopeAt(p.z), kNever, bound,
                          static_cast<unsigned>(8 * number) + 2 * base + (bound == Bound::Low ? 0U : 1U)});
    };
    const std::size_t at = stackAt(p.z);
    const CellStack& stack = ends_[at];
    const LandCell& cell = stack.nearest(std::clamp(p.z, stack.from, stack.to), r);
    for (const Bound bound : {Bound::Low, Bound::High})
        add(cell, at, bound);
    // Beyond a corner of the metal that points outwards the other side counts as well.
    constexpr double kNear = 0.1;  // mm
    for (const int side : {-1, 1}) {
        const double z = side < 0 ? stack.from : stack.to;
        const std::size_t next = at + static_cast<std::size_t>(side);
        if (std::abs(p.z - z) > kNear || next >= ends_.size()) continue;
        if (std::abs((side < 0 ? ends_[next].to : ends_[next].from) - z) > kSamePoint) continue;
        const LandCell& other = ends_[next].nearest(z, cell.high.at(z));
        for (const Bound bound : {Bound::Low, Bound::High}) {
            const Branch &here = branchOf(cell, bound), &there = branchOf(other, bound);
            const bool meets = std::abs(here.at(z) - there.at(z)) < kFilm;
            if (meets && side * signOf(bound) * (there.slopeAt(z) - here.slopeAt(z)) > 0)
                add(other, next, bound);
        }
    }
}

void LandMetal::addEnds(const Way& way, double reach, std::vector<Nearness>& result) const {
    addEnd(way, 0, reach, result);
    addEnd(way, 1, reach, result);
}

bool LandMetal::goesOn(std::size_t number, double corner, double r, const Branch& branch, Bound bound,
                       auto&& nearsWith) const {
    const bool before = inside_[number].from == corner;
    if (before ? number == 0 : number + 1 == inside_.size()) return false;
    const std::size_t next = before ? number - 1 : number + 1;
    const CellStack& stack = inside_[next];
    if (std::abs((before ? stack.to : stack.from) - corner) > kSamePoint) return false;
    const Branch& other = branchOf(stack.nearest(corner, r), bound);
    const double off = signOf(bound) * (other.at(corner) - branch.at(corner));
    if (std::abs(off) > kSamePoint) return off > 0;
    return nearsWith(other.slopeAt(corner)) || before;
}

void LandMetal::addBetween(const Way& way, double reach, std::vector<Nearness>& result) const {
    const Vec3 step = way.to - way.from;
    const double low = std::min(way.from.z, way.to.z), high = std::max(way.from.z, way.to.z);
    const double rise = radiusOf(step);
    for (std::size_t number = 0; number < inside_.size(); ++number) {
        const CellStack& stack = inside_[number];
        if (stack.to < low || stack.from > high) continue;
        double from = 0, to = 1;
        double atFrom = kNever, atTo = kNever;  // z of the corner there
        if (std::abs(step.z) > kSamePoint) {
            const double a = (stack.from - way.from.z) / step.z, b = (stack.to - way.from.z) / step.z;
            if (std::min(a, b) > -kAtEnd) {
                from = std::max(0.0, std::min(a, b));
                atFrom = a < b ? stack.from : stack.to;
            }
            if (std::max(a, b) < 1 + kAtEnd) {
                to = std::min(1.0, std::max(a, b));
                atTo = a < b ? stack.to : stack.from;
            }
        }
        if (to < from) continue;
        const Vec3 middle = way.at((from + to) / 2);
        const double r = radiusOf(middle);
        const LandCell& cell = stack.nearest(std::clamp(middle.z, stack.from, stack.to), r);
        for (const Bound bound : {Bound::Low, Bound::High}) {
            const Branch& branch = branchOf(cell, bound);
            const double sign = signOf(bound);
            if (bound == Bound::Low &&
                r - rise - std::max(branch.at(stack.from), branch.at(stack.to)) > reach)
                continue;
            constexpr double kMargin = 0.02;
            const double first = std::max(from, kMargin), last = std::min(to, 1 - kMargin);
            const bool scaled = onBoundary_ && bound == Bound::High && first < last;
            const double share =
                scaled ? nearestScaled(way, branch, first, last) : nearestShare(way, branch, sign, from, to);
            const double corner = share < from + kAtEnd ? atFrom : share > to - kAtEnd ? atTo : kNever;
            if ((share < kAtEnd || share > 1 - kAtEnd) && !std::isfinite(corner)) continue;
            const Vec3 p = way.at(share);
            const double scale = scaled ? scaleAt(share) : 1;
            const double margin =
                scale * sign * (radiusOf(p) - branch.at(std::clamp(p.z, stack.from, stack.to)));
            if (margin > reach) continue;
            const unsigned key =
                0x10000U + static_cast<unsigned>(8 * number) + (bound == Bound::Low ? 0U : 1U);
            Nearness found{margin, share, branch.slopeAt(p.z), kNever, bound, key, scale};
            if (std::isfinite(corner)) {
                const double run = (p.x * step.x + p.y * step.y) / radiusOf(p);
                const double onwards = (share < from + kAtEnd ? -1.0 : 1.0) * sign;
                if (goesOn(number, corner, radiusOf(p), branch, bound,
                           [&](double slope) { return onwards * (run - slope * step.z) < 0; }))
                    continue;
                found.corner = corner;
                found.slope = run / step.z;
                found.key += corner == stack.from ? 2 : 4;
            }
            result.push_back(found);
        }
    }
}

std::optional<Vec3> LandMetal::endOn(const WallPatch& patch) const {
    const double turn = (patch.from + patch.to) / 2;
    double share = 0.5;
    if (onBoundary_) {
        const auto isUnder = [&](double at) {
            const Vec3 p = patch.at(at, turn);
            return radiusOf(p) < ends_[stackAt(p.z)].cells.back().high.at(p.z);
        };
        double low = 0, high = 1;
        if (!isUnder(low) || isUnder(high)) return std::nullopt;
        for (int i = 0; i < 40; ++i) {
            share = (low + high) / 2;
            (isUnder(share) ? low : high) = share;
        }
    }
    const Vec3 end = patch.at(share, turn);
    if (outside({end, end}) > kSamePoint) return std::nullopt;
    return end;
}

double LandMetal::outside(const Way& way) const {
    for (const Vec3& end : {way.from, way.to}) {
        const EndStretch stretch = stretchAt(end);
        if (end.z < stretch.from - kSamePoint || end.z > stretch.to + kSamePoint) return kNever;
    }
    std::vector<Nearness> near;
    addEnds(way, 0, near);
    addBetween(way, 0, near);
    double worst = 0;
    for (const Nearness& n : near)
        worst = std::max(worst, -n.margin);
    return worst;
}

}  // namespace bandwright::geometry
