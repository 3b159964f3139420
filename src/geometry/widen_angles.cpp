#include <cmath>

#include "triangulate.hpp"

namespace bandwright::geometry {

namespace {

/// Edges are numbered by triangle and corner: edge 3 t + k runs from corner k of triangle t to the next.
class Exchange {
  public:
    /// Memory that is used again: a ring has hundreds of small regions.
    struct Memory {
        struct Leaving {
            Index edge, to;
        };
        std::vector<Index> first, filled;  ///< of each vertex, places in `leaving`
        std::vector<Leaving> leaving;      ///< edges in the order of where they begin
        std::vector<Index> twin, open;
    };

    Exchange(const PlaneRegion& region, double widest, std::vector<std::array<Index, 3>>& triangles,
             Memory& memory)
        : vertices_(region.vertices),
          widest_(widest),
          triangles_(triangles),
          twin_(memory.twin),
          open_(memory.open) {
        findTwins(memory);
    }

    void widenAngles() {
        exchangeWhere([&](Index edge) { return isBetterExchanged(edge); });
    }

    void leaveCurve(const std::vector<bool>& onCurve) {
        exchangeWhere([&](Index edge) {
            const Quad q = quad(edge);
            return onCurve[q.a] && onCurve[q.b] && !(onCurve[q.c] && onCurve[q.d]) && canBeExchanged(q);
        });
    }

  private:
    template <class Wanted>
    void exchangeWhere(const Wanted& isWanted) {
        open_.clear();
        for (Index edge = 0; edge < twin_.size(); ++edge) {
            if (twin_[edge] != PlaneRegion::kOpen && twin_[edge] > edge) open_.push_back(edge);
        }
        while (!open_.empty()) {
            const Index edge = open_.back();
            open_.pop_back();
            if (twin_[edge] != PlaneRegion::kOpen && isWanted(edge)) exchange(edge);
        }
    }

    /// The edge from a to b and the third corners of the triangles on its left and right.
    struct Quad {
        Index a, b, c, d;
    };
    Quad quad(Index edge) const {
        return {start(edge), start(after(edge)), start(after(after(edge))), start(after(after(twin_[edge])))};
    }

    bool canBeExchanged(const Quad& q) const {
        const double reach = std::abs(arrow(q.c, q.d).u);
        if (reach > widest_ && reach > std::abs(arrow(q.a, q.b).u)) return false;
        return cross(arrow(q.d, q.b), arrow(q.d, q.c)) > 0 && cross(arrow(q.c, q.a), arrow(q.c, q.d)) > 0;
    }

    static Index after(Index edge) { return edge % 3 == 2 ? edge - 2 : edge + 1; }
    Index start(Index edge) const { return triangles_[edge / 3][edge % 3]; }

    /// The other side of each edge, or kOpen on the outline.
    void findTwins(Memory& memory) {
        const auto edges = static_cast<Index>(3 * triangles_.size());
        std::vector<Index>& first = memory.first;
        first.assign(vertices_.size() + 1, 0);
        for (const auto& t : triangles_) {
            for (const Index corner : t)
                ++first[corner + 1];
        }
        for (std::size_t v = 1; v < first.size(); ++v)
            first[v] += first[v - 1];
        std::vector<Memory::Leaving>& leaving = memory.leaving;
        leaving.resize(edges);
        std::vector<Index>& filled = memory.filled;
        filled.assign(first.begin(), first.end() - 1);
        for (Index t = 0; t < triangles_.size(); ++t) {
            const auto [a, b, c] = triangles_[t];
            leaving[filled[a]++] = {3 * t, b};
            leaving[filled[b]++] = {3 * t + 1, c};
            leaving[filled[c]++] = {3 * t + 2, a};
        }
        twin_.assign(edges, PlaneRegion::kOpen);
        for (Index from = 0; from + 1 < first.size(); ++from) {
            for (Index i = first[from]; i < first[from + 1]; ++i) {
                const auto [edge, to] = leaving[i];
                if (to < from) continue;
                for (Index k = first[to]; k < first[to + 1]; ++k) {
                    if (leaving[k].to == from) join(edge, leaving[k].edge);
                }
            }
        }
    }

    struct Arrow {
        double u, v;
    };
    Arrow arrow(Index from, Index to) const {
        return {vertices_[to].u - vertices_[from].u, vertices_[to].v - vertices_[from].v};
    }
    static double cross(Arrow a, Arrow b) { return a.u * b.v - a.v * b.u; }
    static double dot(Arrow a, Arrow b) { return a.u * b.u + a.v * b.v; }

    /// Whether the two angles that look at the edge are more than half a turn together.
    bool isBetterExchanged(Index edge) const {
        const Quad q = quad(edge);
        if (!canBeExchanged(q)) return false;
        const auto [a, b, c, d] = q;
        const double sineC = cross(arrow(c, a), arrow(c, b));
        const double sineD = cross(arrow(d, b), arrow(d, a));
        const double cosineC = dot(arrow(c, a), arrow(c, b));
        const double cosineD = dot(arrow(d, b), arrow(d, a));
        constexpr double kNoticeable = 1e-9;
        return sineC * cosineD + sineD * cosineC <
               -kNoticeable * (sineC * std::abs(cosineD) + sineD * std::abs(cosineC));
    }

    void join(Index edge, Index other) {
        twin_[edge] = other;
        if (other != PlaneRegion::kOpen) twin_[other] = edge;
    }

    void exchange(Index edge) {
        const Index other = twin_[edge];
        const auto [a, b, c, d] = quad(edge);
        const Index bc = twin_[after(edge)];
        const Index ca = twin_[after(after(edge))];
        const Index ad = twin_[after(other)];
        const Index db = twin_[after(after(other))];
        const Index t = 3 * (edge / 3);
        const Index s = 3 * (other / 3);
        triangles_[t / 3] = {d, b, c};
        triangles_[s / 3] = {c, a, d};
        join(t, db);
        join(t + 1, bc);
        join(t + 2, s + 2);
        join(s, ca);
        join(s + 1, ad);
        open_.insert(open_.end(), {t, t + 1, s, s + 1});
    }

    const std::vector<PlaneRegion::Vertex>& vertices_;
    double widest_;
    std::vector<std::array<Index, 3>>& triangles_;
    std::vector<Index>& twin_;
    std::vector<Index>& open_;
};

}  // namespace

void widenAngles(const PlaneRegion& region, double widest, std::vector<std::array<Index, 3>>& triangles) {
    static thread_local Exchange::Memory memory;
    Exchange(region, widest, triangles, memory).widenAngles();
}

void leaveCurve(const PlaneRegion& region, double widest, const std::vector<bool>& onCurve,
                std::vector<std::array<Index, 3>>& triangles) {
    Exchange::Memory memory;
    Exchange(region, widest, triangles, memory).leaveCurve(onCurve);
}

}  // namespace bandwright::geometry
