#pragma once

#include "design/design.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// What a band is strained as: MPa.
struct Stuff {
    double strength, modulus;
};

/// Of the band's metal. A ring is bent round its axis, so that wood turned from a plank is strained across
/// the grain at two places of the round, where it is weakest; bent laminations have the grain along all the
/// way.
Stuff stuffOf(const trade::Metal& metal, design::Grain grain);

}  // namespace bandwright::check
