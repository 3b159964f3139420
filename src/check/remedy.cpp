#include "remedy.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/figures.hpp"
#include "check/sight.hpp"
#include "design/field_table.hpp"
#include "exchange.hpp"
#include "findings.hpp"
#include "handle.hpp"
#include "leave_out.hpp"
#include "trial.hpp"

namespace bandwright::check {

namespace {

constexpr std::size_t kMostRemedies = 3;
constexpr int kMostRepairs = 3;          ///< of what a change spoils
constexpr std::size_t kMostLeads = 8;    ///< changes whose spoils are tried to be repaired
constexpr int kMostRepairChecks = 600;   ///< of one finding without a remedy, the slowest search
constexpr double kMostWork = 8000;       ///< of one report, see workOf
constexpr int kMostSeveral = 6;          ///< numbers turned one after the other
constexpr int kMostSeveralChecks = 800;  ///< of one finding that no one number mends
constexpr double kSameValue = 1e-9;      ///< of a ring whose parts stand in another order
constexpr int kFewRepairChecks = 150;    ///< of one that has a remedy, to give a choice

constexpr int kFewChecks = 24;  ///< of one finding where there are many

/// A remedy, and the design it leads to.
struct Way {
    Remedy remedy;
    design::Design design;
};

/// What was tried in vain.
struct Tried {
    std::vector<std::string> ranges;  ///< "the depth of the channel from 0.5 to 1.2 mm"
    std::size_t exchanges = 0, orders = 0;
};

std::string stepName(design::Stage step) {
    return design::name(step);
}

/// How much is changed, to rank remedies of which a client sees the same.
double sizeOf(const Remedy& remedy) {
    constexpr double kPart = 1e3, kOrder = 0.5;  // fewer changes before smaller ones
    double size = remedy.exchange ? kPart : remedy.reorder ? kOrder : 0;
    for (const Change& c : remedy.changes) {
        const design::Field* row = design::fieldNamed(design::withoutPlaces(c.field));
        size += kPart + std::abs(c.to - c.from) / (row == nullptr ? 1 : row->number.grid);
    }
    return size;
}

/// What a client sees of it; and each number more is as unwelcome to the maker as being seen one degree more.
std::size_t rankOf(const Remedy& remedy) {
    const std::size_t changes = remedy.changes.size();
    return static_cast<std::size_t>(sightOf(remedy)) + (changes > 1 ? changes - 1 : 0);
}

/// What was found for one finding.
struct Found {
    std::vector<Handle> own, all;  ///< see ownHandlesOf and handlesOf
    std::vector<Way> ways;
    Tried tried;
    bool ended = false;  ///< before all was tried
};

class Seeker {
  public:
    Seeker(const design::Design& design, const trade::Catalogue& catalogue, const Report& report)
        : design_(design),
          catalogue_(catalogue),
          report_(report),
          most_(static_cast<int>(kMostWork / workOf(design))),
          allowance_(design, most_),
          trials_(design, catalogue, report, allowance_),
          openings_(design, catalogue, report, allowance_, true) {
        for (const design::Field& field : design::fieldsIn(design))
            if (isExchangeable(field)) exchanges_.push_back(exchangesFor(field, design, catalogue));
    }

    /// Fills in the findings of the report: for each the few ways that take few checks, and then the long
    /// searches of those that lack one, so that one finding does not spend what all share.
    void mend(std::vector<Finding>& findings) {
        std::vector<Found> found(findings.size());
        const int forRepairs = most_ / 4, forProofs = std::min(most_ / 4, checksToProve(findings));
        const auto any = [](const Found&) { return true; };
        forEach(findings, found, forRepairs + forProofs, any, [&](Finding&) {
            for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
                if (wanted >= finding_->verdict || !ways().empty()) break;
                wanted_ = wanted;
                seek();
            }
        });
        const auto lacksChoice = [](const Found& f) { return f.ways.size() < 2; };
        forEach(findings, found, forProofs, lacksChoice, [&](Finding&) {
            if (!resizing_) repair();
        });
        const auto lacksAny = [](const Found& f) { return f.ways.empty(); };
        forEach(findings, found, forProofs, lacksAny, [&](Finding&) {
            if (resizing_) return;
            turnSeveral();
            if (ways().empty()) sweep();
        });
        forEach(findings, found, 0, any, [&](Finding& finding) {
            finding.remedies = best();
            if (finding.remedies.empty()) finding.remedies = lastResort();
            noteEnd();
            finding.remedy = finding.remedies.empty() ? nothingFound() : finding.remedies.front().text;
        });
    }

