#include <numbers>

#include "app/report_text.hpp"
#include "base/numbers.hpp"

namespace bandwright::app {

std::string sizeText(const trade::RingSize& size, const TextStyle& style) {
    constexpr int kSizeIndent = 24;
    const double diameter = trade::innerDiameter(size);
    std::string out = base::fixed(diameter, 2) + " mm across, " +
                      base::fixed(diameter * std::numbers::pi, 2) +
                      " mm round: " + trade::formatRingSize(size) + "\n\n";
    for (const trade::SizeRule& rule : trade::sizeRules()) {
        const trade::RingSize same = rule.system == size.system ? size : trade::convert(size, rule.system);
        const std::string across = base::fixed(trade::innerDiameter(same), 2);
        out += padded(trade::formatRingSize(same), kSizeIndent) + padded(across + " mm across", 20) +
               std::string(rule.name) + "\n";
        const auto line = [&](const char* label, std::string_view text) {
            if (text.empty()) return;
            out += std::string(kSizeIndent, ' ') + padded(label, 10) +
                   wrapped(text, style.width, kSizeIndent + 10) + "\n";
        };
        line("rule", rule.rule);
        line("rounding", rule.rounding);
        line("note", rule.note);
        line("source", rule.source);
    }
    return out;
}

}  // namespace bandwright::app
