#pragma once

#include "geometry/part.hpp"
#include "scene/material.hpp"

namespace bandwright {

/// What a part of the design looks like. Throws InputError when its material is not in the catalogue.
Material materialOf(const Design& design, const Catalogue& catalogue, const Part& part);

}  // namespace bandwright
