#include "geometry/triangles.hpp"

#include <algorithm>
#include <bit>
#include <limits>
#include <numeric>

namespace bandwright::geometry {

namespace {

constexpr std::uint32_t kFreeSlot = std::numeric_limits<std::uint32_t>::max();

std::uint64_t mixed(std::uint64_t h) {
    // The last step of MurmurHash3 (Appleby, public domain): every bit of the result hangs on all of h.
    h = (h ^ (h >> 33U)) * 0xff51afd7ed558ccdULL;
    h = (h ^ (h >> 33U)) * 0xc4ceb9fe1a85ec53ULL;
    return h ^ (h >> 33U);
}

std::uint64_t hashOf(const Vec3& p) {
    // 0 and -0 are one place.
    const auto bits = [](double c) { return std::bit_cast<std::uint64_t>(c + 0.0); };
    return mixed(bits(p.x) + mixed(bits(p.y) + mixed(bits(p.z))));
}

/// How often each edge is used one way more than the other; an edge is known by its lower point first.
class EdgeUses {
  public:
    explicit EdgeUses(std::size_t triangles) : slots_(std::bit_ceil(3 * triangles + 1)) {}

    void add(std::uint32_t from, std::uint32_t to) {
        Slot& slot = find(std::min(from, to), std::max(from, to));
        slot.surplus += from < to ? 1 : -1;
    }
    std::int32_t surplus(std::uint32_t from, std::uint32_t to) {
        return find(std::min(from, to), std::max(from, to)).surplus;
    }

  private:
    struct Slot {
        std::uint32_t low = kFreeSlot, high = kFreeSlot;
        std::int32_t surplus = 0;
    };

    Slot& find(std::uint32_t low, std::uint32_t high) {
        const std::size_t mask = slots_.size() - 1;
        std::size_t at = mixed((std::uint64_t{high} << 32U) | low) & mask;
        while (slots_[at].low != kFreeSlot && (slots_[at].low != low || slots_[at].high != high))
            at = (at + 1) & mask;
        slots_[at].low = low;
        slots_[at].high = high;
        return slots_[at];
    }

    std::vector<Slot> slots_;
};

}  // namespace

std::vector<std::uint32_t> weld(std::vector<Vec3>& points) {
    const std::size_t mask = std::bit_ceil(2 * points.size() + 1) - 1;
    std::vector<std::uint32_t> slots(mask + 1, kFreeSlot);
    std::vector<std::uint32_t> numbers(points.size());
    std::uint32_t kept = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 p = points[i];
        std::size_t at = hashOf(p) & mask;
        while (slots[at] != kFreeSlot && points[slots[at]] != p)
            at = (at + 1) & mask;
        if (slots[at] == kFreeSlot) {
            points[kept] = p;
            slots[at] = kept++;
        }
        numbers[i] = slots[at];
    }
    points.resize(kept);
    return numbers;
}

OpenEdges openEdges(const Triangles& surface) {
    EdgeUses uses(surface.triangles.size());
    for (const auto& t : surface.triangles) {
        for (std::size_t i = 0; i < 3; ++i)
            uses.add(t[i], t[(i + 1) % 3]);
    }
    OpenEdges result;
    for (const auto& t : surface.triangles) {
        for (std::size_t i = 0; i < 3; ++i) {
            const std::uint32_t from = t[i], to = t[(i + 1) % 3];
            const std::int32_t surplus = uses.surplus(from, to);
            if ((from < to ? surplus : -surplus) <= 0) continue;
            if (result.count == 0) result.first = 0.5 * (surface.points[from] + surface.points[to]);
            ++result.count;
        }
    }
    return result;
}

std::size_t pieces(const Triangles& surface) {
    std::vector<std::uint32_t> above(surface.points.size());
    std::iota(above.begin(), above.end(), 0U);
    const auto top = [&](std::uint32_t p) {
        while (above[p] != p)
            p = above[p] = above[above[p]];
        return p;
    };
    std::size_t count = surface.points.size();
    for (const auto& t : surface.triangles) {
        for (const std::uint32_t corner : {t[1], t[2]}) {
            const std::uint32_t a = top(t[0]), b = top(corner);
            if (a == b) continue;
            above[std::max(a, b)] = std::min(a, b);
            --count;
        }
    }
    return count;
}

double volume(const Triangles& surface) {
    if (surface.points.empty()) return 0;
    const Vec3 from = surface.points.front();  // near the body, wherever it stands
    double sum = 0;
    for (const auto& t : surface.triangles) {
        const Vec3 a = surface.points[t[0]] - from, b = surface.points[t[1]] - from,
                   c = surface.points[t[2]] - from;
        sum += dot(a, cross(b, c));
    }
    return sum / 6;
}

}  // namespace bandwright::geometry
