#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "check/figures.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kRuleIndent = 4;
constexpr int kLabel = 8;

/// The number as a limits file has it, so that a share stays one.
std::string shortWithUnit(double value, const std::string& unit) {
    const std::string shown = check::shownUnit(unit);
    return check::withUnit(base::shortestNumber(value), shown.starts_with("%") ? unit : shown);
}

void addLine(std::string& out, const char* label, const std::string& text, const TextStyle& style) {
    out += std::string(kRuleIndent, ' ') + padded(label, kLabel) +
           wrapped(text, style.width, kRuleIndent + kLabel) + "\n";
}

std::string limitText(const check::ListedRule& rule, const check::ListedLimit& limit,
                      const trade::Catalogue& catalogue) {
    const std::string side = rule.sense == check::Sense::AtLeast ? "\u2265 " : "\u2264 ";
    std::string text = side + shortWithUnit(limit.limit, rule.unit);
    if (limit.comfortable != limit.limit)
        text += ", comfortable " + side + shortWithUnit(limit.comfortable, rule.unit);
    std::string metals;
    for (const std::string& id : limit.metals)
        metals += (metals.empty() ? "" : ", ") + catalogue.metal(id)->name;
    return metals.empty() ? text : text + ": " + metals;
}

}  // namespace

std::string rulesText(const std::vector<check::ListedRule>& rules, const trade::Catalogue& catalogue,
                      const TextStyle& style) {
    std::string out =
        std::to_string(rules.size()) + " rules; a limits file (--limits) changes any of them.\n";
    for (const check::ListedRule& rule : rules) {
        out += "\n" + rule.id + ": " + wrapped(rule.measured, style.width, columns(rule.id) + 2) + "\n";
        for (const check::ListedLimit& limit : rule.limits) {
            addLine(out, "limit", limitText(rule, limit, catalogue), style);
            addLine(out, "source", limit.source, style);
        }
        addLine(out, "why", rule.why, style);
    }
    return out;
}

std::string rulesJson(const std::vector<check::ListedRule>& rules) {
    Json list = Json::array();
    for (const check::ListedRule& rule : rules) {
        Json limits = Json::array();
        for (const check::ListedLimit& limit : rule.limits) {
            Json entry = {{"limit", limit.limit}, {"comfortable", limit.comfortable}};
            if (!limit.metals.empty()) entry["metals"] = limit.metals;
            entry["source"] = limit.source;
            limits.push_back(std::move(entry));
        }
        list.push_back({{"rule", rule.id},
                        {"measures", rule.measured},
                        {"unit", rule.unit},
                        {"sense", check::name(rule.sense)},
                        {"limits", std::move(limits)},
                        {"why", rule.why}});
    }
    return Json{{"rules", std::move(list)}}.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bandwright::app
