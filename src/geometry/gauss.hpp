#pragma once

#include <array>
#include <cmath>

#include "arc.hpp"
#include "arithmetic.hpp"

namespace bandwright::geometry {

/// Calls visit(t, weight) for the nodes of the 12-point Gauss-Legendre rule on 0..1 (Abramowitz & Stegun,
/// table 25.4): exact for polynomials up to degree 23.
template <class Visit>
void gauss(Visit&& visit) {
    constexpr std::array<std::array<double, 2>, 6> kHalf = {{{0.125233408511468915, 0.249147045813402785},
                                                             {0.367831498998180194, 0.233492536538354809},
                                                             {0.587317954286617447, 0.203167426723065922},
                                                             {0.769902674194304687, 0.160078328543346226},
                                                             {0.904117256370474857, 0.106939325995318431},
                                                             {0.981560634246719251, 0.047175336386511827}}};
    for (const auto& [node, weight] : kHalf) {
        visit((1 - node) / 2, weight / 2);
        visit((1 + node) / 2, weight / 2);
    }
}

/// The same with 3 nodes: exact for polynomials up to degree 5.
template <class Visit>
void gauss3(Visit&& visit) {
    constexpr double kNode = 0.774596669241483377;
    visit((1 - kNode) / 2, 5.0 / 18);
    visit(0.5, 8.0 / 18);
    visit((1 + kNode) / 2, 5.0 / 18);
}

/// Calls visit(p, step) along a segment, for integrals along it: that of f dz is the sum of f(p) step.z, that
/// of f dr the sum of f(p) step.r. For f a polynomial exact up to degree 5 on lines, to rounding on arcs.
template <class Visit>
void alongSegment(const Segment& s, Visit&& visit) {
    if (!s.isArc()) {
        const Vec2 way = s.to - s.from;
        gauss3([&](double t, double weight) { visit(s.from + t * way, weight * way); });
        return;
    }
    const double whole = sweep(s);
    const int parts = 1 + static_cast<int>(std::abs(whole) / (kPi / 2));
    const double turn = whole / parts;
    const Vec2 start = s.from - s.centre;
    for (int k = 0; k < parts; ++k) {
        gauss([&](double t, double weight) {
            const double c = std::cos((k + t) * turn);
            const double n = std::sin((k + t) * turn);
            const Vec2 out{c * start.z - n * start.r, n * start.z + c * start.r};
            visit(s.centre + out, weight * turn * Vec2{-out.r, out.z});
        });
    }
}

}  // namespace bandwright::geometry
