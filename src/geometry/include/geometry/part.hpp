#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/mesh.hpp"
#include "geometry/solid.hpp"

namespace bandwright::geometry {

/// What a body is in the ring. A new one is a word here and a row in part.cpp.
enum class PartRole : std::uint8_t { Band, Fill, Tube, Stone, Liner };

/// Which list of the trade catalogue a body's material stands in; a fill's adhesive is in the design.
enum class MaterialKind : std::uint8_t { Metal, Filler, Gem };
MaterialKind materialKind(PartRole role);

/// Whether a setting has it, and so several alike may stand round the band.
bool isRepeated(PartRole role);

/// One body of the ring, where it stands.
struct Part {
    PartRole role = PartRole::Band;
    int number = 1;            ///< 1, 2, ... among those of its role; a fill has its channel's
    std::string material;      ///< id in the trade catalogue: a metal's, a filler's or a gem's
    std::uint16_t source = 0;  ///< the channel's (fill) or setting's (tube, stone) place in the design
    Mesh mesh{};
};

/// A body by what is inside it, exact; its mesh is left empty.
struct SolidPart {
    Part part;
    SolidProperties solid;
};

/// "band", "liner", "fill-1", "tube-2", "stone-1".
std::string name(const Part& part);

}  // namespace bandwright::geometry
