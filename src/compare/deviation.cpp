#include "compare/deviation.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <tuple>

#include "farthest.hpp"
#include "fit.hpp"
#include "in_parts.hpp"
#include "nominal.hpp"

namespace bandwright::compare {

namespace {

struct Measured {
    double value = 0, area = 0;
};

/// What one feature gathers; the places of its ends are in the ring's frame.
struct Gathered {
    std::vector<Measured> all;
    DeviationAt least, most;
    double area = 0, sum = 0, sizes = 0;
    double extraArea = 0, missingArea = 0, extraVolume = 0, missingVolume = 0;

    void add(const DeviationAt& found, double weight, double beyond) {
        if (all.empty() || found.value < least.value) least = found;
        if (all.empty() || found.value > most.value) most = found;
        all.push_back({found.value, weight});
        area += weight;
        sum += weight * found.value;
        sizes += weight * std::abs(found.value);
        if (found.value > beyond) {
            extraArea += weight;
            extraVolume += weight * found.value;
        } else if (found.value < -beyond) {
            missingArea += weight;
            missingVolume -= weight * found.value;
        }
    }

    void add(const Gathered& other) {
        if (other.all.empty()) return;
        if (all.empty() || other.least.value < least.value) least = other.least;
        if (all.empty() || other.most.value > most.value) most = other.most;
        all.insert(all.end(), other.all.begin(), other.all.end());
        area += other.area;
        sum += other.sum;
        sizes += other.sizes;
        extraArea += other.extraArea;
        missingArea += other.missingArea;
        extraVolume += other.extraVolume;
        missingVolume += other.missingVolume;
    }

    DeviationFigures figures() {
        constexpr double kShare = 0.95;
        DeviationFigures result;
        result.area = area;
        result.least = least;
        result.most = most;
        if (!(area > 0)) return result;
        result.mean = sum / area;
        result.meanSize = sizes / area;
        std::ranges::sort(all, {}, [](const Measured& m) { return std::abs(m.value); });
        double below = 0;
        for (const Measured& m : all) {
            below += m.area;
            result.size95 = std::abs(m.value);
            if (below >= kShare * area) break;
        }
        return result;
    }
};

/// The part and its tag's four bytes: which feature of which body.
using Key = std::tuple<std::size_t, geometry::Feature, geometry::Side, std::uint8_t, std::uint8_t>;
using ByFeature = std::map<Key, Gathered>;

enum class End : std::uint8_t { Least, Most };

class Measurer {
  public:
    Measurer(const Nominal& nominal, const geometry::Triangles& body, const Pose& pose,
             const DeviationOptions& options)
        : nominal_(nominal), body_(body), options_(options) {
        result_.points.reserve(body.points.size());
        for (const Vec3& p : body.points)
            result_.points.push_back(pose(p));
    }

    Deviation measure() {
        overPieces();
        overPoints();
        proveEnd(End::Least);
        proveEnd(End::Most);
        gather();
        barest();
        return std::move(result_);
    }

  private:
    std::array<Vec3, 3> cornersOf(std::size_t triangle) const {
        const auto& t = body_.triangles[triangle];
        return {result_.points[t[0]], result_.points[t[1]], result_.points[t[2]]};
    }

    /// `near` is the nominal's triangle that the last place was nearest to.
    NominalPlace placeAt(const Vec3& p, const Vec3& normal, std::uint32_t& near) const {
        const NominalPlace place = nominal_.hasSeveralParts() ? nominal_.at(p, normal) : nominal_.at(p, near);
        near = place.triangle;
        return place;
    }

    DeviationAt at(const Vec3& p, const Vec3& normal, std::uint32_t& near) const {
        const NominalPlace place = placeAt(p, normal, near);
        return {place.distance, p, nominal_.tagOf(place.triangle), nominal_.partOf(place.triangle)};
    }

    /// Signed distances from one closed body differ by no more than their places are apart.
    double boundOver(const std::array<Vec3, 3>& corners, double value, double mostOff) const {
        return nominal_.hasSeveralParts() ? mostOff : std::min(mostOff, value + reachOf(corners));
    }

    void put(ByFeature& into, const DeviationAt& found, double weight) const {
        into[{found.part, found.tag.feature, found.tag.side, found.tag.owner, found.tag.step}].add(
            found, weight, options_.beyond);
    }

    void tell(double share) const {
        if (options_.progress) options_.progress(share);
    }

