#include "rules.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace bandwright::check {

namespace {

/// What is about something else than the table it stands in.
struct Elsewhere {
    std::string_view rule;
    Group group;
};
constexpr std::array kOtherGroups{
    Elsewhere{"rim-slender", Group::Walls},       Elsewhere{"edge-face-left", Group::Fit},
    Elsewhere{"edge-face-right", Group::Fit},     Elsewhere{"bore-ease", Group::Fit},
    Elsewhere{"band-thickness", Group::Fit},      Elsewhere{"stone-hardness", Group::Wear},
    Elsewhere{"channel-reach", Group::Work},      Elsewhere{"etch-fill", Group::Work},
    Elsewhere{"etch-setting", Group::Work},       Elsewhere{"etch-cut", Group::Work},
    Elsewhere{"colour-cut", Group::Work},         Elsewhere{"join-heat-fill", Group::Work},
    Elsewhere{"join-heat-stone", Group::Work},    Elsewhere{"weld-to-fill", Group::Work},
    Elsewhere{"solder-metal", Group::Work},       Elsewhere{"solder-melt", Group::Work},
    Elsewhere{"weld-metal", Group::Work},         Elsewhere{"chuck-spring", Group::Work},
    Elsewhere{"liner-fit", Group::Work},          Elsewhere{"liner-gap", Group::Work},
    Elsewhere{"liner-heat", Group::Work},         Elsewhere{"join-heat-liner", Group::Work},
    Elsewhere{"nickel-release", Group::Law},      Elsewhere{"nickel-known", Group::Law},
    Elsewhere{"lead-content", Group::Law},        Elsewhere{"cadmium-content", Group::Law},
    Elsewhere{"stone-toughness", Group::Setting}, Elsewhere{"fill-softness", Group::Fill},
    Elsewhere{"fill-layers", Group::Fill},        Elsewhere{"fill-shrinkage", Group::Fill},
};

std::vector<Rule> allRules() {
    std::vector<Rule> all;
    const auto add = [&](Group group, std::vector<Rule> part) {
        for (Rule& rule : part) {
            const auto* other = std::ranges::find(kOtherGroups, rule.id, &Elsewhere::rule);
            rule.group = other == kOtherGroups.end() ? group : other->group;
            all.push_back(std::move(rule));
        }
    };
    add(Group::Walls, metalRules());
    add(Group::Wear, strengthRules());
    add(Group::Walls, linerRules());
    add(Group::Setting, settingRules());
    add(Group::Fill, fillRules());
    add(Group::Wear, materialRules());
    add(Group::Fit, fitRules());
    add(Group::Work, workRules());
    return all;
}

}  // namespace

namespace {

Rule ruleOf(const Subject& subject, Sense sense, std::string_view why, std::vector<Lever> levers) {
    Rule rule;
    rule.id = rule.measure = subject.id;
    rule.measured = subject.measured;
    rule.unit = subject.unit;
    rule.sides = subject.sides;
    rule.sense = sense;
    rule.why = why;
    rule.levers = std::move(levers);
    return rule;
}

Rule against(LimitOf limit, Rule rule) {
    rule.limitOf = limit;
    return rule;
}

Rule against(Limit limit, Rule rule) {
    rule.fixed = std::move(limit);
    return rule;
}

}  // namespace

Rule atLeast(const Subject& subject, LimitOf limit, std::string_view why, std::vector<Lever> levers) {
    return against(limit, ruleOf(subject, Sense::AtLeast, why, std::move(levers)));
}

Rule atLeast(const Subject& subject, Limit limit, std::string_view why, std::vector<Lever> levers) {
    return against(std::move(limit), ruleOf(subject, Sense::AtLeast, why, std::move(levers)));
}

Rule atMost(const Subject& subject, Limit limit, std::string_view why, std::vector<Lever> levers) {
    return against(std::move(limit), ruleOf(subject, Sense::AtMost, why, std::move(levers)));
}

Rule atMost(const Subject& subject, LimitOf limit, std::string_view why, std::vector<Lever> levers) {
    return against(limit, ruleOf(subject, Sense::AtMost, why, std::move(levers)));
}

Limit Rule::limit(const design::Design& design, const trade::Catalogue& catalogue) const {
    if (const trade::OwnLimit* own = trade::ownLimit(catalogue.limits, id, design.band.metal))
        return {own->limit, own->comfortable, own->source};
    return book(design, catalogue);
}

Limit Rule::book(const design::Design& design, const trade::Catalogue& catalogue) const {
    return limitOf != nullptr ? limitOf(design, catalogue) : fixed;
}

std::optional<Limit> Rule::upperLimit(const design::Design& design, const trade::Catalogue& catalogue) const {
    if (!upper) return std::nullopt;
    if (const trade::OwnLimit* own = trade::ownLimit(catalogue.limits, upper->id, design.band.metal))
        return Limit{own->limit, own->comfortable, own->source};
    return upper->fixed;
}

Rule between(const Subject& subject, Limit least, Upper most, std::string_view why,
             std::vector<Lever> levers) {
    Rule rule = atLeast(subject, std::move(least), why, std::move(levers));
    rule.upper = std::move(most);
    return rule;
}

Rule orElse(Reorder reorder, Rule rule) {
    rule.reorder = reorder;
    return rule;
}

Rule onMeasure(std::string_view measure, Rule rule) {
    rule.measure = measure;
    return rule;
}

std::span<const Rule> rules() {
    static const std::vector<Rule> kRules = allRules();
    return kRules;
}

const Rule* ruleNamed(std::string_view id) {
    const auto all = rules();
    const auto rule = std::find_if(all.begin(), all.end(), [&](const Rule& r) { return r.id == id; });
    return rule == all.end() ? nullptr : &*rule;
}

std::string_view limitName(const Finding& finding) {
    const Rule* rule = ruleNamed(finding.rule);
    const bool isUpper = rule != nullptr && rule->upper && finding.sense != rule->sense;
    return isUpper ? rule->upper->id : std::string_view(finding.rule);
}

std::string_view subjectOf(const Measure& measure) {
    return std::string_view(measure.id).substr(0, measure.id.find('@'));
}

Verdict judged(double value, Sense sense, const Limit& limit) {
    // Sections are exact to about a nanometre; a wall cut to just the limit holds it.
    constexpr double kExact = 1e-6;
    const double sign = sense == Sense::AtLeast ? 1 : -1;
    // Written this way round so that NaN never passes.
    if (!(sign * (value - limit.limit) >= -kExact)) return Verdict::NoGo;
    if (!(sign * (value - limit.comfortable) >= -kExact)) return Verdict::Marginal;
    return Verdict::Go;
}

}  // namespace bandwright::check
