#include "check/rule_list.hpp"

#include <algorithm>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/tolerance_stack.hpp"
#include "design/field_table.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

bool sameLimit(const ListedLimit& listed, const Limit& limit) {
    return listed.limit == limit.limit && listed.comfortable == limit.comfortable &&
           listed.source == limit.source;
}

/// Of the lower side of a fit, or of its upper side.
std::vector<ListedLimit> limitsByMetal(const Rule& rule, const trade::Catalogue& catalogue, bool upper) {
    std::vector<ListedLimit> result;
    for (const trade::Metal& metal : catalogue.metals) {
        design::Design design;
        design.band.metal = metal.id;
        const Limit limit =
            upper ? rule.upperLimit(design, catalogue).value() : rule.limit(design, catalogue);
        const auto known =
            std::ranges::find_if(result, [&](const ListedLimit& listed) { return sameLimit(listed, limit); });
        if (known != result.end()) {
            known->metals.push_back(metal.id);
        } else {
            result.push_back({{metal.id}, limit.limit, limit.comfortable, limit.source});
        }
    }
    if (result.size() == 1) result.front().metals.clear();
    return result;
}

}  // namespace

std::string_view measuredBy(std::string_view rule) {
    const Rule* known = ruleNamed(rule);
    return known == nullptr ? std::string_view{} : known->measured;
}

std::vector<ListedRule> listedRules(const trade::Catalogue& catalogue) {
    std::vector<ListedRule> result;
    for (const Rule& rule : rules()) {
        const auto add = [&](std::string_view id, Sense sense, bool upper) {
            result.push_back({std::string(id), std::string(rule.measured), std::string(rule.unit), sense,
                              limitsByMetal(rule, catalogue, upper), std::string(rule.why)});
        };
        add(rule.id, rule.sense, false);
        if (rule.upper) add(rule.upper->id, Sense::AtMost, true);
    }
    return result;
}

namespace {

std::string suchAs(const std::string& word, const std::vector<std::string_view>& names) {
    const std::vector<std::string_view> near = base::nearestNames(word, names, 3);
    return near.empty() ? "" : ", such as " + base::inWords(near, "or");
}

void requireTolerances(const trade::Catalogue& catalogue) {
    std::vector<std::string_view> names{kBore};
    for (const design::Field& field : design::fieldTable())
        if (field.control == design::Control::Thimble) names.push_back(field.path);
    for (const trade::OwnTolerance& own : catalogue.tolerances) {
        if (std::ranges::find(names, design::withoutPlaces(own.field)) != names.end()) continue;
        throw base::InputError(own.place + ".field: found " + base::inQuotes(own.field) +
                               "; allowed is the path of a number of a design" + suchAs(own.field, names));
    }
}

}  // namespace

BookLimit bookLimit(const Finding& finding, const design::Design& design, const trade::Catalogue& catalogue) {
    const std::string name(limitName(finding));
    const Rule* rule = ruleNamed(finding.rule);
    if (rule == nullptr) return {name, finding.limit, finding.comfortable, true};
    const bool isUpper = rule->upper && finding.sense != rule->sense;
    const Limit book = isUpper ? rule->upper->fixed : rule->book(design, catalogue);
    return {name, book.limit, book.comfortable, isUpper || rule->limitOf == nullptr};
}

void requireLimits(const trade::Catalogue& catalogue) {
    requireTolerances(catalogue);
    std::vector<std::string_view> names;
    std::vector<Sense> senses;
    for (const Rule& rule : rules()) {
        names.push_back(rule.id);
        senses.push_back(rule.sense);
        if (!rule.upper) continue;
        names.push_back(rule.upper->id);
        senses.push_back(Sense::AtMost);
    }
    for (const trade::OwnLimit& own : catalogue.limits) {
        const auto known = std::ranges::find(names, own.rule);
        if (known == names.end()) {
            throw base::InputError(own.place + ".rule: found " + base::inQuotes(own.rule) +
                                   "; allowed is the name of a rule" + suchAs(own.rule, names));
        }
        const Sense sense = senses[static_cast<std::size_t>(known - names.begin())];
        const double good = sense == Sense::AtLeast ? 1 : -1;
        if (good * (own.comfortable - own.limit) < 0) {
            throw base::InputError(own.place + ".comfortable: found " +
                                   base::shortestNumber(own.comfortable) + "; allowed is " +
                                   (sense == Sense::AtLeast ? "at least" : "at most") + " the limit, " +
                                   base::shortestNumber(own.limit));
        }
    }
}

}  // namespace bandwright::check
