#pragma once

#include <vector>

#include "job.hpp"

/// How a channel is packed. Private to the room.
namespace bandwright::route {

inline constexpr double kMm3PerCm3 = 1000;

/// What is taken for one that stays in the ring: common practice, no source.
inline constexpr double kGrainLoss = 1.15, kAdhesiveLoss = 1.3;

/// The fill of one channel as it stands when it is packed.
struct Packing {
    double floor = 0, top = 0;  ///< radii in mm in the middle of the channel
    double volume = 0;          ///< mm3, open holes left out
    std::vector<Layer> layers;  ///< of equal depth, none deeper than the adhesive cures at once
};

/// Of a channel with a fill, at the job's step. The layers' grains and adhesive add up to volume x share x
/// density: the fill is parted by cylinders between them, and what holes leave open is taken off each alike.
/// No layers where holes or other channels have left no fill.
Packing packingOf(const Job& job, std::size_t channel);

}  // namespace bandwright::route
