#include <algorithm>
#include <utility>

#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/figures.hpp"
#include "check/rule_list.hpp"
#include "design/field_table.hpp"

namespace bandwright::app {

namespace {

std::string bullet(const std::string& text, const TextStyle& style) {
    return "  - " + wrapped(text, style.width, 4) + "\n";
}

}  // namespace

std::string tolerancesText(const check::StackSummary& summary, const TextStyle& style) {
    std::vector<std::pair<std::string, std::string>> bySource;
    for (const check::Tolerance& t : summary.tolerances) {
        const std::string entry = t.field + " \u00B1" + base::shortestNumber(t.plusMinus);
        const auto known = std::ranges::find_if(bySource, [&](const auto& s) { return s.first == t.source; });
        if (known == bySource.end()) {
            bySource.emplace_back(t.source, entry);
        } else {
            known->second += ", " + entry;
        }
    }
    std::string out = "\nTolerances\n";
    for (auto& [source, entries] : bySource)
        out += bullet(source.append(": ").append(entries), style);
    std::string lot = "Chances of no-go: by root sum of squares, three sigma in each tolerance";
    if (summary.rings + summary.unmade > 0)
        lot += "; and by " + std::to_string(summary.rings) + " rings drawn by lot, each measured anew";
    if (summary.unmade > 0)
        lot += " (" + std::to_string(summary.unmade) +
               " more were drawn, but no ring can be made from their numbers)";
    return out + bullet(lot + ".", style);
}

std::vector<std::string> mendingSentences(const check::Mended& mended, const trade::Catalogue& catalogue) {
    std::vector<std::string> out;
    const auto add = [&](const std::string& sentence, const std::string& rule) {
        const std::string reason(check::measuredBy(rule));
        out.push_back(sentence + (reason.empty() ? "" : ", for " + reason) + ".");
    };
    for (const check::Mending& m : mended.changes) {
        const design::NumberField& field = design::fieldNamed(design::withoutPlaces(m.change.field))->number;
        add("Make " + m.label + " " + check::changeText(m.change, field), m.rule);
    }
    for (const auto& [exchange, rule] : mended.exchanges)
        add(check::exchangeText(exchange, mended.design, catalogue), rule);
    for (const check::Reorder& reorder : mended.reorders)
        add("Change the order of the work: " + std::string(design::doing(reorder.step)) + " before " +
                std::string(design::doing(reorder.before)),
            "");
    return out;
}

std::string mendedText(const check::Mended& mended, const std::vector<std::string>& locked,
                       const std::vector<std::string>& hindrances, const trade::Catalogue& catalogue,
                       const TextStyle& style) {
    std::string out;
    int number = 0;
    for (const std::string& sentence : mendingSentences(mended, catalogue)) {
        out += padded(std::to_string(++number) + ".", 4);
        out += wrapped(sentence, style.width, 4) + "\n";
    }
    std::string left;
    const std::vector<std::string> names = check::gaugeNames(mended.report);
    for (std::size_t i = 0; i < names.size(); ++i) {
        const check::Finding& finding = mended.report.findings[i];
        if (finding.verdict != check::Verdict::NoGo) continue;
        left += (left.empty() ? "" : "; ") + names[i] + ", " + check::inFull(mended.report, finding);
    }
    if (!left.empty()) {
        std::string text =
            wrapped("No ring without no-go was found. What remains: " + left +
                        ". Left alone: " + base::inWords({locked.begin(), locked.end()}, "and") + ".",
                    style.width, 0) +
            "\n";
        if (!hindrances.empty()) text += "\nThere is none with these wishes:\n";
        for (const std::string& hindrance : hindrances)
            text += bullet(hindrance + ".", style);
        return text;
    }
    if (mended.changes.empty() && mended.exchanges.empty() && mended.reorders.empty())
        return "There is no no-go to mend; nothing was changed.\n";
    return out + "\nThe ring is then " + check::name(mended.report.verdict) + ".\n";
}

}  // namespace bandwright::app
