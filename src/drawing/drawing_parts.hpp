#pragma once

#include <optional>
#include <utility>

#include "dimensioning.hpp"
#include "drawing/section_drawing.hpp"

/// What the drawings are put together from. Private to the room.
namespace bandwright::drawing {

/// The shares of a straight line's length between which it lies in a box; nothing where it does not.
std::optional<std::pair<double, double>> stretchIn(const geometry::Segment& line,
                                                   const geometry::Rectangle& box);

geometry::Section scaled(geometry::Section section, double scale);

/// Its outline.
geometry::Section rectangle(const geometry::Rectangle& box);

Drawing emptyDrawing(const Layout& layout);

/// Adds a body that is cut, its section in mm of the ring; nothing for an empty one.
void addBody(Drawing& drawing, geometry::PartRole role, const geometry::Section& section);

/// Lays out the dimensions and then hatches what is left free of text.
void finish(Drawing& drawing, Dimensioning& dimensioning, const std::optional<PointedOut>& pointedOut = {});

}  // namespace bandwright::drawing
