#pragma once

#include "geometry/part.hpp"
#include "scene/material.hpp"

namespace bandwright::scene {

/// The planes of a faceted convex stone, one for each of its flats; a round girdle becomes a prism around it.
std::vector<FacetPlane> facetPlanes(const geometry::Mesh& stone);

/// The ellipsoid and the base of a cabochon's surface.
Dome domeOf(const geometry::Mesh& cabochon);

}  // namespace bandwright::scene
