#pragma once

#include <string>

#include "check/check.hpp"

namespace bandwright::check {

/// How much a client sees of a change of the ring; our own choice.
enum class Sight : std::uint8_t {
    Hidden,  ///< inside the ring, or gone when it is done
    Hardly,
    Seen,
    Ordered,  ///< what the client asked for, or a material in sight
};

/// "out of sight", "hardly seen", "seen", "changes what was ordered".
std::string name(Sight sight);

/// What a client sees of a change of the field at a path.
Sight sightOf(const std::string& path);

/// What a client sees of a remedy: the most of its parts.
Sight sightOf(const Remedy& remedy);

/// What it does to look, mass and size, in a few words.
std::string effectOf(const Remedy& remedy, const Report& before, const Report& after);

}  // namespace bandwright::check
