#include "check/mend.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "design/locks.hpp"
#include "exchange.hpp"
#include "findings.hpp"
#include "handle.hpp"
#include "rules.hpp"
#include "trial.hpp"
#include "usual.hpp"

namespace bandwright::check {

namespace {

constexpr int kMostRounds = 24;
constexpr int kMostChecks = 40000;    ///< of a ring whose settings have no neighbours
constexpr int kMostPairs = 4;         ///< times that two numbers are tried at once, the slowest search
constexpr std::size_t kInPairs = 12;  ///< handles that are then tried, of the worst findings
constexpr int kMostTurnsBack = 3;     ///< times that every change is turned back as far as it can be

/// The land between holes of different settings is sought in space and takes many times as long as all else.
int checksFor(const design::Design& design) {
    constexpr std::size_t kPairsShare = 6;
    const std::size_t settings = design.settings.size();
    const std::size_t pairs = settings < 2 ? 0 : settings * (settings - 1) / 2;
    return kMostChecks / static_cast<int>(1 + kPairsShare * pairs);
}

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

/// A design on the way, and why it was changed so.
struct Step {
    design::Design design;
    Report report;
    double bad = 0;
    std::string rule;
};

class Mender {
  public:
    Mender(const design::Design& design, const trade::Catalogue& catalogue,
           const std::vector<std::string>& locked)
        : catalogue_(catalogue),
          locked_(locked),
          original_(design),
          allowance_(design, checksFor(design)),
          now_{design, check(design, catalogue, {.remedies = false}), 0, {}} {
        now_.bad = badness(now_.report);
    }

    Mended mended() {
        turnByTurn();
        // Far from a ring that can be made no small step helps: begin again at one that is made as usual.
        if (hasNoGo(now_.report) && hindrances(original_, catalogue_, locked_).empty()) startAgain();
        isTurningBack_ = true;
        if (!hasNoGo(now_.report)) turnBack();
        Mended result{std::move(now_.design), {}, {}, {}, std::move(now_.report)};
        for (const Change& change : changesBetween(original_, result.design))
            result.changes.push_back(
                {change, design::fieldAt(original_, change.field)->phrase, ruleFor(change.field)});
        for (Exchange& exchange : exchangesBetween(original_, result.design)) {
            const std::string rule = ruleFor(exchange.field);
            result.exchanges.push_back({std::move(exchange), rule});
        }
        result.reorders = reorders_;
        return result;
    }

  private:
    bool isLocked(const std::string& field) const {
        return std::ranges::any_of(locked_,
                                   [&](const std::string& lock) { return design::covers(lock, field); });
    }

    bool keepsLocks(const design::Design& design) const {
        if (!design::keepsLocked(original_, design)) return false;
        const std::vector<Change> changes = changesBetween(original_, design);
        return std::ranges::none_of(changes, [&](const Change& c) { return isLocked(c.field); });
    }

    std::optional<Step> checked(design::Design design, std::string rule) const {
        if (!keepsLocks(design)) return std::nullopt;
        std::optional<Report> report =
            isTurningBack_ ? reportOf(design, catalogue_) : allowance_.report(design, catalogue_);
        if (!report) return std::nullopt;
        const double bad = badness(*report);
        return Step{std::move(design), std::move(*report), bad, std::move(rule)};
    }

    std::optional<Step> tried(const Turn& turn, int steps, const design::Design& from) const {
        std::optional<design::Design> to = turned(from, turn.handle, steps);
        return to ? checked(std::move(*to), turn.rule) : std::nullopt;
    }

    /// The handles that may help the no-go findings, each once: those their rules name, or all there are.
    std::vector<Turn> turns(bool all) const {
        std::vector<Turn> result;
        std::set<std::string> known;
        for (const Finding& f : now_.report.findings) {
            if (f.verdict != Verdict::NoGo) break;  // worst first
            const Rule& rule = *ruleNamed(f.rule);
            const Measure& measure = now_.report.measures[f.measure];
            for (Handle& h :
                 all ? handlesOf(rule, now_.design, measure) : ownHandlesOf(rule, now_.design, measure)) {
                std::string name = h.field.path + (h.direction > 0 ? " +" : " -");
                for (const std::string& with : h.with)
                    name += " " + with;
                if (!isLocked(h.field.path) && known.insert(name).second)
                    result.push_back({std::move(h), f.rule});
            }
        }
        return result;
    }

    void turnByTurn() {
        for (int round = 0; round < kMostRounds && hasNoGo(now_.report); ++round) {
            std::optional<Step> step = bestOf(turns(false), now_.design, 2);
            if (!isBetter(step)) step = bestOf(turns(true), now_.design, 2);
            if (!isBetter(step)) step = bestOrder();
            if (!isBetter(step)) step = bestExchange();
            if (!isBetter(step)) step = bestPair();
            if (!isBetter(step)) break;
            take(std::move(*step));
        }
    }

