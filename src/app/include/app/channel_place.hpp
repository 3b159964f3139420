#pragma once

#include "design/design.hpp"

/// Where a channel lies, as a maker gives it: its middle from mid-width, or its near side from a face of the
/// band. A design has the first (`Channel::offset`).
namespace bandwright::app {

enum class Datum : unsigned char { Middle, LeftEdge, RightEdge };

/// Mm from the datum; from an edge, negative where the channel runs out over it.
double distanceFrom(Datum datum, const design::Channel& channel, double bandWidth);

/// The offset of the channel from mid-width at this distance, to a tenth of a micrometre.
double offsetAt(Datum datum, double distance, double channelWidth, double bandWidth);

/// The offset with which a channel keeps its distance where it or its band has become wider; that of `after`
/// where it has been moved.
double keptOffset(Datum datum, const design::Design& before, const design::Design& after,
                  std::size_t channel);

}  // namespace bandwright::app
