#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "design/design.hpp"
#include "geometry/hole.hpp"
#include "geometry/part.hpp"
#include "geometry/section.hpp"
#include "geometry/solid.hpp"
#include "geometry/workpiece.hpp"

namespace bandwright::geometry {

/// The sections of the ring's bodies of revolution, holes left aside.
struct RingSections {
    Section band;
    Section liner;                           ///< empty without one
    std::vector<Section> fills;              ///< one for each filled channel
    std::vector<std::uint16_t> fillChannel;  ///< the channel each fill belongs to
};

/// The plain section, away from any hole.
RingSections sections(const design::Design& design, design::Stage stage = design::Stage::Finished);
RingSections sections(const design::Design& design, const Workpiece& piece);

/// Radius in mm of the finished outside over z, before channels are cut and edges bevelled or rounded.
double outsideAt(const design::Design& design, double z);

/// How steep it is over z, radians from the axis, never negative; on the ridge of a knife edge as beside it.
double outsideLeanAt(const design::Design& design, double z);

/// The lowest place where a round hole leaves the outside, its bevels and rounded edges, channels left aside:
/// they fall away across the width, and round the band. Radius in mm; `offset` and `radius` are the hole's.
struct MouthPlace {
    double height = 0;  ///< mm along the hole from the ring's axis
    double z = 0;       ///< mm from mid-width
};
MouthPlace lowestMouth(const design::Design& design, double offset, double radius);

/// Radius in mm of the floor of a channel, in its middle.
double channelFloor(const design::Design& design, std::size_t channel);

/// Radius in mm of the bore, the liner's if there is one, with the eased corners, over z; nothing beside it.
std::optional<double> boreAt(const RingSections& plain, double z);

/// The ends of what lies within `depth` mm of the narrowest place of the bore, the eased corners left aside;
/// nothing where channels have left no bore.
struct BoreStretch {
    Vec2 left, right;
};
std::optional<BoreStretch> narrowBore(const RingSections& plain, double depth);

/// The hole of a setting, as drilled into the finished ring.
HoleProfile settingHole(const design::Design& design, std::size_t setting);

/// What a setting's hole leaves of a body's plain section, in the plane through the hole's middle. Least
/// distances to the hole occur in this plane, because it never narrows outwards: a place of it beside the
/// plane, turned about the ring's axis, falls within its outline. But a floor may be cut away:
/// floor_land.hpp.
Section drilled(const Section& plain, const design::Design& design, std::size_t setting);

/// What all holes leave of a body's plain section at an angle in radians round the band; outlines of holes
/// cut off their middle are true to 1e-7 mm.
Section drilledAt(const Section& plain, const design::Design& design, double angle);

/// What stands in one hole of a setting: the tube's two walls and the stone's outline in the plane through
/// the hole's middle; a tube stands there once it is joined, a stone once it is set in what it is set in.
/// Closing the lip over the stone does not change the tube's volume.
struct SettingBodies {
    Section tube, stone;
};
SettingBodies settingBodies(const design::Design& design, std::size_t setting,
                            design::Stage stage = design::Stage::Finished);

/// The section through the middle of a setting's hole: band, liner and fills with the hole taken out, the
/// tube's two walls and the outline of the stone.
struct SettingSection {
    Section band;
    Section liner;
    std::vector<Section> fills;
    Section tube;
    Section stone;
};
SettingSection sectionThrough(const design::Design& design, std::size_t setting,
                              design::Stage stage = design::Stage::Finished);

/// What is inside every body of the ring, in the order of `buildParts`; needs no mesh. Exact but for rounding
/// and, where holes are drilled, quadrature: to 1e-9 of the volume and 1e-8 of the area. Its holes are those
/// of the design; a mesh may have one that is larger by less than a micrometre (`nudged`). Throws as
/// `requireBuildable` does; holes that run into each other are taken out as if each were alone, which in the
/// meshes they are not.
std::vector<SolidPart> bodies(const design::Design& design, design::Stage stage = design::Stage::Finished);

inline constexpr double kMostTriangles = 2e7;  ///< in all meshes of a ring; about 0.7 GB of memory

struct BuildOptions {
    base::Micrometres tolerance{10};  ///< the most a triangle may stand off the true surface
    bool apart = true;  ///< no mesh runs through itself where a film of metal is thinner than its chords:
                        ///< drawn finer there, to a sixteenth of them, and refused below; takes about twice
                        ///< as long, so pictures do without
};

/// Every body of the ring as a closed mesh: band, liner, fills, tubes, stones. Deterministic.
/// Throws InputError for a design that encloses no metal, and, before any is made, where there would be more
/// than `kMostTriangles`, by an estimate that is good to a factor of 2.
std::vector<Part> buildParts(const design::Design& design, design::Stage stage = design::Stage::Finished,
                             const BuildOptions& options = {});

/// Throws InputError (one sentence: the field's path, what was found, what is allowed) where no ring can be
/// made from these numbers at all; a ring that can be drawn but not made well is for the checks to judge.
void requireBuildable(const design::Design& design);

}  // namespace bandwright::geometry
