#include "check/mend.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "findings.hpp"
#include "handle.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

constexpr int kMostRounds = 24;
constexpr int kMostPairs = 4;         ///< times that two numbers are tried at once, the slowest search
constexpr std::size_t kInPairs = 12;  ///< handles that are then tried, of the worst findings

/// How bad a ring is: nothing without a no-go.
double badness(const Report& report) {
    constexpr double kEach = 0.05, kMostStanding = 2;  // one that is far out does not hide the others
    double sum = 0;
    for (const Finding& f : report.findings) {
        if (f.verdict == Verdict::NoGo) sum += kEach + std::min(kMostStanding, -standing(report, f));
    }
    return sum;
}

bool hasNoGo(const Report& report) {
    return report.verdict == Verdict::NoGo;
}

/// A handle and the rule it is turned for.
struct Turn {
    Handle handle;
    std::string rule;
};

struct Step {
    Turn turn;
    double to = 0;
    design::Design design;
    Report report;
    double bad = 0;
};

class Mender {
  public:
    Mender(const design::Design& design, const trade::Catalogue& catalogue,
           const std::vector<std::string>& locked)
        : catalogue_(catalogue), locked_(locked), original_(design), now_{design, {}, judged(design)} {}

    Mended mended() {
        for (int round = 0; round < kMostRounds && hasNoGo(now_.report); ++round) {
            std::optional<Step> step = bestOf(turns(), now_.design, 2);
            if (!step || step->bad >= badness(now_.report)) step = bestPair();
            if (!step || step->bad >= badness(now_.report)) break;
            take(std::move(*step));
        }
        if (!hasNoGo(now_.report)) turnBack();
        std::erase_if(now_.changes, [](const Mending& m) { return m.change.from == m.change.to; });
        return std::move(now_);
    }

  private:
    Report judged(const design::Design& design) const {
        return check(design, catalogue_, {.remedies = false});
    }

    std::optional<Step> tried(const Turn& turn, double to, const design::Design& from) const {
        Step step{turn, to, from, {}, 0};
        *design::numberAt(step.design, turn.handle.field.path) = to;
        try {
            design::requireValid(step.design);
            step.report = judged(step.design);
        } catch (const base::InputError&) {
            return std::nullopt;
        }
        step.bad = badness(step.report);
        return step;
    }

    bool isLocked(const std::string& field) const {
        return std::ranges::any_of(locked_,
                                   [&](const std::string& lock) { return design::covers(lock, field); });
    }

    /// The handles that may help the no-go findings, each once.
    std::vector<Turn> turns() const {
        std::vector<Turn> result;
        for (const Finding& f : now_.report.findings) {
            if (f.verdict != Verdict::NoGo) break;  // worst first
            for (const Lever& lever : ruleNamed(f.rule)->levers) {
                const auto at = handle(lever, now_.design, now_.report.measures[f.measure]);
                if (!at || isLocked(at->field.path)) continue;
                const bool known = std::ranges::any_of(result, [&](const Turn& t) {
                    return t.handle.field.path == at->field.path && t.handle.direction == at->direction;
                });
                if (!known) result.push_back({*at, f.rule});
            }
        }
        return result;
    }

    /// The turn that leaves the ring least bad; among equals, the one with the fewest steps.
    std::optional<Step> bestOf(const std::vector<Turn>& turns, const design::Design& from, int growth) const {
        std::optional<Step> best;
        int fewest = 0;
        for (const Turn& turn : turns) {
            const double* number = design::numberAt(from, turn.handle.field.path);
            for (int steps = 1; steps <= kMostSteps; steps *= growth) {
                std::optional<Step> step = tried(turn, moved(*number, turn.handle, steps), from);
                if (!step) break;
                constexpr double kSame = 1e-9;
                if (best && step->bad > best->bad - kSame &&
                    (step->bad > best->bad + kSame || steps >= fewest))
                    continue;
                best = std::move(step);
                fewest = steps;
                if (best->bad == 0) break;
            }
        }
        return best;
    }

