#include <numbers>

#include "app/report_text.hpp"
#include "base/numbers.hpp"

namespace bandwright {

std::string sizeText(const RingSize& size, const TextStyle& style) {
    constexpr int kSizeIndent = 24;
    const double diameter = innerDiameter(size);
    std::string out = fixed(diameter, 2) + " mm across, " + fixed(diameter * std::numbers::pi, 2) +
                      " mm round: " + formatRingSize(size) + "\n\n";
    for (const SizeRule& rule : sizeRules()) {
        const RingSize same = rule.system == size.system ? size : convert(size, rule.system);
        const std::string across = fixed(innerDiameter(same), 2);
        out += padded(formatRingSize(same), kSizeIndent) + padded(across + " mm across", 20) +
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

}  // namespace bandwright