  private:
    std::vector<Way>& ways() { return found_->ways; }
    Trials& trials() { return resizing_ ? openings_ : trials_; }
    const Trials& trials() const { return resizing_ ? openings_ : trials_; }

    bool tellsRoom() const { return findingAt(report_, "resize-room", "resize-room") != nullptr; }

    /// Of all that may be found, or of a few parts that may be left out.
    int checksToProve(const std::vector<Finding>& findings) const {
        constexpr std::size_t kOfEach = 6;
        return static_cast<int>(countIn(findings) * kOfEach) * Allowance::checksFor(tellsRoom());
    }

    static std::size_t countIn(const std::vector<Finding>& findings) {
        return static_cast<std::size_t>(
            std::ranges::count_if(findings, [](const Finding& f) { return f.verdict != Verdict::Go; }));
    }

    /// Calls `look` for each finding that is not go and is among those asked for. None takes more than its
    /// share of what is left over what is kept for later.
    void forEach(std::vector<Finding>& findings, std::vector<Found>& found, int kept, auto&& isAskedFor,
                 auto&& look) {
        std::vector<std::size_t> places;
        for (std::size_t i = 0; i < findings.size(); ++i)
            if (findings[i].verdict != Verdict::Go && isAskedFor(found[i])) places.push_back(i);
        auto toCome = static_cast<int>(places.size());
        for (const std::size_t i : places) {
            turnTo(findings[i], found[i]);
            const int free = std::max(0, allowance_.left() - kept);
            allowance_.keep(kept + free - free / toCome);
            look(findings[i]);
            noteEnd();
            --toCome;
        }
    }

    void noteEnd() { found_->ended = found_->ended || allowance_.isSpent(); }

    bool enough() const { return kinds_.size() >= kMostRemedies; }

    void seek() {
        kinds_.clear();
        for (const Handle& h : found_->own)
            turn(h);
        if (resizing_) return;
        if (rule_->reorder || finding_->stage != design::Stage::Finished) reorder();
        for (std::size_t i = found_->own.size(); i < found_->all.size() && !enough(); ++i)
            turn(found_->all[i]);
        if (!enough()) exchange();
    }

    void turnTo(Finding& finding, Found& found) {
        finding_ = &finding;
        found_ = &found;
        measure_ = &report_.measures[finding.measure];
        rule_ = ruleNamed(finding.rule);
        place_ = placeOf(finding.rule, measure_->id);
        if (found.all.empty()) {
            found.own = ownHandlesOf(*rule_, design_, *measure_);
            found.all = handlesOf(*rule_, design_, *measure_);
        }
        resizing_ = finding.rule == "resize-room";
    }

    void repair() {
        repairChecks_ = 0;
        for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
            if (wanted >= finding_->verdict || ways().size() >= 2) break;
            wanted_ = wanted;
            mostRepairChecks_ = ways().empty() ? kMostRepairChecks : kFewRepairChecks;
            seekRepairs();
        }
    }

    void seekRepairs() {
        for (std::size_t i = 0; i < std::min(kMostLeads, found_->all.size()) && ways().size() < 2; ++i)
            turnAndRepair(found_->all[i]);
    }

    /// Whether the finding is mended; `ends`: also where the rule has nothing left to judge.
    bool reaches(const Outcome& outcome, bool ends = false) const {
        const Standing* now = outcome.at(place_);
        return now == nullptr ? ends : now->verdict <= wanted_;
    }
    bool mends(const Outcome& outcome, bool ends = false) const {
        return reaches(outcome, ends) && outcome.noneWorseThan(trials().before());
    }
    /// With another material or order, or one hole left of a row, the rule may have nothing left to judge.
    static bool mayEnd(const Handle& h) { return h.field.control == design::Control::Count; }
    static bool mayEnd(const Remedy& remedy) {
        const auto isCount = [](const Change& c) {
            return design::fieldNamed(design::withoutPlaces(c.field))->control == design::Control::Count;
        };
        return remedy.reorder || remedy.exchange || std::ranges::any_of(remedy.changes, isCount);
    }

    std::optional<int> fewest(const Handle& h) {
        return fewestSteps(kMostSteps, [&](int steps) -> std::optional<bool> {
            const Outcome* outcome = trials().turnedBy(h, steps);
            return outcome == nullptr ? std::nullopt : std::optional(reaches(*outcome, mayEnd(h)));
        });
    }