    /// Where no single number helps: turns two, trying the second for each of a few sizes of the first.
    std::optional<Step> bestPair() {
        if (++pairs_ > kMostPairs) return std::nullopt;
        std::vector<Turn> all = turns();
        if (all.size() > kInPairs) all.resize(kInPairs);
        std::optional<Step> best, first;
        for (const Turn& turn : all) {
            for (const int steps : {8, 64}) {
                const double from = *design::numberAt(now_.design, turn.handle.field.path);
                std::optional<Step> one = tried(turn, moved(from, turn.handle, steps), now_.design);
                if (!one) break;
                std::optional<Step> two = bestOf(all, one->design, 4);
                if (!two || (best && two->bad >= best->bad)) continue;
                best = std::move(two);
                first = std::move(one);
                if (best->bad == 0) break;
            }
        }
        if (best && best->bad < badness(now_.report)) take(std::move(*first));
        return best;
    }

    void take(Step step) {
        const std::string& field = step.turn.handle.field.path;
        const auto known =
            std::ranges::find_if(now_.changes, [&](const Mending& m) { return m.change.field == field; });
        if (known != now_.changes.end()) {
            known->change.to = step.to;
        } else {
            now_.changes.push_back({{field, *design::numberAt(original_, field), step.to},
                                    step.turn.handle.field.phrase,
                                    step.turn.rule});
        }
        now_.design = std::move(step.design);
        now_.report = std::move(step.report);
    }

    /// Turns each number back as far as it can be without a no-go, by halving.
    void turnBack() {
        for (Mending& mending : now_.changes) {
            Change& change = mending.change;
            const int direction = change.to > change.from ? 1 : -1;
            const Turn turn{{*design::fieldAt(now_.design, change.field), direction}, mending.rule};
            const double grid = turn.handle.field.number.grid;
            if (std::optional<Step> whole = tried(turn, change.from, now_.design); whole && whole->bad == 0) {
                keep(change, std::move(*whole));
                continue;
            }
            int below = 0;
            int above = static_cast<int>(std::lround(std::abs(change.to - change.from) / grid)) + 1;
            while (above - below > 1) {
                const int middle = (above + below) / 2;
                std::optional<Step> step = tried(turn, moved(change.from, turn.handle, middle), now_.design);
                if (step && step->bad == 0) {
                    above = middle;
                    keep(change, std::move(*step));
                } else {
                    below = middle;
                }
            }
        }
    }

    void keep(Change& change, Step step) {
        change.to = step.to;
        now_.design = std::move(step.design);
        now_.report = std::move(step.report);
    }

    const trade::Catalogue& catalogue_;
    const std::vector<std::string>& locked_;
    const design::Design& original_;
    Mended now_;
    int pairs_ = 0;
};

void requireLocks(const design::Design& design, const std::vector<std::string>& locked) {
    // A design without stones or channels has none to lock.
    const std::vector<design::DesignNumber> numbers = design::numbersIn(design::withOneOfEach(design));
    for (const std::string& lock : locked) {
        const bool known = std::ranges::any_of(
            numbers, [&](const design::DesignNumber& n) { return design::covers(lock, n.path); });
        if (known) continue;
        std::vector<std::string> paths;
        paths.reserve(numbers.size());
        for (const design::DesignNumber& n : numbers)
            paths.push_back(design::withoutPlaces(n.path));
        const auto near = base::nearestNames(lock, {paths.begin(), paths.end()}, 3);
        throw base::InputError("there is no number " + base::inQuotes(lock) + " to lock" +
                               (near.empty() ? "" : "; nearest: " + base::inWords(near, "or")) + ".");
    }
}

}  // namespace

std::vector<std::string> usualWishes() {
    return {"finger", "band.width", "settings[#].stone.diameter", "settings[#].stone.length"};
}

Mended mend(const design::Design& design, const trade::Catalogue& catalogue,
            const std::vector<std::string>& locked) {
    requireLocks(design, locked);
    return Mender(design, catalogue, locked).mended();
}

}  // namespace bandwright::check