    bool isBetter(const std::optional<Step>& step) const { return step && step->bad < now_.bad; }

    /// The turn that leaves the ring least bad; among equals, the one with the fewest steps.
    std::optional<Step> bestOf(const std::vector<Turn>& turns, const design::Design& from, int growth) const {
        std::optional<Step> best;
        int fewest = 0;
        for (const Turn& turn : turns) {
            for (int steps = 1; steps <= kMostSteps; steps *= growth) {
                std::optional<Step> step = tried(turn, steps, from);
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
        std::vector<Turn> all = turns(false);
        if (all.size() > kInPairs) all.resize(kInPairs);
        std::optional<Step> best;
        for (const Turn& turn : all) {
            for (const int steps : {8, 64}) {
                std::optional<Step> one = tried(turn, steps, now_.design);
                if (!one) break;
                std::optional<Step> two = bestOf(all, one->design, 4);
                if (!two || (best && two->bad >= best->bad)) continue;
                best = std::move(two);
                if (best->bad == 0) return best;
            }
        }
        return best;
    }

    /// The order of the work that its rule names.
    std::optional<Step> bestOrder() {
        std::optional<Step> best;
        for (const Finding& f : now_.report.findings) {
            const auto& reorder = ruleNamed(f.rule)->reorder;
            if (f.verdict != Verdict::NoGo || !reorder) continue;
            design::Design other = now_.design;
            try {
                other.route = design::movedBefore(other.route, reorder->step, reorder->before);
            } catch (const base::InputError&) {
                continue;
            }
            std::optional<Step> step = checked(std::move(other), f.rule);
            if (step && (!best || step->bad < best->bad)) best = std::move(step);
        }
        return best;
    }

    /// Another material, or way of joining or closing; among equals the one that looks most like what is
    /// there.
    std::optional<Step> bestExchange() {
        const std::string worst = now_.report.findings.front().rule;
        std::optional<Step> best;
        for (const design::Field& field : design::fieldsIn(now_.design)) {
            if (!isExchangeable(field) || isLocked(field.path)) continue;
            for (const Exchange& exchange : exchangesFor(field, now_.design, catalogue_)) {
                std::optional<Step> step = checked(exchanged(now_.design, exchange), worst);
                if (step && (!best || step->bad < best->bad)) best = std::move(step);
            }
        }
        return best;
    }

    void take(Step step) {
        for (const Change& c : changesBetween(now_.design, step.design))
            rules_.emplace(c.field, step.rule);
        for (const Exchange& e : exchangesBetween(now_.design, step.design))
            rules_.emplace(e.field, step.rule);
        if (step.design.route != now_.design.route) {
            const Reorder& reorder = *ruleNamed(step.rule)->reorder;
            reorders_.push_back(reorder);
        }
        now_ = std::move(step);
    }

    std::string ruleFor(const std::string& field) const {
        const auto known = rules_.find(field);
        return known == rules_.end() ? "" : known->second;
    }

    /// From rings whose settings, channels or band have the shape they have in a usual ring, until one of
    /// them can be mended turn by turn; else the least bad.
    void startAgain() {
        const std::string worst = now_.report.findings.front().rule;
        const Step reached = now_;
        Step best = now_;
        for (const bool wholeBand : {false, true}) {
            design::Design design = wholeBand ? usualBand(original_) : reached.design;
            design = usualChannels(std::move(design));
            for (std::size_t i = 0; i < design.settings.size(); ++i)
                design = usualSetting(std::move(design), i);
            std::optional<Step> start = checked(unlocked(std::move(design)), worst);
            if (!start) continue;
            take(std::move(*start));
            pairs_ = 0;
            place();
            turnByTurn();
            if (hasNoGo(now_.report)) {
                place();
                turnByTurn();
            }
            if (now_.bad < best.bad) best = now_;
            if (best.bad == 0) break;
        }
        now_ = std::move(best);
    }

    /// Seeks a place for each setting that has a no-go: across the width, and turned round the band.
    void place() {
        constexpr int kAcross = 24, kRound = 8;
        for (std::size_t i = 0; i < now_.design.settings.size(); ++i) {
            const auto isBad = [&](const Finding& f) {
                return f.verdict == Verdict::NoGo && isOfSetting(now_.report.measures[f.measure], i);
            };
            const auto found = std::ranges::find_if(now_.report.findings, isBad);
            if (found == now_.report.findings.end()) continue;
            const std::string rule = found->rule;
            const design::Placement placement = now_.design.settings[i].placement;
            const double half = now_.design.band.width / 2;
            const double turn = 360.0 / std::max(1, placement.count) / kRound;
            for (int across = 0; across <= kAcross && now_.bad > 0; ++across) {
                for (int round = 0; round < kRound; ++round) {
                    design::Design design = now_.design;
                    design::Placement& at = design.settings[i].placement;
                    at.offset = std::round(half * (2.0 * across / kAcross - 1) * 100) / 100;
                    at.start = std::round(std::fmod(placement.start + round * turn, 360.0) * 2) / 2;
                    std::optional<Step> step = checked(std::move(design), rule);
                    if (isBetter(step)) take(std::move(*step));
                }
            }
        }
    }

    static bool isOfSetting(const Measure& measure, std::size_t setting) {
        return geometry::settingOf(measure.fromTag) == setting ||
               geometry::settingOf(measure.toTag) == setting;
    }

    /// The design with every locked number as it was.
    design::Design unlocked(design::Design design) const {
        for (const Change& c : changesBetween(original_, design))
            if (isLocked(c.field)) design = changed(design, {c.field, c.to, c.from});
        return design;
    }

    /// Turns each number back as far as it can be without a no-go, by halving, until no more can be.
    void turnBack() {
        for (int i = 0; i < kMostTurnsBack; ++i) {
            bool turnedAny = false;
            for (const Exchange& exchange : exchangesBetween(original_, now_.design))
                turnedAny = turnBack(exchange) || turnedAny;
            for (const Change& change : changesBetween(original_, now_.design))
                turnedAny = turnBack(change) || turnedAny;
            if (!turnedAny) break;
        }
    }

    bool turnBack(const Exchange& exchange) {
        std::optional<Step> step =
            checked(exchanged(now_.design, {exchange.field, exchange.to, exchange.from}), "");
        if (!step || step->bad > 0) return false;
        now_ = std::move(*step);
        return true;
    }

    bool turnBack(const Change& change) {
        const auto with = [&](double value) {
            return checked(changed(now_.design, {change.field, change.to, value}), ruleFor(change.field));
        };
        const auto good = [](const std::optional<Step>& step) { return step && step->bad == 0; };
        if (std::optional<Step> whole = with(change.from); good(whole)) {
            now_ = std::move(*whole);
            return true;
        }
        const Handle handle{
            *design::fieldAt(now_.design, change.field), change.to > change.from ? 1 : -1, {}};
        const double grid = handle.field.number.grid;
        bool turnedAny = false;
        int below = 0;
        int above = static_cast<int>(std::lround(std::abs(change.to - change.from) / grid)) + 1;
        while (above - below > 1) {
            const int middle = (above + below) / 2;
            std::optional<Step> step = with(moved(change.from, handle, middle));
            if (good(step)) {
                above = middle;
                turnedAny = turnedAny || std::abs(moved(change.from, handle, middle) - change.to) > grid / 2;
                now_ = std::move(*step);
            } else {
                below = middle;
            }
        }
        return turnedAny;
    }

    const trade::Catalogue& catalogue_;
    const std::vector<std::string>& locked_;
    const design::Design& original_;
    mutable Allowance allowance_;  ///< for checked()
    Step now_;
    std::map<std::string, std::string> rules_;  ///< by field, the rule it was first changed for
    std::vector<Reorder> reorders_;
    int pairs_ = 0;
    bool isTurningBack_ = false;
};

void requireLocks(const design::Design& design, const std::vector<std::string>& locked) {
    // A design without stones or channels has none to lock.
    std::vector<std::string> paths;
    for (const design::Field& field : design::fieldsIn(design::withOneOfEach(design))) {
        const bool isNumber =
            field.control == design::Control::Thimble || field.control == design::Control::Count;
        if (isNumber || isExchangeable(field)) paths.push_back(field.path);
    }
    for (const std::string& lock : locked) {
        const bool known =
            std::ranges::any_of(paths, [&](const std::string& path) { return design::covers(lock, path); });
        if (known) continue;
        for (std::string& path : paths)
            path = design::withoutPlaces(path);
        const auto near = base::nearestNames(lock, {paths.begin(), paths.end()}, 3);
        throw base::InputError("there is nothing " + base::inQuotes(lock) + " to lock" +
                               (near.empty() ? "" : "; nearest: " + base::inWords(near, "or")) + ".");
    }
}

}  // namespace

std::vector<std::string> usualWishes() {
    return {"finger",
            "band.width",
            "band.metal",
            "settings[#].stone.diameter",
            "settings[#].stone.length",
            "settings[#].stone.gem",
            "settings[#].placement.count",
            "channels[#].fill.filler"};
}

Mended mend(const design::Design& design, const trade::Catalogue& catalogue,
            const std::vector<std::string>& locked) {
    requireLocks(design, locked);
    std::vector<std::string> all = locked;
    all.insert(all.end(), design.locked.begin(), design.locked.end());
    return Mender(design, catalogue, all).mended();
}

}  // namespace bandwright::check
