#include "farthest.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bandwright::compare {

namespace {

/// By its longest side.
std::array<std::array<Vec3, 3>, 2> halves(const std::array<Vec3, 3>& t) {
    std::size_t side = 0;
    for (std::size_t i = 1; i < 3; ++i)
        if (distance(t[i], t[(i + 1) % 3]) > distance(t[side], t[(side + 1) % 3])) side = i;
    const Vec3 a = t[side], b = t[(side + 1) % 3], c = t[(side + 2) % 3], middle = 0.5 * (a + b);
    return {{{a, middle, c}, {middle, b, c}}};
}

bool isLess(const Piece& a, const Piece& b) {
    return a.bound < b.bound;
}

}  // namespace

float roundedUp(double value) {
    const auto near = static_cast<float>(value);
    return near < value ? std::nextafter(near, std::numeric_limits<float>::infinity()) : near;
}

double mostFrom(const std::array<Vec3, 3>& triangle, const std::array<Vec3, 3>& corners) {
    double most = 0;
    for (const Vec3& corner : corners)
        most = std::max(most, nearestOn(triangle, corner).squared);
    return std::sqrt(most);
}

double reachOf(const std::array<Vec3, 3>& corners) {
    const Vec3 middle = 1.0 / 3 * (corners[0] + corners[1] + corners[2]);
    double reach = 0;
    for (const Vec3& corner : corners)
        reach = std::max(reach, distance(corner, middle));
    return reach;
}

Farthest farthest(std::vector<Piece> open, Farthest found, const std::function<Looked(const Piece&)>& look,
                  std::size_t mostPieces) {
    std::erase_if(open, [&](const Piece& piece) { return piece.bound <= found.value + kProvenTo; });
    std::ranges::make_heap(open, isLess);
    std::size_t looked = 0;
    while (!open.empty() && open.front().bound > found.value + kProvenTo && looked < mostPieces) {
        std::ranges::pop_heap(open, isLess);
        const Piece piece = open.back();
        open.pop_back();
        for (const std::array<Vec3, 3>& corners : halves(piece.corners)) {
            Piece half{corners, piece.triangle, piece.bound};
            const Looked at = look(half);
            ++looked;
            if (at.value > found.value) {
                found.value = at.value;
                found.at = half.middle();
                found.triangle = half.triangle;
            }
            half.bound = std::min(half.bound, at.bound);
            if (half.bound <= found.value + kProvenTo) continue;
            open.push_back(half);
            std::ranges::push_heap(open, isLess);
        }
    }
    // What was laid aside on the way is above the best by what is good enough at most.
    found.bound = found.value + kProvenTo;
    if (!open.empty()) found.bound = std::max(found.bound, open.front().bound);
    return found;
}

}  // namespace bandwright::compare
