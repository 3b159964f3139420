#include "check/tolerance_stack.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <utility>

#include "base/input_error.hpp"
#include "design/field_table.hpp"
#include "findings.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

/// Changes a number by so much.
void shift(design::Design& design, const std::string& field, double by) {
    if (field == kBore) {
        design.finger.widthCorrection += by;
    } else if (double* number = design::numberAt(design, field)) {
        *number += by;
    }
}

/// The design, its tolerances, and the findings at both ends of each.
class Stack {
  public:
    Stack(const design::Design& design, const trade::Catalogue& catalogue, const Report& report,
          std::vector<Tolerance> tolerances, std::optional<design::Stage> stage)
        : design_(design),
          catalogue_(catalogue),
          report_(report),
          tolerances_(std::move(tolerances)),
          stage_(stage) {
        for (const Tolerance& t : tolerances_) {
            const auto at = [&](double by) {
                design::Design moved = design_;
                shift(moved, t.field, by);
                return judgedAs(moved);
            };
            ends_.push_back({at(-t.plusMinus), at(t.plusMinus)});
        }
    }

    const std::vector<Tolerance>& tolerances() const { return tolerances_; }

    /// Nothing when no ring can be made of the numbers.
    std::optional<Report> judgedAs(const design::Design& design) const {
        try {
            return check(design, catalogue_, {.remedies = false, .stage = stage_});
        } catch (const base::InputError&) {
            return std::nullopt;
        }
    }

    /// Of a fit, the worse of its two sides.
    Spread spreadOf(const Finding& finding) const {
        Spread spread = spreadOnSide(finding);
        if (!finding.across) return spread;
        Finding other = finding;
        other.sense = finding.sense == Sense::AtLeast ? Sense::AtMost : Sense::AtLeast;
        other.limit = finding.across->limit;
        other.comfortable = finding.across->comfortable;
        const Spread there = spreadOnSide(other);
        const double noGo = std::min(1.0, spread.noGoBySquares + there.noGoBySquares);
        if (there.atWorst > spread.atWorst) spread = there;
        spread.noGoBySquares = noGo;
        return spread;
    }

    static constexpr double kSigmasInTolerance = 3;

  private:
    Spread spreadOnSide(const Finding& finding) const {
        const double sign = goodDirection(finding.sense);
        const double nominal = valueOf(report_, finding);
        double loss = 0;
        double squares = 0;
        design::Design corner = design_;
        for (std::size_t i = 0; i < ends_.size(); ++i) {
            // How much better it is there.
            const double less = sign * (valueIn(ends_[i].less, finding) - nominal);
            const double more = sign * (valueIn(ends_[i].more, finding) - nominal);
            constexpr double kNothing = 1e-9;
            if (std::min(less, more) < -kNothing) {
                loss -= std::min(less, more);
                const double by = tolerances_[i].plusMinus;
                shift(corner, tolerances_[i].field, less < more ? -by : by);
            }
            squares += (more - less) * (more - less) / 4;
        }
        const double there = sign * (valueIn(judgedAs(corner), finding) - nominal);
        Spread spread;
        spread.worst = nominal - sign * std::max(loss, -there);
        spread.atWorst = judged(spread.worst, finding.sense, {finding.limit, finding.comfortable, {}});
        spread.noGoBySquares =
            belowNothing(sign * (nominal - finding.limit), std::sqrt(squares) / kSigmasInTolerance);
        return spread;
    }

    struct Ends {
        std::optional<Report> less, more;
    };

    /// The value in another report, or the nominal value where that report has none.
    double valueIn(const std::optional<Report>& other, const Finding& finding) const {
        const Finding* there =
            other ? findingAt(*other, finding.rule, report_.measures[finding.measure].id) : nullptr;
        return there != nullptr ? valueOf(*other, *there) : valueOf(report_, finding);
    }

    /// The chance that a normal variable falls below zero.
    static double belowNothing(double mean, double sigma) {
        if (sigma == 0) return mean < 0 ? 1 : 0;
        return std::erfc(mean / sigma / std::numbers::sqrt2) / 2;
    }

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    const Report& report_;
    std::vector<Tolerance> tolerances_;
    std::optional<design::Stage> stage_;
    std::vector<Ends> ends_;
};

/// Normal numbers, cut off at three sigma, by the method of Box and Muller (1958) from the bits of the
/// Mersenne twister, which the C++ standard fixes, so that every machine draws the same.
class Lot {
  public:
    explicit Lot(std::uint64_t seed) : bits_(seed) {}