    /// The middles of the triangles, or of their pieces where they are large. Three quarters of a small
    /// triangle's area count for its middle, a twelfth for each corner: true for squares of the place.
    void overPieces() {
        const std::size_t count = body_.triangles.size();
        std::vector<double> corners(count);  // area that is left to each corner
        result_.ofTriangle.resize(count);
        for (const End end : {End::Least, End::Most})
            boundsOf(end).assign(count, std::numeric_limits<float>::infinity());
        inStretches(count, 0, 0.5, [&](std::size_t from, std::size_t to, ByFeature& into) {
            std::uint32_t near = 0;
            for (std::size_t i = from; i < to; ++i) {
                const std::array<Vec3, 3> t = cornersOf(i);
                const Vec3 normal = normalOf(t);
                forEachPiece(t, kPlacesApart, [&](const Vec3& middle, double area) {
                    const double whole = 0.5 * length(cross(t[1] - t[0], t[2] - t[0]));
                    const bool isWhole = area > 0.75 * whole;
                    const DeviationAt found = at(middle, normal, near);
                    if (isWhole) {
                        corners[i] = area / 12;
                        const double off = mostFrom(nominal_.corners(near), t) + kNominalTolerance;
                        for (const End end : {End::Least, End::Most})
                            boundsOf(end)[i] = roundedUp(boundOver(t, signOf(end) * found.value, off));
                    }
                    result_.ofTriangle[i] = found.tag;
                    put(into, found, isWhole ? 0.75 * area : area);
                });
            }
        });
        weights_.assign(body_.points.size(), 0);
        normals_.assign(body_.points.size(), {});
        for (std::size_t i = 0; i < count; ++i) {
            const std::array<Vec3, 3> t = cornersOf(i);
            const Vec3 twice = cross(t[1] - t[0], t[2] - t[0]);
            for (const std::uint32_t corner : body_.triangles[i]) {
                weights_[corner] += corners[i];
                normals_[corner] = normals_[corner] + twice;
            }
        }
    }

    void overPoints() {
        const std::size_t count = body_.points.size();
        result_.ofPoint.resize(count);
        inStretches(count, 0.5, 0.8, [&](std::size_t from, std::size_t to, ByFeature& into) {
            std::uint32_t near = 0;
            for (std::size_t i = from; i < to; ++i) {
                const DeviationAt found = at(result_.points[i], unit(normals_[i]), near);
                result_.ofPoint[i] = found.value;
                put(into, found, weights_[i]);
            }
        });
    }

    /// The work on a stretch after the other, so that it shows and can be stopped; what comes out goes to the
    /// features in the order of the pieces.
    template <class Work>
    void inStretches(std::size_t count, double share, double until, const Work& work) {
        constexpr std::size_t kStretches = 20;
        for (std::size_t s = 0; s < kStretches; ++s) {
            const std::size_t begin = count * s / kStretches, end = count * (s + 1) / kStretches;
            std::vector<ByFeature> found(kPieces);
            inParts(end - begin, [&](std::size_t from, std::size_t to) {
                work(begin + from, begin + to, found[pieceAt(end - begin, from)]);
            });
            for (const ByFeature& one : found)
                for (const auto& [key, gathered] : one)
                    features_[key].add(gathered);
            tell(share + (until - share) * static_cast<double>(s + 1) / kStretches);
        }
    }

    /// The least and the most of all places, not only of those that were measured.
    void proveEnd(End end) {
        Farthest best{.value = -std::numeric_limits<double>::infinity(), .at = {}};
        for (const auto& [key, gathered] : features_)
            best.value =
                std::max(best.value, signOf(end) * (end == End::Most ? gathered.most : gathered.least).value);
        const double measured = best.value;
        std::vector<Piece> pieces;
        for (std::uint32_t i = 0; i < boundsOf(end).size(); ++i)
            if (boundsOf(end)[i] > measured + kProvenTo)
                pieces.push_back({cornersOf(i), i, boundsOf(end)[i]});
        const auto look = [&](const Piece& piece, std::uint32_t& near) -> Looked {
            const NominalPlace place = placeAt(piece.middle(), normalOf(cornersOf(piece.triangle)), near);
            const double value = signOf(end) * place.distance;
            return {value, boundOver(piece.corners, value, nominal_.mostOver(piece.corners, place))};
        };
        inParts(pieces.size(), [&](std::size_t from, std::size_t to) {
            std::uint32_t near = 0;
            for (std::size_t i = from; i < to; ++i)
                pieces[i].bound = std::min(pieces[i].bound, look(pieces[i], near).bound);
        });
        std::uint32_t near = 0;
        best = farthest(
            std::move(pieces), best, [&](const Piece& piece) { return look(piece, near); }, kMostPieces);
        if (best.value > measured) put(features_, at(best.at, normalOf(cornersOf(best.triangle)), near), 0);
        (end == End::Most ? result_.nowhereAbove : result_.nowhereBelow) = signOf(end) * best.bound;
    }

