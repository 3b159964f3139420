#pragma once

#include "geometry/part.hpp"
#include "scene/material.hpp"

namespace bandwright::scene {

/// What a part of the design looks like. Throws InputError when its material is not in the catalogue.
Material materialOf(const design::Design& design, const trade::Catalogue& catalogue,
                    const geometry::Part& part);

}  // namespace bandwright::scene
