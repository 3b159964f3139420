#include "twin_land.hpp"

#include <algorithm>
#include <cmath>

namespace bandwright::geometry {

namespace {

/// One end of a land square to the plane y = 0. It is there where `margin`, mm, is not negative.
struct End {
    double m = 0, y = kNever, margin = -kNever;
};

/// The ways between two holes that mirror each other in y = 0; one end of each, on the hole at `half` radians
/// from there.
class Twins {
  public:
    Twins(const HoleProfile& profile, double half, double below)
        : profile_(profile), cosine_(std::cos(half)), sine_(std::sin(half)), best_(below / 2) {}

    void seekIn(const LandCell& cell, LandEnds ends) {
        for (const HolePiece& piece : profile_.pieces) {
            const double most = acrossNear(cell, piece.radius1);
            if (most < 0) continue;
            if (ends == LandEnds::AtOutside) {
                if (isMouth(cell.high)) seekOnHigh(cell, piece);
                continue;
            }
            const double lowest = std::min(cell.low.at(cell.from), cell.low.at(cell.to));
            if (piece.isFlat() || (lowest * sine_ - most) / cosine_ < best_) seekOnLow(cell, piece);
            if (!piece.isCylinder()) seekOnHigh(cell, piece);
            if (piece.x0 > 0) seekOnRim(cell, piece.x0, piece.radius0, piece.tag);
            if (!piece.isCylinder()) seekOnRim(cell, piece.x1, piece.radius1, piece.tag);
        }
    }

    bool found() const { return found_; }
    double value() const { return 2 * std::max(0.0, best_); }
    Vec3 end() const { return end_; }  ///< m, y, z
    Tag tag() const { return tag_; }

  private:
    /// Half the hole's width round the band where it is widest in the cell; negative where it does not reach.
    double acrossNear(const LandCell& cell, double radius) const {
        const double z = std::clamp(profile_.offset, cell.from, cell.to) - profile_.offset;
        const double within = square(radius) - square(z);
        return within > 0 ? std::sqrt(within) : -1;
    }

    /// The lowest end in the cell among those that are there.
    void seek(const LandCell& cell, Tag tag, double guess, auto&& endAt) {
        const auto isThere = [&](double z) { return endAt(z).margin >= kLeastMargin; };
        const auto offer = [&](double z) {
            const End end = endAt(z);
            if (!(end.margin >= kLeastMargin && end.y < best_)) return;
            best_ = end.y;
            // Past the middle of the pair the holes run into each other: told there, where both are open.
            end_ = end.y > 0 ? Vec3{end.m, end.y, z} : Vec3{planeNorm(end.m, end.y), 0, z};
            tag_ = tag;
            found_ = true;
        };
        /// The place nearest to `wanted` where there still is an end.
        const auto offerTowards = [&](double there, double wanted) {
            while (std::abs(wanted - there) > 1e-10) {
                const double middle = (there + wanted) / 2;
                (isThere(middle) ? there : wanted) = middle;
            }
            offer(there);
        };
        if (isThere(guess)) return offer(guess);
        bool any = false;
        for (const double z : {cell.from, cell.to}) {
            if (!isThere(z)) continue;
            any = true;
            offerTowards(z, guess);
        }
        if (any) return;
        const double likely = lowestPlace([&](double z) { return -endAt(z).margin; }, cell.from, cell.to);
        if (isThere(likely)) offerTowards(likely, guess);
    }
    void seek(const LandCell& cell, Tag tag, auto&& endAt) {
        seek(cell, tag, lowestPlace([&](double z) { return endAt(z).y; }, cell.from, cell.to), endAt);
    }

    /// Ways that touch the metal's lower side half-way.
    void seekOnLow(const LandCell& cell, const HolePiece& piece) {
        seek(cell, piece.tag, [&](double z) {
            const double m = cell.low.at(z);
            const double off = z - profile_.offset;
            End end{.m = m};
            double along = 0;
            if (piece.isFlat()) {
                end.y = (piece.x0 - m * cosine_) / sine_;
                const double radius = planeNorm(end.y * cosine_ - m * sine_, off);
                along = std::min(radius - piece.radius0, piece.radius1 - radius);
            } else {
                const double k = slopeOf(piece);
                const double radius = piece.radius0 + k * (m * cosine_ - piece.x0);
                const double a = square(cosine_) - square(k * sine_);
                const double b = m * sine_ * cosine_ + k * sine_ * radius;
                const double c = square(m * sine_) + square(off) - square(radius);
                const double root = square(b) - a * c;
                if (root < 0 || a <= 0) return End{};
                end.y = (b - std::sqrt(root)) / a;
                const double x = m * cosine_ + end.y * sine_;
                along = std::min(x - piece.x0, piece.x1 - x);
            }
            end.margin = std::min(along, cell.high.at(z) - planeNorm(m, end.y));
            return end;
        });
    }

    /// Ways that end where the metal ends outwards.
    void seekOnHigh(const LandCell& cell, const HolePiece& piece) {
        seek(cell, piece.tag, [&](double z) {
            const double high = cell.high.at(z);
            const double off = z - profile_.offset;
            double x = piece.x0;
            double across = square(high) - square(x);
            double along = 0;
            if (piece.isFlat()) {
                const double radius = std::sqrt(std::max(0.0, across + square(off)));
                along = std::min(radius - piece.radius0, piece.radius1 - radius);
            } else {
                const double k = slopeOf(piece);
                const double foot = piece.radius0 - k * piece.x0;
                const double a = 1 + square(k);
                const double root = square(k * foot) - a * (square(foot) - square(off) - square(high));
                if (root < 0) return End{};
                x = (std::sqrt(root) - k * foot) / a;
                across = square(foot + k * x) - square(off);
                along = std::min(x - piece.x0, piece.x1 - x);
            }
            if (across < 0) return End{};
            const double c = std::sqrt(across);
            const double m = x * cosine_ + c * sine_;
            return End{m, x * sine_ - c * cosine_, std::min(along, m - cell.low.at(z))};
        });
    }

    /// Ways that end on the circle where two pieces of the hole meet.
    void seekOnRim(const LandCell& cell, double x, double radius, Tag tag) {
        const double most = acrossNear(cell, radius);
        if (most < 0 || x * sine_ - most * cosine_ >= best_) return;
        seek(cell, tag, std::clamp(profile_.offset, cell.from, cell.to), [&](double z) {
            const double c = std::sqrt(std::max(0.0, square(radius) - square(z - profile_.offset)));
            const double m = x * cosine_ + c * sine_;
            const double y = x * sine_ - c * cosine_;
            return End{m, y, std::min(m - cell.low.at(z), cell.high.at(z) - planeNorm(m, y))};
        });
    }

    const HoleProfile& profile_;
    double cosine_, sine_;
    double best_;
    bool found_ = false;
    Vec3 end_;
    Tag tag_;
};

}  // namespace

std::optional<TwinLand> twinLand(const HoleProfile& profile, double half, std::span<const LandCell> cells,
                                 LandEnds ends, double below) {
    Twins twins(profile, half, below);
    for (const LandCell& cell : cells)
        twins.seekIn(cell, ends);
    if (!twins.found()) return std::nullopt;
    return TwinLand{twins.value(), twins.end(), twins.tag()};
}

}  // namespace bandwright::geometry