    void gather() {
        Gathered whole;
        for (auto& [key, gathered] : features_) {
            whole.add(gathered);
            FeatureDeviation feature;
            feature.tag = gathered.most.tag;
            feature.part = gathered.most.part;
            feature.figures = gathered.figures();
            feature.extraArea = gathered.extraArea;
            feature.missingArea = gathered.missingArea;
            feature.extraVolume = gathered.extraVolume;
            feature.missingVolume = gathered.missingVolume;
            result_.features.push_back(feature);
        }
        result_.whole = whole.figures();
        std::ranges::stable_sort(result_.features, std::greater<>{}, [](const FeatureDeviation& f) {
            return std::max(f.figures.most.value, -f.figures.least.value);
        });
    }

    /// From the design to the body: what no point of the body is near. The nominal's triangles are long and
    /// narrow, so only some of their pieces are asked, each for the area of those before it too.
    void barest() {
        const TriangleTree body(result_.points, body_.triangles);
        const std::size_t count = nominal_.triangles().size();
        std::vector<DeviationAt> barest(kPieces);
        std::vector<double> bare(kPieces);
        inParts(count, [&](std::size_t from, std::size_t to) {
            const std::size_t piece = pieceAt(count, from);
            std::uint32_t near = 0;
            double unasked = 0;
            for (std::size_t i = from; i < to; ++i) {
                const auto number = static_cast<std::uint32_t>(i);
                const std::array<Vec3, 3> corners = nominal_.corners(number);
                forEachPiece(corners, kPlacesApart, [&](const Vec3& middle, double area) {
                    unasked += area;
                    if (unasked < 0.5 * kPlacesApart * kPlacesApart) return;
                    const Nearest nearest = body.nearestFrom(near, middle);
                    const double away = std::sqrt(nearest.squared);
                    near = nearest.triangle;
                    if (away > options_.beyond) bare[piece] += unasked;
                    unasked = 0;
                    if (away > barest[piece].value)
                        barest[piece] = {away, middle, nominal_.tagOf(number), nominal_.partOf(number)};
                });
            }
        });
        for (std::size_t i = 0; i < kPieces; ++i) {
            result_.bareArea += bare[i];
            if (barest[i].value > result_.barest.value) result_.barest = barest[i];
        }
        proveBarest(body);
        tell(1);
    }

    void proveBarest(const TriangleTree& body) {
        std::vector<Piece> pieces;
        for (std::uint32_t i = 0; i < nominal_.triangles().size(); ++i)
            pieces.push_back({nominal_.corners(i), i, std::numeric_limits<double>::infinity()});
        std::uint32_t near = 0;
        const auto look = [&](const Piece& piece) -> Looked {
            const Nearest nearest = body.nearestFrom(near, piece.middle());
            near = nearest.triangle;
            const double away = std::sqrt(nearest.squared);
            return {away,
                    std::min(away + reachOf(piece.corners), mostFrom(body.corners(near), piece.corners))};
        };
        const std::size_t most = kMostPieces + 4 * pieces.size();
        const Farthest best =
            farthest(std::move(pieces), {.value = result_.barest.value, .at = {}}, look, most);
        if (best.value > result_.barest.value)
            result_.barest = {best.value, best.at, nominal_.tagOf(best.triangle),
                              nominal_.partOf(best.triangle)};
        result_.barestAtMost = best.bound + kNominalTolerance;
    }

    static constexpr std::size_t kMostPieces = 200'000;

    static double signOf(End end) { return end == End::Most ? 1 : -1; }
    std::vector<float>& boundsOf(End end) { return end == End::Most ? mostBounds_ : leastBounds_; }

    const Nominal& nominal_;
    const geometry::Triangles& body_;
    const DeviationOptions& options_;
    Deviation result_;
    ByFeature features_;
    /// Of each triangle of the body: what its deviation is never more than, and never less with the sign
    /// turned.
    std::vector<float> mostBounds_, leastBounds_;
    std::vector<double> weights_;
    std::vector<Vec3> normals_;
};

}  // namespace

Deviation deviation(const Designed& designed, const geometry::Triangles& body, const Pose& pose,
                    const DeviationOptions& options) {
    return Measurer(designed.nominal(), body, pose, options).measure();
}

std::vector<double> distances(const Designed& designed, const std::vector<Vec3>& places) {
    const Nominal& nominal = designed.nominal();
    std::vector<double> result(places.size());
    inParts(places.size(), [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i)
            result[i] = nominal.at(places[i]).distance;
    });
    return result;
}

}  // namespace bandwright::compare