    /// One number, and what has to follow it, as little as mends.
    void turn(const Handle& h) {
        const auto steps = fewest(h);
        if (steps && mends(*trials().turnedBy(h, *steps), mayEnd(h))) addNumbers(*turned(design_, h, *steps));
    }

    void addNumbers(const design::Design& to) {
        Way way{{changesBetween(design_, to), {}, {}, {}, {}, {}, 0, true}, to};
        add(std::move(way));
    }

    void add(Way way) {
        std::string kind;
        for (const Change& c : way.remedy.changes)
            kind += c.field + " ";
        if (way.remedy.exchange) kind = way.remedy.exchange->field;
        if (way.remedy.reorder) kind = "route";
        kinds_.insert(kind);
        ways().push_back(std::move(way));
    }

    /// A number that mends but spoils others, and then what repairs each of those.
    void turnAndRepair(const Handle& h) {
        const auto steps = fewest(h);
        if (!steps) return;
        if (auto to = repaired(*turned(design_, h, *steps), {h.field.path}, kMostRepairs)) addNumbers(*to);
    }

    std::optional<design::Design> repaired(const design::Design& from, std::vector<std::string> turnedFields,
                                           int left) {
        const auto report = allowance_.report(from, catalogue_);
        if (!report) return std::nullopt;
        const std::vector<std::size_t> worse = Outcome(*report).worseThan(trials().before());
        if (worse.empty()) return from;
        if (left == 0 || worse.size() > 2 * static_cast<std::size_t>(left)) return std::nullopt;
        const auto spoiled = std::ranges::find_if(report->findings, [&](const Finding& f) {
            return placeOf(f.rule, report->measures[f.measure].id) == worse.front();
        });
        std::optional<design::Design> best;
        std::string bestField;
        std::size_t fewestWorse = worse.size();
        for (const Handle& h :
             ownHandlesOf(*ruleNamed(spoiled->rule), from, report->measures[spoiled->measure])) {
            if (std::ranges::find(turnedFields, h.field.path) != turnedFields.end()) continue;
            std::size_t leftWorse = 0;
            const auto steps = fewestSteps(kMostSteps, [&](int n) -> std::optional<bool> {
                if (++repairChecks_ > mostRepairChecks_) return std::nullopt;
                const auto next = turned(from, h, n);
                const auto there = next ? allowance_.report(*next, catalogue_) : std::nullopt;
                if (!there) return std::nullopt;
                const Outcome outcome(*there);
                const std::vector<std::size_t> now = outcome.worseThan(trials().before());
                const bool holds = reaches(outcome) && std::ranges::find(now, worse.front()) == now.end();
                if (holds) leftWorse = now.size();
                return holds;
            });
            if (!steps || leftWorse >= fewestWorse) continue;
            fewestWorse = leftWorse;
            best = turned(from, h, *steps);
            bestField = h.field.path;
            if (fewestWorse == 0) break;
        }
        if (!best) return std::nullopt;
        turnedFields.push_back(bestField);
        return repaired(*best, turnedFields, left - 1);
    }

    /// How far a ring is from one in which the finding is mended and none is worse than before, and how bad
    /// it is beside. Where two places are equally thin the first of them turned helps the second sum alone.
    struct Far {
        double mended = 0, rest = 0;

        bool isNearerThan(const Far& other) const {
            constexpr double kSame = 1e-9;
            if (std::abs(mended - other.mended) > kSame) return mended < other.mended;
            return rest < other.rest - kSame;
        }
    };

    Far farFrom(const Report& report) const {
        constexpr double kEach = 0.05, kMostStanding = 2;  // one that is far out does not hide the others
        Far far;
        bool isThere = false;
        for (const Finding& f : report.findings) {
            const std::size_t place = placeOf(f.rule, report.measures[f.measure].id);
            isThere = isThere || place == place_;
            const auto shortOf = [&](double limit) {
                return kEach +
                       std::clamp(-check::standing(valueOf(report, f), f.sense, limit), 0.0, kMostStanding);
            };
            if (f.verdict != Verdict::Go) far.rest += shortOf(f.comfortable);
            const Verdict allowed = allowedAt(place);
            if (f.verdict > allowed) far.mended += shortOf(allowed == Verdict::Go ? f.comfortable : f.limit);
        }
        if (!isThere) far.mended = std::numeric_limits<double>::infinity();
        return far;
    }

