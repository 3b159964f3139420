#pragma once

#include <algorithm>
#include <array>

#include "design/route.hpp"

namespace bandwright::route {

/// Whether a step is done at the lathe, and so reads what is turned.
inline bool isTurned(design::Stage stage) {
    using enum design::Stage;
    constexpr std::array kTurned{Blank, Bored, Turned, Parted, Lined, Channelled, Trued, Bevelled, Sized};
    return std::ranges::find(kTurned, stage) != kTurned.end();
}

}  // namespace bandwright::route
