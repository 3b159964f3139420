#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "compare/compare.hpp"
#include "geometry/feature.hpp"

namespace bandwright::compare {

/// A place on the designed surface, and how far the body's surface is from it, mm.
struct DeviationAt {
    double value = 0;   ///< positive where the body has extra metal, negative where metal is missing
    geometry::Vec3 at;  ///< on the body, in the ring's frame
    geometry::Tag tag;  ///< of the face that is nearest
    std::size_t part = 0;
};

/// Of the body's surface, weighted by its area; mm and mm2.
struct DeviationFigures {
    double area = 0;
    DeviationAt least, most;
    double mean = 0;
    double meanSize = 0;  ///< of the distances without their sign
    double size95 = 0;    ///< the distance, without its sign, that 95 % of the area does not exceed
};

/// Of what of the body is nearest to one feature of the design.
struct FeatureDeviation {
    geometry::Tag tag;
    std::size_t part = 0;
    DeviationFigures figures;
    double extraArea = 0, missingArea = 0;      ///< where it is out by more than asked for
    double extraVolume = 0, missingVolume = 0;  ///< distance times area there, mm3
};

struct Deviation {
    DeviationFigures whole;
    /// Proven for the whole surface of the body: `whole.least` and `whole.most` were found, and no place lies
    /// beyond these. Some micrometres apart as a rule; more where the body is out by the same nearly
    /// everywhere, since the search ends after 200,000 pieces.
    double nowhereBelow = 0, nowhereAbove = 0;
    std::vector<FeatureDeviation> features;  ///< those that are out by most first
    /// Of the designed surface, where the body is farthest from it; its value is a distance without sign, its
    /// place is on the designed surface.
    DeviationAt barest;
    double barestAtMost = 0;  ///< proven as above
    double bareArea = 0;      ///< of the designed surface from which the body is farther than asked for
    std::vector<geometry::Tag> ofTriangle;  ///< the feature that each triangle of the body is nearest to
    std::vector<double> ofPoint;            ///< of each point of the body
    std::vector<geometry::Vec3> points;     ///< of the body, in the ring's frame
};

struct DeviationOptions {
    double beyond = 0.05;  ///< mm; what is out by less is not counted as extra or missing
    std::function<void(double)> progress{};
};

/// Means and areas are of the body's points and of places between them, nowhere farther apart than this, mm.
inline constexpr double kPlacesApart = 0.2;

Deviation deviation(const Designed& designed, const geometry::Triangles& body, const Pose& pose,
                    const DeviationOptions& options);

/// The signed distance of each place in the ring's frame from the designed surface: positive outside.
std::vector<double> distances(const Designed& designed, const std::vector<geometry::Vec3>& places);

}  // namespace bandwright::compare