    Verdict allowedAt(std::size_t place) const {
        if (place == place_) return wanted_;
        const Standing* was = trials_.before().at(place);
        return was == nullptr ? Verdict::Go : was->verdict;
    }

    /// The handles of what keeps a ring from being mended so.
    std::vector<Handle> handlesOfWhatIsLeft(const design::Design& design, const Report& report) const {
        std::vector<Handle> handles;
        for (const Finding& f : report.findings) {
            const Measure& measure = report.measures[f.measure];
            if (f.verdict <= allowedAt(placeOf(f.rule, measure.id))) continue;
            for (Handle& h : ownHandlesOf(*ruleNamed(f.rule), design, measure))
                addOnce(handles, std::move(h));
        }
        return handles;
    }

    /// A ring on the way to one that is mended.
    struct Stride {
        design::Design design;
        Report report;
        Far far;

        bool isThere() const { return far.mended == 0; }
    };

    std::optional<Stride> stride(const std::optional<design::Design>& to) {
        if (!to || ++repairChecks_ > kMostSeveralChecks) return std::nullopt;
        auto report = allowance_.report(*to, catalogue_);
        if (!report) return std::nullopt;
        const Far far = farFrom(*report);
        return Stride{*to, std::move(*report), far};
    }

    /// Where it takes several numbers, such as those of two channels that are each too near an edge: each
    /// time the one that helps most, and then each as far back as it can be.
    void turnSeveral() {
        for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
            if (wanted >= finding_->verdict) return;
            wanted_ = wanted;
            repairChecks_ = 0;
            std::optional<Stride> now = stride(design_);
            for (int round = 0; now && !now->isThere() && round < kMostSeveral; ++round) {
                std::optional<Stride> best;
                for (const Handle& h : handlesOfWhatIsLeft(now->design, now->report)) {
                    for (int steps = 2; steps <= kMostSteps; steps *= 2) {
                        std::optional<Stride> next = stride(turned(now->design, h, steps));
                        if (!next) break;
                        if (next->far.isNearerThan(best ? best->far : now->far)) best = std::move(next);
                        if (best && best->isThere()) break;
                    }
                }
                now = std::move(best);
            }
            if (!now || !now->isThere()) continue;
            turnBack(*now);
            addNumbers(now->design);
            return;
        }
    }

    /// Each number as near as may be to what it was, by halving.
    void turnBack(Stride& now) {
        for (const Change& change : changesBetween(design_, now.design)) {
            const Handle h{*design::fieldAt(design_, change.field), change.to > change.from ? 1 : -1, {}};
            int below = -1;
            int above = static_cast<int>(std::ceil(std::abs(change.to - change.from) / h.field.number.grid));
            while (above - below > 1) {
                const int middle = (above + below) / 2;
                const double value = middle == 0 ? change.from : moved(change.from, h, middle);
                const auto report =
                    allowance_.report(changed(now.design, {change.field, change.to, value}), catalogue_);
                if (report && farFrom(*report).mended == 0) {
                    above = middle;
                    now.design = changed(now.design, {change.field, change.to, value});
                } else {
                    below = middle;
                }
            }
        }
    }

    /// Another order of the steps that are done on this ring.
    void reorder() {
        const std::vector<design::Stage> done = steps(design_, catalogue_);
        std::optional<Way> least;
        std::size_t fewestPlaces = std::numeric_limits<std::size_t>::max(), tried = 0;
        for (std::size_t from = 1; from < done.size(); ++from) {
            for (std::size_t to = from; to-- > 1;) {
                const bool named = rule_->reorder && rule_->reorder->step == done[from] &&
                                   rule_->reorder->before == done[to];
                const std::size_t places = named ? 0 : from - to;
                design::Design other = design_;
                try {
                    other.route = design::movedBefore(design_.route, done[from], done[to]);
                } catch (const base::InputError&) {
                    break;
                }
                const Outcome* outcome = trials().named(
                    "route " + stepName(done[from]) + " " + stepName(done[to]), [&] { return other; });
                if (outcome == nullptr) continue;
                ++tried;
                if (!mends(*outcome, true) || places >= fewestPlaces) continue;
                fewestPlaces = places;
                least = Way{{{}, {}, Reorder{done[from], done[to]}, {}, {}, {}, 0, true}, other};
            }
        }
        found_->tried.orders = tried;
        if (least) add(std::move(*least));
    }

    /// Another material, or another way of joining or closing; of each field the one that looks most like
    /// what is there.
    void exchange() {
        found_->tried.exchanges = 0;
        for (const std::vector<Exchange>& ofField : exchanges_) {
            for (const Exchange& exchange : ofField)
                if (exchanges(exchange)) break;
        }
    }

    bool exchanges(const Exchange& exchange) {
        const auto other = [&] { return exchanged(design_, exchange); };
        const Outcome* outcome = trials().named(exchange.field + " " + exchange.to, other);
        if (outcome == nullptr) return false;
        ++found_->tried.exchanges;
        if (!mends(*outcome, true)) return false;
        add({{{}, exchange, {}, {}, {}, {}, 0, true}, other()});
        return true;
    }

    /// Where the search found nothing: every whole step of every number that the rule names. What mends only
    /// in between is found here, and where nothing does the ranges say what has been tried.
    void sweep() {
        for (const Handle& h : found_->own) {
            const double from = *design::quantityAt(design_, h.field.path);
            int last = 0;
            for (int steps = 1; steps <= kMostSteps; ++steps) {
                const Outcome* outcome = trials().turnedBy(h, steps);
                if (outcome == nullptr) continue;
                last = steps;
                for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
                    wanted_ = wanted;
                    if (wanted >= finding_->verdict || !mends(*outcome, mayEnd(h))) continue;
                    addNumbers(*turned(design_, h, steps));
                    return;
                }
            }
            if (last == 0) continue;
            const int decimals = h.field.number.decimals;
            found_->tried.ranges.push_back(
                h.field.phrase + " from " + design::shown(from, h.field.number.unit, decimals) + " to " +
                design::shown(moved(from, h, last), h.field.number.unit, decimals));
        }
    }

    /// What cannot be had left out, where nothing else mends: the least of it that does, proved as the others
    /// are.
    std::vector<Remedy> lastResort() {
        if (!design_.measured.empty()) return {};  // a reading belongs to a part by its number
        for (const std::string& part : partsToLeaveOut(design_, *measure_)) {
            const auto after = allowance_.report(without(design_, part), catalogue_, tellsRoom());
            if (!after) continue;
            const auto before = allowance_.report(withLast(design_, part), catalogue_, tellsRoom());
            const Finding* old = before ? sameIn(*before, part) : nullptr;
            if (old == nullptr) continue;
            const Finding* now = findingAt(*after, old->rule, before->measures[old->measure].id);
            if (now != nullptr && now->verdict >= old->verdict) continue;
            if (!spoilsNothing(*after, *before)) continue;
            Remedy remedy{{}, {}, {}, part, {}, {}, 0, true};
            complete(remedy, *after);
            return {std::move(remedy)};
        }
        return {};
    }

    /// The finding in the report of the ring that has a part as the last of its kind, where it may have
    /// another number.
    const Finding* sameIn(const Report& report, const std::string& part) const {
        for (const std::string& id : {idWithLast(measure_->id, part, design_), measure_->id}) {
            const Finding* found = findingAt(report, finding_->rule, id);
            if (found == nullptr) continue;
            const double value = report.measures[found->measure].value;
            if (found->verdict == finding_->verdict && std::abs(value - measure_->value) <= kSameValue)
                return found;
        }
        return nullptr;
    }

    std::string inFigures(double value) const { return inSentence(value, *finding_, measure_->unit); }

    /// Those that a client sees least, checked once more in full.
    std::vector<Remedy> best() {
        std::ranges::stable_sort(ways(), [](const Way& a, const Way& b) {
            const std::size_t rankA = rankOf(a.remedy), rankB = rankOf(b.remedy);
            return rankA != rankB ? rankA < rankB : sizeOf(a.remedy) < sizeOf(b.remedy);
        });
        std::vector<Remedy> remedies;
        std::set<std::string> leads;
        for (Way& way : ways()) {
            if (remedies.size() == kMostRemedies) break;
            const auto after = allowance_.report(way.design, catalogue_, tellsRoom());
            if (!after || !isProved(*after, way.remedy)) continue;
            const std::string lead = way.remedy.changes.empty() ? "" : way.remedy.changes.front().field;
            if (!lead.empty() && !leads.insert(lead).second) continue;
            complete(way.remedy, *after);
            remedies.push_back(std::move(way.remedy));
        }
        return remedies;
    }

    /// By names: the finding is better, and none is worse than it was.
    bool isProved(const Report& after, const Remedy& remedy) const {
        const Finding* now = findingAt(after, finding_->rule, measure_->id);
        if (now == nullptr ? !mayEnd(remedy) : now->verdict >= finding_->verdict) return false;
        return spoilsNothing(after, report_);
    }

    static bool spoilsNothing(const Report& after, const Report& before) {
        return std::ranges::all_of(after.findings, [&](const Finding& f) {
            if (f.verdict == Verdict::Go) return true;
            const Finding* old = findingAt(before, f.rule, after.measures[f.measure].id);
            if (old == nullptr || f.verdict > old->verdict) return false;
            return !isGone({0, f.verdict, check::standing(after, f)},
                           {0, old->verdict, check::standing(before, *old)});
        });
    }

    void complete(Remedy& remedy, const Report& after) const {
        remedy.effect = effectOf(remedy, report_, after);
        remedy.keepsOrder = sightOf(remedy) != Sight::Ordered;
        remedy.noGoLeft =
            static_cast<std::size_t>(std::ranges::count(after.findings, Verdict::NoGo, &Finding::verdict));
        if (remedy.reorder) {
            remedy.text =
                "Change the order of the work: " + std::string(design::doing(remedy.reorder->step)) +
                " before " + std::string(design::doing(remedy.reorder->before)) + ".";
            return;
        }
        if (remedy.leftOut) {
            remedy.text = leaveOutText(design_, *remedy.leftOut) + ": no smaller change was found.";
            return;
        }
        std::vector<std::string> parts;
        for (const Change& c : remedy.changes) {
            const auto field = design::fieldAt(design_, c.field);
            parts.push_back(field->phrase + " " + changeText(c, field->number));
        }
        remedy.text = remedy.exchange ? exchangeText(*remedy.exchange, design_, catalogue_)
                                      : "Make " + base::listed(parts);
        const Finding* now = findingAt(after, finding_->rule, measure_->id);
        if (now != nullptr && !isYesOrNo(measure_->unit)) {
            const Measure& then = after.measures[now->measure];
            remedy.text += ": the " + base::uncapitalised(then.label) + " is then " +
                           inSentence(then.value, *now, then.unit);
        }
        remedy.text += ".";
    }

    /// ": the floor is 0.4 mm and should be at least 0.6 mm"; what is yes or no is clear without.
    std::string standing() const {
        if (isYesOrNo(measure_->unit)) return "";
        return ": the " + base::uncapitalised(measure_->label) + " is " + inFigures(measure_->value) +
               " and should be " + (finding_->sense == Sense::AtLeast ? "at least " : "at most ") +
               inFigures(finding_->comfortable);
    }

    std::string nothingFound() const {
        if (found_->ended)
            return "No one change was found that mends it without spoiling another" + standing() +
                   "; the search ended after " + std::to_string(allowance_.checked()) + " rings.";
        std::vector<std::string> tried;
        if (!found_->tried.ranges.empty())
            tried.push_back(base::listed(found_->tried.ranges) + ", step by step");
        if (found_->tried.orders > 0)
            tried.push_back(std::to_string(found_->tried.orders) + " other orders of the work");
        if (found_->tried.exchanges > 0)
            tried.push_back(std::to_string(found_->tried.exchanges) + " other materials and ways of joining");
        if (tried.empty()) return "No number of the design decides it" + standing() + ".";
        return "No one change mends it without spoiling another" + standing() + "; tried were " +
               base::listed(tried) + ".";
    }

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    const Report& report_;
    int most_;  ///< checks
    Allowance allowance_;
    Trials trials_;
    Trials openings_;        ///< with how far each can be opened, which takes longer
    bool resizing_ = false;  ///< whether that is what is mended
    const Finding* finding_ = nullptr;
    Found* found_ = nullptr;  ///< for it
    const Measure* measure_ = nullptr;
    const Rule* rule_ = nullptr;
    std::size_t place_ = 0;
    Verdict wanted_ = Verdict::Go;
    std::vector<std::vector<Exchange>> exchanges_;  ///< of each field that can be exchanged
    std::set<std::string> kinds_;
    int repairChecks_ = 0, mostRepairChecks_ = 0;
};

}  // namespace

void addRemedies(const design::Design& design, const trade::Catalogue& catalogue, Report& report) {
    if (report.verdict == Verdict::Go) return;
    Seeker(design, catalogue, report).mend(report.findings);
}

}  // namespace bandwright::check
