#include "dividing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sentences.hpp"
#include "trade/tools.hpp"

namespace bandwright::route {

namespace {

constexpr double kRound = 360;       // degrees
constexpr double kSameAngle = 1e-9;  // degrees: rounding

/// From the zero onwards, always the same way round, so that the worm's play stays on one side.
double onwards(double angle, double zero) {
    const double there = std::fmod(angle - zero, kRound);
    const double positive = there < 0 ? there + kRound : there;
    return kRound - positive < kSameAngle ? 0 : positive;
}

/// How many steps the divider has in one turn of the work when this circle is used.
double stepsRound(const trade::Divider& divider, int circle) {
    switch (divider.kind) {
        case trade::DividerKind::Degrees:
            return kRound;
        case trade::DividerKind::Plate:
            return std::max(1, circle);
        case trade::DividerKind::Head:
            break;
    }
    return divider.ratio * std::max(1, circle);
}

double worstError(const std::vector<double>& angles, double zero, double steps) {
    double worst = 0;
    for (const double angle : angles)
        worst = std::max(worst, std::abs(std::remainder(onwards(angle, zero), kRound / steps)));
    return worst;
}

}  // namespace

trade::Divider usualDivider() {
    const trade::Dividing usual = trade::usualTools().dividing;
    return {trade::DividerKind::Head, usual.ratio, usual.circles};
}

int bestCircle(const std::vector<double>& angles, double zero, const trade::Divider& divider) {
    double least = divider.kind == trade::DividerKind::Plate
                       ? std::numeric_limits<double>::infinity()
                       : worstError(angles, zero, stepsRound(divider, 0));
    int best = 0;
    if (divider.kind == trade::DividerKind::Degrees) return best;
    std::vector<int> circles = divider.circles;
    std::ranges::sort(circles);
    for (const int circle : circles) {
        const double error = worstError(angles, zero, stepsRound(divider, circle));
        if (error >= least - kSameAngle) continue;
        least = error;
        best = circle;
    }
    return best;
}

std::vector<Indexing> indexed(const std::vector<double>& angles, double zero, const trade::Divider& divider,
                              int circle) {
    constexpr double kMinutes = 60;
    const double steps = stepsRound(divider, circle);
    std::vector<Indexing> readings;
    for (const double angle : angles) {
        Indexing reading;
        reading.place = static_cast<int>(readings.size()) + 1;
        reading.angle = onwards(angle, zero);
        const int taken = static_cast<int>(std::lround(reading.angle / kRound * steps));
        const int perTurn = divider.kind == trade::DividerKind::Degrees ? 1 : std::max(1, circle);
        const bool crank = divider.kind != trade::DividerKind::Plate;
        reading.turns = crank ? taken / perTurn : 0;
        reading.holes = crank ? taken % perTurn : taken;
        reading.circle = circle;
        reading.errorMinutes = (taken * kRound / steps - reading.angle) * kMinutes;
        if (std::abs(reading.errorMinutes) < kSameAngle * kMinutes) reading.errorMinutes = 0;
        reading.set = inWords(reading, divider);
        readings.push_back(reading);
    }
    return readings;
}

double angleSet(const Indexing& reading, const trade::Divider& divider) {
    const double steps = stepsRound(divider, reading.circle);
    const int perTurn = divider.kind == trade::DividerKind::Degrees ? 1 : std::max(1, reading.circle);
    return (reading.turns * perTurn + reading.holes) * kRound / steps;
}

std::string inWords(const Indexing& reading, const trade::Divider& divider) {
    const std::string holes =
        counted(reading.holes, "hole") + (reading.circle > 0 ? " of " + std::to_string(reading.circle) : "");
    if (reading.turns + reading.holes == 0) return "the zero";
    switch (divider.kind) {
        case trade::DividerKind::Degrees:
            return counted(reading.turns, "degree");
        case trade::DividerKind::Plate:
            return "hole " + std::to_string(reading.holes) + " of " + std::to_string(reading.circle);
        case trade::DividerKind::Head:
            break;
    }
    if (reading.holes == 0) return counted(reading.turns, "turn");
    return reading.turns == 0 ? holes : counted(reading.turns, "turn") + " and " + holes;
}

}  // namespace bandwright::route
