#include "trade/tolerance.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace bandwright::trade {

namespace {

using ByClass = std::array<double, 4>;  // fine, medium, coarse, very coarse

/// Lengths up to `most` mm.
struct Row {
    double most;
    ByClass plusMinus;
};

// ISO 2768-1, tables 1 to 3, from secondary copies. Table 1 gives no class v below 3 mm; it takes c there.
constexpr std::array<Row, 4> kLengths = {{{3, {0.05, 0.1, 0.2, 0.2}},
                                          {6, {0.05, 0.1, 0.3, 0.5}},
                                          {30, {0.1, 0.2, 0.5, 1}},
                                          {120, {0.15, 0.3, 0.8, 1.5}}}};
constexpr std::array<Row, 3> kEdges = {
    {{3, {0.2, 0.2, 0.4, 0.4}}, {6, {0.5, 0.5, 1, 1}}, {120, {1, 1, 2, 2}}}};
constexpr ByClass kAngles = {1, 1, 1.5, 3};

double find(const auto& rows, ToleranceClass grade, double length) {
    constexpr double kLeast = 0.5;
    const auto row =
        std::find_if(rows.begin(), rows.end() - 1, [&](const Row& r) { return length <= r.most; });
    const double found = row->plusMinus[static_cast<std::size_t>(grade)];
    return length < kLeast ? std::min(found, length / 2) : found;
}

/// Diameters up to `most` mm.
struct FitRow {
    double most, width;
};

// ISO 286-1, IT7; 3 to 6 and 18 to 30 mm from secondary copies, the others from memory and by the standard's
// formula.
constexpr std::array<FitRow, 6> kIt7 = {
    {{3, 0.010}, {6, 0.012}, {10, 0.015}, {18, 0.018}, {30, 0.021}, {50, 0.025}}};

}  // namespace

std::string name(ToleranceClass grade) {
    switch (grade) {
        case ToleranceClass::Fine:
            return "fine";
        case ToleranceClass::Medium:
            return "medium";
        case ToleranceClass::Coarse:
            return "coarse";
        case ToleranceClass::VeryCoarse:
            return "very-coarse";
    }
    return {};
}

double lengthTolerance(ToleranceClass grade, double length) {
    return find(kLengths, grade, length);
}

double edgeTolerance(ToleranceClass grade, double length) {
    return find(kEdges, grade, length);
}

double fitTolerance(double diameter) {
    const auto row =
        std::find_if(kIt7.begin(), kIt7.end() - 1, [&](const FitRow& r) { return diameter <= r.most; });
    return row->width / 2;
}

double angleTolerance(ToleranceClass grade) {
    return kAngles[static_cast<std::size_t>(grade)];
}

}  // namespace bandwright::trade
