#include <cstdio>
#include <numbers>

#include "app/report_text.hpp"

namespace bandwright {

namespace {

std::string mm(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.2f mm", value);
    return text;
}

}  // namespace

std::string sizeText(const RingSize& size, const TextStyle& style) {
    constexpr int kIndent = 24;
    const double diameter = innerDiameter(size);
    std::string out = mm(diameter) + " across, " + mm(diameter * std::numbers::pi) +
                      " round: " + formatRingSize(size) + "\n\n";
    for (const SizeRule& rule : sizeRules()) {
        const RingSize same = rule.system == size.system ? size : convert(size, rule.system);
        const std::string across = mm(innerDiameter(same));
        out += padded(formatRingSize(same), kIndent) + padded(across + " across", 20) +
               std::string(rule.name) + "\n";
        const auto line = [&](const char* label, std::string_view text) {
            if (text.empty()) return;
            out += std::string(kIndent, ' ') + padded(label, 10) + wrapped(text, style.width, kIndent + 10) +
                   "\n";
        };
        line("rule", rule.rule);
        line("rounding", rule.rounding);
        line("note", rule.note);
        line("source", rule.source);
    }
    return out;
}

}  // namespace bandwright
