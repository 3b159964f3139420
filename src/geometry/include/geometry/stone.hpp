#pragma once

#include <vector>

#include "base/units.hpp"
#include "design/design.hpp"
#include "geometry/polyhedron.hpp"
#include "geometry/solid.hpp"

/// Stones as closed solids in their own frame, mm: the axis is +z with the crown up, z = 0 is the middle of
/// the girdle, the length lies along x and the width along y. The axis passes through the culet; only in a
/// pear is that not the middle of the length. A stone from a model is moved and scaled to its girdle: the
/// narrower side across becomes the width along y, the longer lies along x and becomes the length where one
/// is given; z = 0 is the middle of where it is widest. All functions throw InputError where no stone has
/// these proportions.
namespace bandwright::geometry {

/// The planes the stone is cut to: the table, the rest of the crown, the girdle, the pavilion. A round girdle
/// is a polygon with its corners on the circle. The flat base of a rose cut is its pavilion. Empty for a
/// cabochon, which is curved, and for a stone from a model, which need not be convex.
std::vector<Plane> facets(const design::Stone& stone);

/// The stone's surface; a cabochon's triangles stand off the true surface by at most `tolerance`.
Mesh stoneMesh(const design::Stone& stone, base::Micrometres tolerance = base::Micrometres(10));

/// Heights in mm, as gem laboratories measure them: the girdle at its thick places, where the mains meet it.
struct StoneHeights {
    double crown = 0;  ///< girdle to table, or to the top of a dome
    double girdle = 0;
    double pavilion = 0;  ///< girdle to culet; 0 under a flat base
    double total() const { return crown + girdle + pavilion; }
};
StoneHeights heights(const design::Stone& stone);

/// Length along x, mm.
double girdleLength(const design::Stone& stone);

/// Whether its mesh is finer the smaller the tolerance; flat facets are exact.
bool isCurved(const design::Stone& stone);

/// Volume in mm3, exact for the facets given above.
double volume(const design::Stone& stone);

/// Volume, area and how both are spread, in the stone's frame; exact but for the area of a cabochon, by
/// quadrature to about 1e-9.
SolidProperties stoneSolid(const design::Stone& stone);

/// Weight in carat (1 ct = 0.2 g) of a gem of the density given in g/cm3.
double carats(const design::Stone& stone, double density);

}  // namespace bandwright::geometry
