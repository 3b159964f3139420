#pragma once

#include <vector>

#include "design/design.hpp"
#include "geometry/polyhedron.hpp"
#include "geometry/stone.hpp"

/// The planes of each cut, and what they share. The stones they are given have been checked.
namespace bandwright::geometry {

/// Where the girdle's thick places begin above, and end below, the origin; mm.
inline double halfGirdle(const design::Stone& stone) {
    return stone.girdle / 100 * stone.diameter / 2;
}

/// Whether the crown is a dome over a flat base.
inline bool hasFlatBase(design::StoneCut cut) {
    return cut == design::StoneCut::RoseCut || cut == design::StoneCut::Cabochon;
}

inline constexpr double kStepSpread = 10;  ///< degrees between neighbouring rows of a step cut

std::vector<Plane> brilliant(const design::Stone& stone);
std::vector<Plane> stepCut(const design::Stone& stone);
std::vector<Plane> roseCut(const design::Stone& stone);

/// Heights of a step cut's rows above and below the girdle, mm.
double stepCrown(const design::Stone& stone);
double stepPavilion(const design::Stone& stone);

/// The closed surface of a cabochon: half an ellipsoid on a straight wall on a flat base.
Mesh cabochon(const design::Stone& stone, base::Micrometres tolerance);
SolidProperties cabochonSolid(const design::Stone& stone);

/// A stone from its model, moved and scaled to its girdle; flat facets. Throws InputError when the model has
/// not been read.
Mesh modelledStone(const design::Stone& stone);

/// The girdle is what stands upright of the model.
StoneHeights modelledHeights(const Mesh& mesh);

/// The plane through three points with the origin inside.
Plane planeThrough(const Vec3& a, const Vec3& b, const Vec3& c, Tag tag);

/// The plane that leans `slope` (rise over run) inwards from the vertical line at distance `reach` along
/// `direction` (unit, horizontal), through that line's point at height z.
Plane leaning(const Vec3& direction, double reach, double z, double slope, Tag tag);

/// The planes of a stone made longer along x by a factor.
std::vector<Plane> stretched(std::vector<Plane> planes, double factor);

/// How many stones have been worked out since the program began: asking for one that is kept adds none.
std::size_t stonesWorkedOut();

}  // namespace bandwright::geometry
