#pragma once

#include "base/input_error.hpp"
#include "design/design.hpp"
#include "geometry/ring.hpp"

namespace bandwright::geometry {

inline bool isBuildable(const design::Design& design) {
    try {
        requireBuildable(design);
        return true;
    } catch (const base::InputError&) {
        return false;
    }
}

}  // namespace bandwright::geometry