    /// From -1 to 1, three sigma.
    double deviation() {
        for (;;) {
            const double radius = std::sqrt(-2 * std::log(1 - share()));
            const double normal = radius * std::cos(2 * std::numbers::pi * share());
            if (std::abs(normal) <= Stack::kSigmasInTolerance) return normal / Stack::kSigmasInTolerance;
        }
    }

  private:
    /// 0 <= share < 1
    double share() { return static_cast<double>(bits_() >> 11U) * 0x1p-53; }

    std::mt19937_64 bits_;
};

void drawRings(const design::Design& design, const Stack& stack, const StackOptions& options, Report& report,
               StackSummary& summary) {
    Lot lot(options.seed);
    std::vector<std::size_t> noGo(report.findings.size());
    for (std::size_t ring = 0; ring < options.rings; ++ring) {
        design::Design drawn = design;
        for (const Tolerance& t : stack.tolerances())
            shift(drawn, t.field, t.plusMinus * lot.deviation());
        const std::optional<Report> judged = stack.judgedAs(drawn);
        if (!judged) {
            ++summary.unmade;
            continue;
        }
        ++summary.rings;
        for (std::size_t i = 0; i < noGo.size(); ++i) {
            const Finding& finding = report.findings[i];
            const Finding* there = findingAt(*judged, finding.rule, report.measures[finding.measure].id);
            if (there != nullptr && there->verdict == Verdict::NoGo) ++noGo[i];
        }
    }
    for (std::size_t i = 0; i < noGo.size() && summary.rings > 0; ++i) {
        report.findings[i].spread->noGoByLot =
            static_cast<double>(noGo[i]) / static_cast<double>(summary.rings);
    }
}

/// The catalogue with this metal's limits made stricter by what the tolerances take away from what each rule
/// measures.
trade::Catalogue stricter(const trade::Catalogue& catalogue, const Report& report, const std::string& metal) {
    trade::Catalogue result = catalogue;
    for (const Finding& finding : report.findings) {
        const double loss = valueOf(report, finding) - finding.spread->worst;
        const auto same = std::find_if(
            result.limits.begin() + static_cast<std::ptrdiff_t>(catalogue.limits.size()), result.limits.end(),
            [&](const trade::OwnLimit& own) { return own.rule == limitName(finding); });
        // The last limit given for the metal holds.
        const trade::OwnLimit own{std::string(limitName(finding)), metal,          finding.limit + loss,
                                  finding.comfortable + loss,      finding.source, {}};
        if (same == result.limits.end()) {
            result.limits.push_back(own);
        } else if (std::abs(own.limit - finding.limit) > std::abs(same->limit - finding.limit)) {
            *same = own;
        }
    }
    return result;
}

}  // namespace

StackSummary addSpreads(const design::Design& design, const trade::Catalogue& catalogue, Report& report,
                        const StackOptions& options) {
    const Stack stack(design, catalogue, report, tolerances(design, catalogue), options.stage);
    StackSummary summary;
    summary.tolerances = stack.tolerances();
    std::vector<Spread> spreads;
    for (const Finding& finding : report.findings)
        spreads.push_back(stack.spreadOf(finding));
    for (std::size_t i = 0; i < spreads.size(); ++i)
        report.findings[i].spread = spreads[i];
    drawRings(design, stack, options, report, summary);
    return summary;
}

void judgeAtWorst(const design::Design& design, const trade::Catalogue& catalogue, Report& report) {
    const Report mended = check(design, stricter(catalogue, report, design.band.metal), {});
    for (Finding& finding : report.findings) {
        finding.verdict = finding.spread->atWorst;
        const Finding* there = findingAt(mended, finding.rule, report.measures[finding.measure].id);
        const bool mends = there != nullptr && finding.verdict != Verdict::Go;
        finding.remedies = mends ? there->remedies : std::vector<Remedy>();
        // The stricter limits are those of this metal alone.
        std::erase_if(finding.remedies,
                      [](const Remedy& r) { return r.exchange && r.exchange->field == "band.metal"; });
        finding.remedy = !mends                     ? ""
                         : finding.remedies.empty() ? there->remedy
                                                    : finding.remedies.front().text;
    }
    sortWorstFirst(report);
}

}  // namespace bandwright::check
