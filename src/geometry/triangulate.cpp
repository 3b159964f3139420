#include "triangulate.hpp"

#include <algorithm>

namespace bandwright::geometry {

namespace {

using Vertex = PlaneRegion::Vertex;
/// A stretch of the sweep line inside the region, between the edge below it and the edge above. What lies
/// left of its frontier, a chain of vertices from the lower edge to the upper, is already cut into triangles;
/// seen from the right the chain has no corner that could still be cut off.
struct Cell {
    Index lowerEnd, upperEnd;  ///< right-hand ends of the two edges
    std::vector<Index> frontier;
};

class Sweep {
  public:
    Sweep(const PlaneRegion& region, std::vector<std::array<Index, 3>>& triangles)
        : vertices_(region.vertices), triangles_(triangles) {}

    void run() {
        triangles_.reserve(triangles_.size() + vertices_.size());
        // A ring has hundreds of small regions: their memory is used again.
        static thread_local std::vector<Index> order;
        order.resize(vertices_.size());
        for (Index i = 0; i < order.size(); ++i) {
            if (vertices_[i].next == PlaneRegion::kOpen || vertices_[i].before == PlaneRegion::kOpen)
                throw OutlinesCross("an outline is open");
            order[i] = i;
        }
        std::sort(order.begin(), order.end(), [&](Index a, Index b) { return before(a, b); });
        for (const Index w : order)
            visit(w);
        if (!cells_.empty()) throw OutlinesCross("an outline does not close");
    }

  private:
    bool before(Index a, Index b) const {
        const Vertex& p = vertices_[a];
        const Vertex& q = vertices_[b];
        if (p.u != q.u) return p.u < q.u;
        if (p.v != q.v) return p.v < q.v;
        return a < b;
    }

    /// Twice the area of the triangle, positive counter-clockwise.
    double turn(Index a, Index b, Index c) const {
        const Vertex& p = vertices_[a];
        const Vertex& q = vertices_[b];
        const Vertex& r = vertices_[c];
        return (q.u - p.u) * (r.v - p.v) - (q.v - p.v) * (r.u - p.u);
    }

    void emit(Index a, Index b, Index c) { triangles_.push_back({a, b, c}); }

    std::size_t cellWithLowerEnd(Index w) const {
        for (std::size_t i = 0; i < cells_.size(); ++i) {
            if (cells_[i].lowerEnd == w) return i;
        }
        throw OutlinesCross("outlines cross");
    }

    std::size_t cellWithUpperEnd(Index w) const {
        for (std::size_t i = 0; i < cells_.size(); ++i) {
            if (cells_[i].upperEnd == w) return i;
        }
        throw OutlinesCross("outlines cross");
    }

    /// Each puts w at one end of a frontier, after cutting off all it sees from there.
    void growAtUpper(std::vector<Index>& f, Index w) {
        while (f.size() > 1 && turn(f[f.size() - 2], w, f.back()) > 0) {
            emit(f[f.size() - 2], w, f.back());
            f.pop_back();
        }
        f.push_back(w);
    }

    void growAtLower(std::vector<Index>& f, Index w) {
        std::size_t gone = 0;
        while (gone + 1 < f.size() && turn(f[gone], w, f[gone + 1]) > 0) {
            emit(f[gone], w, f[gone + 1]);
            ++gone;
        }
        if (gone > 0) {
            f[gone - 1] = w;
            f.erase(f.begin(), f.begin() + static_cast<std::ptrdiff_t>(gone - 1));
        } else {
            f.insert(f.begin(), w);
        }
    }

    void visit(Index w) {
        const Index p = vertices_[w].before;
        const Index q = vertices_[w].next;
        const bool cameFromLeft = before(p, w);
        const bool goesRight = before(w, q);
        if (cameFromLeft && goesRight) {
            Cell& cell = cells_[cellWithLowerEnd(w)];
            growAtLower(cell.frontier, w);
            cell.lowerEnd = q;
        } else if (!cameFromLeft && !goesRight) {
            Cell& cell = cells_[cellWithUpperEnd(w)];
            growAtUpper(cell.frontier, w);
            cell.upperEnd = p;
        } else if (goesRight) {
            turn(p, w, q) > 0 ? start(w, q, p) : split(w, p, q);
        } else {
            turn(p, w, q) > 0 ? end(w) : merge(w);
        }
    }

    /// Whether w lies above the edge that ends at `edgeEnd` and is the lower (upper) bound of a cell.
    bool isAboveLower(const Cell& cell, Index w) const {
        return turn(vertices_[cell.lowerEnd].before, cell.lowerEnd, w) > 0;
    }
    bool isBelowUpper(const Cell& cell, Index w) const {
        return turn(cell.upperEnd, vertices_[cell.upperEnd].next, w) > 0;
    }

    void start(Index w, Index lowerEnd, Index upperEnd) {
        std::size_t at = 0;
        while (at < cells_.size() && isAboveLower(cells_[at], w))
            ++at;
        Cell cell{lowerEnd, upperEnd, {}};
        cell.frontier.reserve(vertices_.size());
        cell.frontier.push_back(w);
        cells_.insert(cells_.begin() + static_cast<std::ptrdiff_t>(at), std::move(cell));
    }

    void split(Index w, Index p, Index q) {
        const auto found = std::find_if(cells_.begin(), cells_.end(), [&](const Cell& cell) {
            return isAboveLower(cell, w) && isBelowUpper(cell, w);
        });
        if (found == cells_.end()) throw OutlinesCross("outlines cross");
        const std::vector<Index> f = std::move(found->frontier);
        const auto last =
            std::max_element(f.begin(), f.end(), [&](Index a, Index b) { return before(a, b); });
        std::vector<Index> lower(f.begin(), last + 1);
        std::vector<Index> upper(last, f.end());
        growAtUpper(lower, w);
        growAtLower(upper, w);
        Cell above{q, found->upperEnd, std::move(upper)};
        found->frontier = std::move(lower);
        found->upperEnd = p;
        cells_.insert(found + 1, std::move(above));
    }

    void end(Index w) {
        const std::size_t at = cellWithLowerEnd(w);
        if (cells_[at].upperEnd != w) throw OutlinesCross("outlines cross");
        const std::vector<Index>& f = cells_[at].frontier;
        for (std::size_t i = 0; i + 1 < f.size(); ++i) {
            if (turn(f[i], w, f[i + 1]) <= 0) throw OutlinesCross("outlines cross");
            emit(f[i], w, f[i + 1]);
        }
        cells_.erase(cells_.begin() + static_cast<std::ptrdiff_t>(at));
    }

    void merge(Index w) {
        const std::size_t below = cellWithUpperEnd(w);
        const std::size_t above = cellWithLowerEnd(w);
        if (above != below + 1) throw OutlinesCross("outlines cross");
        growAtUpper(cells_[below].frontier, w);
        growAtLower(cells_[above].frontier, w);
        std::vector<Index>& f = cells_[below].frontier;
        f.insert(f.end(), cells_[above].frontier.begin() + 1, cells_[above].frontier.end());
        cells_[below].upperEnd = cells_[above].upperEnd;
        cells_.erase(cells_.begin() + static_cast<std::ptrdiff_t>(above));
    }

    const std::vector<Vertex>& vertices_;
    std::vector<std::array<Index, 3>>& triangles_;
    std::vector<Cell> cells_;  ///< from below upwards
};

}  // namespace

void triangulate(const PlaneRegion& region, std::vector<std::array<std::uint32_t, 3>>& triangles) {
    Sweep(region, triangles).run();
}

}  // namespace bandwright::geometry
