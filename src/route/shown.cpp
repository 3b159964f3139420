#include "route/shown.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"

namespace bandwright::route {

namespace {

constexpr int kLeastDecimals = 2, kMostDecimals = 3;  // a micrometer shows no more
constexpr double kRounding = 1e-9;                    // what the sums of doubles may be off

/// Whether that many decimals leave the value within the limits, and the limits apart where they are.
bool areEnough(const Reading& reading, int decimals) {
    const double scale = std::pow(10, decimals);
    const double value = std::round(reading.value * scale);
    const double least = std::ceil(reading.least * scale - kRounding);
    const double most = std::floor(reading.most * scale + kRounding);
    const bool apart = reading.most - reading.least < kRounding || least < most;
    return apart && least <= value && value <= most;
}

int decimalsFor(const Reading& reading) {
    for (int decimals = kLeastDecimals; decimals < kMostDecimals; ++decimals)
        if (areEnough(reading, decimals)) return decimals;
    return kMostDecimals;
}

std::string unitOf(Span span) {
    switch (span) {
        case Span::Angle:
            return "\u00B0";
        case Span::Mass:
            return "g";
        case Span::Diameter:
        case Span::Along:
        case Span::Radial:
        case Span::HoleDiameter:
            break;
    }
    return "mm";
}

}  // namespace

Shown shown(const Reading& reading) {
    const int decimals = decimalsFor(reading);
    const double scale = std::pow(10, decimals);
    const double value = std::round(reading.value * scale) / scale;
    const double up = std::min(value, std::ceil(reading.least * scale - kRounding) / scale);
    const double down = std::max(value, std::floor(reading.most * scale + kRounding) / scale);
    return {base::fixed(reading.value, decimals), base::fixed(up, decimals), base::fixed(down, decimals),
            unitOf(reading.span)};
}

std::string inOneLine(const Shown& shown) {
    const std::string space = shown.unit == "\u00B0" ? "" : " ";
    std::string value = shown.value + space + shown.unit;
    if (shown.least == shown.most) return value;
    return value + " (" + shown.least + " to " + shown.most + ")";
}

std::string inOneLine(const Cut& cut) {
    std::string text = base::fixed(cut.speed, 0) + " m/min on " +
                       base::shortestNumber(base::roundedTo(cut.diameter, 2)) +
                       " mm: " + base::fixed(cut.spindle, 0) + " rev/min";
    if (cut.clipped) text += " (the fastest there is)";
    if (cut.feed > 0) text += ", feed " + base::fixed(cut.feed, 2) + " mm a turn";
    return text;
}

std::vector<std::string> dialText(const Cut& cut) {
    std::vector<std::string> texts;
    for (const double at : cut.dial) {
        constexpr double kSmall = 0.02;
        texts.push_back(base::fixed(at, at < kSmall ? 3 : 2));
    }
    return texts;
}

std::string doneText(const design::Design& design, design::Stage step) {
    std::string read;
    for (const design::Measured& reading : design.measured) {
        if (reading.stage != step || reading.value == 0) continue;
        read += (read.empty() ? " Read: " : "; ") + std::string(design::kMeasurables[reading.what].label) +
                " " + design::inWords(reading);
        if (!reading.instrument.empty()) read += ", " + reading.instrument;
        if (!reading.date.empty()) read += ", " + reading.date;
    }
    return "Done." + read + (read.empty() ? "" : ".");
}

}  // namespace bandwright::route
