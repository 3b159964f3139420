#include "trial.hpp"

#include <algorithm>
#include <functional>

#include "base/input_error.hpp"
#include "design/locks.hpp"
#include "design/measured.hpp"
#include "findings.hpp"

namespace bandwright::check {

std::size_t placeOf(const std::string& rule, const std::string& measure) {
    return std::hash<std::string>()(rule + " " + measure);
}

Outcome::Outcome(const Report& report) {
    standings_.reserve(report.findings.size());
    for (const Finding& f : report.findings)
        standings_.push_back(
            {placeOf(f.rule, report.measures[f.measure].id), f.verdict, standing(report, f)});
    std::ranges::sort(standings_, {}, &Standing::place);
}

bool isGone(const Standing& now, const Standing& was) {
    constexpr double kGone = -1 + 1e-6;
    return now.verdict == Verdict::NoGo && now.share <= kGone && was.share > kGone;
}

const Standing* Outcome::at(std::size_t place) const {
    const auto found = std::ranges::lower_bound(standings_, place, {}, &Standing::place);
    return found != standings_.end() && found->place == place ? &*found : nullptr;
}

std::vector<std::size_t> Outcome::worseThan(const Outcome& before) const {
    std::vector<std::size_t> worse;
    for (const Standing& now : standings_) {
        if (now.verdict == Verdict::Go) continue;
        const Standing* was = before.at(now.place);
        if (now.verdict > (was == nullptr ? Verdict::Go : was->verdict) ||
            (was != nullptr && isGone(now, *was)))
            worse.push_back(now.place);
    }
    return worse;
}

bool Outcome::noneWorseThan(const Outcome& before) const {
    return worseThan(before).empty();
}

std::optional<Report> reportOf(const design::Design& design, const trade::Catalogue& catalogue,
                               bool resizing) {
    try {
        return check(design, catalogue, {.remedies = false, .resizing = resizing});
    } catch (const base::InputError&) {
        return std::nullopt;
    }
}

double workOf(const design::Design& design) {
    // Fitted to the times of checks after one number was turned. What crosses a channel has ways round its
    // corners; the land between unlike holes is sought in space.
    constexpr double kChannelPair = 1.0 / 16, kSetting = 0.5, kUnlikeSetting = 3, kCrossed = 2;
    constexpr double kHoleOfEach = 1.0 / 250;
    const auto channels = static_cast<double>(design.channels.size());
    const auto settings = static_cast<double>(design.settings.size());
    double holes = 0;
    for (const design::Setting& setting : design.settings)
        holes += static_cast<double>(design::placedAngles(setting.placement).size());
    return 1 + kChannelPair * channels * channels + (settings > 1 ? kUnlikeSetting : kSetting) * settings +
           kCrossed * channels * settings + kHoleOfEach * settings * holes;
}

std::optional<Report> Allowance::report(const design::Design& design, const trade::Catalogue& catalogue,
                                        bool resizing) {
    if (isSpent() || !design::keepsSettled(design_, design) || !design::keepsLocked(design_, design))
        return std::nullopt;
    left_ -= checksFor(resizing);
    ++checked_;
    return reportOf(design, catalogue, resizing);
}

const Outcome* Trials::turnedBy(const Handle& handle, int steps) {
    std::string name = handle.field.path;
    for (const std::string& with : handle.with)
        name += " " + with;
    name += " " + std::to_string(handle.direction * steps);
    return named(name, [&] { return turned(design_, handle, steps); });
}

const Outcome* Trials::kept(const std::string& name, const std::optional<design::Design>& design) {
    std::optional<Outcome> outcome;
    if (design) {
        if (const auto report = allowance_.report(*design, catalogue_, resizing_)) outcome.emplace(*report);
    }
    const auto& entry = known_.emplace(name, std::move(outcome)).first->second;
    return entry ? &*entry : nullptr;
}

}  // namespace bandwright::check
