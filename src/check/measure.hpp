#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "check/check.hpp"
#include "staged_ring.hpp"

/// Each function adds the measures of one subject; pure in the ring.
namespace bandwright::check {

using Measures = std::vector<Measure>;

/// Outlines nearer than this touch, mm: sections of touching bodies are cut apart by less.
inline constexpr double kTouch = 1e-6;

/// Of the ring at every stage, or at one; `bodies` are those of the finished ring.
Measures allMeasures(const design::Design& design, const trade::Catalogue& catalogue,
                     const std::vector<geometry::SolidPart>& bodies, std::optional<design::Stage> only);

/// Floor under each channel, rims beside them, land between neighbours.
void measureChannels(const StagedRing& ring, Measures& measures);

/// The thinnest walls of band and liner, holes left aside; after those of the channels at the same stage.
void measureThinnestWall(const StagedRing& ring, Measures& measures);

/// Holes against edges, channels and the bore.
void measureSettings(const StagedRing& ring, Measures& measures);

/// Holes against each other, where they converge towards the finger.
void measureNeighbours(const StagedRing& ring, Measures& measures);
/// The same at the outside alone.
void measureMouths(const StagedRing& ring, Measures& measures);

/// The flat of the edges.
void measureEdges(const StagedRing& ring, Measures& measures);

/// The length of bore that bears on a mandrel.
void measureHolding(const StagedRing& ring, Measures& measures);

/// Holes against their drill, at the step at which they are drilled.
void measureDrilling(const StagedRing& ring, Measures& measures);

/// What does not change with the stage, or counts in the finished ring alone: the fit of tubes and stones,
/// the make of fills, the band in hand and at work.
void measureTubes(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);
void measureStones(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);
void measureFills(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);
void measureWork(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);

/// What is in the ring when it is etched, or when the tubes are joined, against acid and heat.
void measureEtching(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);
void measureJoining(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);

/// What a step takes off a colour that is on the ring by then.
void measureColour(const StagedRing& ring, design::Stage step, const trade::Catalogue& catalogue,
                   Measures& measures);

/// Metals against skin, each other and tools; what the fill stands.
void measureMaterials(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);

/// The ring on the finger.
void measureFit(const StagedRing& ring, Measures& measures);

/// Holes that open into a channel.
void measureInChannels(const StagedRing& ring, Measures& measures);

/// How a liner sits in the band: pressed, with the stresses in both, or glued.
void measureLiner(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);

/// The band squeezed across its diameter: the force at which it first yields, and its stiffness; and how it
/// springs in a chuck. Fills, tubes and a pierced liner are taken to carry nothing.
void measureStrength(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures);

/// Masses of all bodies; only that of the whole ring is judged.
void measureMasses(const StagedRing& ring, const std::vector<geometry::SolidPart>& bodies,
                   const trade::Catalogue& catalogue, Measures& measures);

/// "floor-wall" for the first, "floor-wall@2" for the second.
std::string numbered(std::string_view id, std::size_t number);

/// "the channel", or "channel 2" when there are several.
std::string channelName(const design::Design& design, std::size_t number);

/// " of setting 2", or nothing when there is only one.
std::string ofSetting(const design::Design& design, std::size_t number);

/// A gap in the section as a measure at an angle round the band.
Measure measureOf(std::string id, std::string label, design::Stage stage, const geometry::Gap& gap,
                  double angle, std::size_t number);

/// The same for two places of the section; `value` may be negative.
Measure between(std::string id, std::string label, design::Stage stage, double value, geometry::Vec2 from,
                geometry::Vec2 to, double angle, std::size_t number);

/// A number that is no length, at its place.
Measure countOf(std::string id, std::string label, design::Stage stage, double value, std::string unit,
                geometry::Vec2 place, geometry::Tag tag, double angle, std::size_t number);

/// The shortest join between two groups; nothing when one is empty.
std::optional<geometry::Gap> shortest(std::span<const geometry::Segment> from,
                                      std::span<const geometry::Segment> to);

/// The sides of the band, and the way to them along z.
inline constexpr std::array kSides{geometry::Side::Left, geometry::Side::Right};
constexpr double signOf(geometry::Side side) {
    return side == geometry::Side::Left ? -1 : 1;
}

}  // namespace bandwright::check
