#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <unordered_map>

#include "arithmetic.hpp"
#include "boundary_build.hpp"

namespace bandwright::geometry {

namespace {

std::uint32_t startOf(const Boundary& body, EdgeUse use) {
    const BoundaryEdge& edge = body.edges[use.edge];
    return use.forward ? edge.from : edge.to;
}

std::uint32_t endOf(const Boundary& body, EdgeUse use) {
    return startOf(body, {use.edge, !use.forward});
}

/// A loop with its outline on the strip, unrolled without a jump.
struct StripLoop {
    BoundaryLoop uses;
    std::vector<StripPlace> places;  ///< the last is the first again, `rounds` turns on
    int rounds = 0;                  ///< how often it goes round the axis
    double area = 0;                 ///< positive when it encloses something of the strip on its left
    double least = 0;                ///< along
};

StripLoop unrolled(BoundaryLoop uses, std::vector<StripPlace> places) {
    StripLoop loop{std::move(uses), std::move(places)};
    loop.places.push_back(loop.places.front());
    loop.least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + 1 < loop.places.size(); ++i) {
        const StripPlace& from = loop.places[i];
        StripPlace& to = loop.places[i + 1];
        to.turn = from.turn + std::remainder(to.turn - from.turn, kTurn);
        loop.area += (from.along + to.along) / 2 * (to.turn - from.turn);
        loop.least = std::min(loop.least, to.along);
    }
    loop.rounds = static_cast<int>(std::lround((loop.places.back().turn - loop.places.front().turn) / kTurn));
    return loop;
}

std::vector<StripLoop> loopsOf(const Boundary& body, const Strip& strip) {
    // On one strip a vertex begins one edge and ends one.
    std::unordered_map<std::uint32_t, std::size_t> from;
    for (std::size_t i = 0; i < strip.uses.size(); ++i)
        from.emplace(startOf(body, strip.uses[i].use), i);
    std::vector<bool> taken(strip.uses.size(), false);
    std::vector<StripLoop> loops;
    for (std::size_t first = 0; first < strip.uses.size(); ++first) {
        BoundaryLoop uses;
        std::vector<StripPlace> places;
        for (std::size_t i = first; !taken[i]; i = from.at(endOf(body, strip.uses[i].use))) {
            taken[i] = true;
            uses.push_back(strip.uses[i].use);
            places.insert(places.end(), strip.uses[i].places.begin(), strip.uses[i].places.end());
        }
        if (!uses.empty()) loops.push_back(unrolled(std::move(uses), std::move(places)));
    }
    return loops;
}

/// Whether a line from the place straight back along the profile meets the loop an odd number of times.
bool liesPast(const StripLoop& loop, StripPlace p) {
    bool odd = false;
    for (std::size_t i = 0; i + 1 < loop.places.size(); ++i) {
        const StripPlace& a = loop.places[i];
        const StripPlace& b = loop.places[i + 1];
        const double low = std::min(a.turn, b.turn);
        const double high = std::max(a.turn, b.turn);
        const double turn = p.turn + kTurn * std::ceil((low - p.turn) / kTurn);
        if (turn >= high) continue;
        if (a.along + (turn - a.turn) / (b.turn - a.turn) * (b.along - a.along) < p.along) odd = !odd;
    }
    return odd;
}

/// A face in the making: its loops that go round the axis, or the one round all of it.
struct Piece {
    const StripLoop* lower = nullptr;
    const StripLoop* upper = nullptr;
    const StripLoop* outer = nullptr;
    std::vector<const StripLoop*> inner{};

