#pragma once

#include <array>

namespace bandwright {

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

}  // namespace bandwright
