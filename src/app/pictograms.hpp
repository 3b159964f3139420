#pragma once

#include <array>

#include "app/card_rows.hpp"

/// Small outlines for the choices of the job card, in the order of the enumerations they stand for.
namespace bandwright::app {

const std::array<Pictogram, 4>& outsidePictograms();  ///< OutsideShape
const std::array<Pictogram, 3>& edgePictograms();     ///< EdgeShape
const std::array<Pictogram, 2>& borePictograms();     ///< BoreShape

}  // namespace bandwright::app
