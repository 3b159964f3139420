#include "resize.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "findings.hpp"
#include "measure.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::check {

namespace {

constexpr double kSame = 1e-6;

/// A gauge that ends an opening: it is go in the ring as it is and not in the opened one, or is not go and
/// stands worse.
struct RoomEnd {
    const Finding* finding;  ///< of the opened ring
    double boundary;         ///< the value up to which it would not
};

std::vector<RoomEnd> endsOf(const Report& asItIs, const Report& now) {
    std::vector<RoomEnd> result;
    for (const Finding& f : now.findings) {
        const Finding* before = findingAt(asItIs, f.rule, now.measures[f.measure].id);
        if (before == nullptr || before->verdict == Verdict::Go) {
            if (f.verdict > Verdict::Go) result.push_back({&f, f.comfortable});
        } else if (const double was = valueOf(asItIs, *before);
                   goodDirection(f.sense) * (valueOf(now, f) - was) < -kSame) {
            result.push_back({&f, was});
        }
    }
    return result;
}

/// Between an opening at which every gauge says the same and one at which some do not.
class Search {
  public:
    Search(const design::Design& design, const Judging& judging) : design_(design), judging_(judging) {
        const design::Band& band = design.band;
        tooFar_ = band.liner ? std::min(band.liner->thickness, band.thickness) : band.thickness;
        asItIs_ = judging(design);
    }

    Measure room() {
        constexpr double kClose = 1e-4;  // mm, a small part of the hundredth of a size that is told
        constexpr int kMost = 24, kGuesses = 8;
        if (asItIs_) good_ = *asItIs_;
        for (int i = 0; asItIs_ && i < kMost && tooFar_ - room_ > kClose; ++i) {
            const double middle = (room_ + tooFar_) / 2;
            const bool reached = tryOpening(i < kGuesses ? guess().value_or(middle) : middle);
            if (reached) break;
        }
        return told();
    }

  private:
    /// Whether the opening is as far as it goes: the gauge that ends it stands at its boundary.
    bool tryOpening(double by) {
        std::optional<Report> now = judging_(opened(design_, by));
        if (!now) {
            bad_.reset();
            tooFar_ = by;
            return false;
        }
        if (!endsOf(*asItIs_, *now).empty()) {
            bad_ = std::move(now);
            tooFar_ = by;
            return false;
        }
        for (const Gauge& gauge : ended_) {
            const Finding* f = findingAt(*now, gauge.rule, gauge.measure);
            if (f != nullptr && std::abs(valueOf(*now, *f) - gauge.boundary) < kAtBoundary) last_ = gauge;
        }
        good_ = std::move(*now);
        room_ = by;
        return last_.has_value();
    }

    /// Where the first gauge would reach its boundary, if the values changed evenly on the way; at first, the
    /// thickness that may go if nothing but the wall counts.
    std::optional<double> guess() {
        if (!bad_) return std::nullopt;
        ended_.clear();
        std::optional<double> nearest;
        for (const RoomEnd& stop : endsOf(*asItIs_, *bad_)) {
            const std::string& id = bad_->measures[stop.finding->measure].id;
            const Finding* before = findingAt(good_, stop.finding->rule, id);
            if (before == nullptr) continue;
            const double from = valueOf(good_, *before), to = valueOf(*bad_, *stop.finding);
            if (std::abs(from - stop.boundary) < kAtBoundary) continue;  // it stays there for a while
            ended_.push_back({stop.finding->rule, id, stop.boundary});
            const double at = room_ + (stop.boundary - from) / (to - from) * (tooFar_ - room_);
            if (at > room_ && at < tooFar_ && (!nearest || at < *nearest)) nearest = at;
        }
        return nearest;
    }

    Measure told() const {
        Measure m = place();
        m.id = "resize-room";
        m.label = "Room to open the bore later";
        m.stage = design::Stage::Finished;
        m.unit = "US sizes";
        m.value = std::floor(2 * room_ / trade::kMmPerUsSize * kTold + kAtBoundary) / kTold;
        return m;
    }

    /// Of the gauge that ends it, in the ring as it is; the bore where no gauge does.
    Measure place() const {
        std::optional<Gauge> gauge = last_;
        if (!gauge && bad_) {
            const std::vector<RoomEnd> ends = endsOf(*asItIs_, *bad_);
            if (!ends.empty())
                gauge = {ends.front().finding->rule, bad_->measures[ends.front().finding->measure].id, 0};
        }
        const Finding* here = gauge ? findingAt(*asItIs_, gauge->rule, gauge->measure) : nullptr;
        if (here != nullptr) return asItIs_->measures[here->measure];
        Measure m;
        const double bore = design::boreRadius(design_);
        m.from = m.to = placed({0, bore}, angleAwayFromHoles(design_));
        m.fromTag = m.toTag = geometry::Tag{geometry::Feature::Bore};
        return m;
    }

    static constexpr double kAtBoundary = 2e-6, kTold = 100;

    /// A gauge that ended an opening, and the value up to which it would not.
    struct Gauge {
        std::string rule, measure;
        double boundary;
    };

    const design::Design& design_;
    const Judging& judging_;
    std::optional<Report> asItIs_, bad_;
    Report good_;  ///< at room_
    double room_ = 0, tooFar_ = 0;
    std::vector<Gauge> ended_;   ///< the last opening that went too far
    std::optional<Gauge> last_;  ///< found at its boundary
};

}  // namespace

design::Design opened(const design::Design& design, double by) {
    design::Design result = design;
    result.finger.size = {trade::SizeSystem::Diameter,
                          2 * (design::boreRadius(design) + by) - design.finger.widthCorrection};
    result.band.thickness -= by;
    if (result.band.liner) result.band.liner->thickness -= by;
    return result;
}

Measure resizeRoom(const design::Design& design, const Judging& judging) {
    return Search(design, judging).room();
}

}  // namespace bandwright::check