    bool holds(StripPlace p) const {
        if (outer != nullptr) return liesPast(*outer, p);
        return (lower == nullptr || liesPast(*lower, p)) && !liesPast(*upper, p);
    }
};

std::vector<Piece> piecesOf(const std::vector<StripLoop>& loops, bool reachesAxis) {
    std::vector<const StripLoop*> lower;
    std::vector<const StripLoop*> upper;
    std::vector<Piece> pieces;
    for (const StripLoop& loop : loops) {
        if (loop.rounds < 0) lower.push_back(&loop);
        if (loop.rounds > 0) upper.push_back(&loop);
        if (loop.rounds == 0 && loop.area > 0) pieces.push_back({.outer = &loop});
    }
    const auto first = [](const StripLoop* a, const StripLoop* b) { return a->least < b->least; };
    std::sort(lower.begin(), lower.end(), first);
    std::sort(upper.begin(), upper.end(), first);
    // A face that reaches the axis has no lower loop.
    if (reachesAxis && upper.size() == lower.size() + 1) lower.insert(lower.begin(), nullptr);
    if (lower.size() != upper.size()) throw std::logic_error("a face that runs round an axis does not close");
    for (std::size_t i = 0; i < upper.size(); ++i)
        pieces.push_back({.lower = lower[i], .upper = upper[i]});
    for (const StripLoop& loop : loops) {
        if (loop.rounds != 0 || loop.area > 0) continue;
        // Not one that symmetry puts above a vertex of another loop.
        constexpr double kShare = 0.382;
        const StripPlace& a = loop.places[0];
        const StripPlace& b = loop.places[1];
        const StripPlace place{a.along + kShare * (b.along - a.along), a.turn + kShare * (b.turn - a.turn)};
        Piece* round = nullptr;
        for (Piece& piece : pieces) {
            if (!piece.holds(place)) continue;
            const bool smaller = round == nullptr || round->outer == nullptr ||
                                 (piece.outer != nullptr && piece.outer->area < round->outer->area);
            if (smaller) round = &piece;
        }
        if (round == nullptr) throw std::logic_error("a loop of a face lies in none");
        round->inner.push_back(&loop);
    }
    return pieces;
}

}  // namespace

void addFaces(Boundary& body, const Strip& strip) {
    const std::vector<StripLoop> loops = loopsOf(body, strip);
    const bool plane = strip.surface.kind == SurfaceKind::Plane;
    for (const Piece& piece : piecesOf(loops, strip.reachesAxis)) {
        BoundaryFace face{strip.surface, strip.reversed, strip.tag, FaceSpan::Patch, {}, 0};
        const auto add = [&](const StripLoop* loop) {
            if (loop != nullptr) face.loops.push_back(loop->uses);
        };
        if (!plane && piece.outer == nullptr)
            face.span = piece.lower != nullptr ? FaceSpan::Belt : FaceSpan::Cap;
        add(piece.outer);
        add(plane && strip.widens ? piece.upper : piece.lower);
        add(plane && strip.widens ? piece.lower : piece.upper);
        for (const StripLoop* loop : piece.inner)
            add(loop);
        body.faces.push_back(std::move(face));
    }
}

void findShells(Boundary& body) {
    std::vector<std::uint32_t> root(body.faces.size());
    std::iota(root.begin(), root.end(), 0U);
    const auto find = [&](std::uint32_t f) {
        while (root[f] != f)
            f = root[f] = root[root[f]];
        return f;
    };
    constexpr auto kNone = std::numeric_limits<std::uint32_t>::max();
    std::vector<std::uint32_t> faceAt(body.edges.size(), kNone);
    for (std::uint32_t f = 0; f < body.faces.size(); ++f) {
        for (const BoundaryLoop& loop : body.faces[f].loops) {
            for (const EdgeUse& use : loop) {
                std::uint32_t& other = faceAt[use.edge];
                if (other == kNone) {
                    other = f;
                } else {
                    root[find(f)] = find(other);
                }
            }
        }
    }
    std::vector<std::uint32_t> number(body.faces.size(), kNone);
    body.shells = 0;
    for (std::uint32_t f = 0; f < body.faces.size(); ++f) {
        std::uint32_t& shell = number[find(f)];
        if (shell == kNone) shell = body.shells++;
        body.faces[f].shell = shell;
    }
}

}  // namespace bandwright::geometry
