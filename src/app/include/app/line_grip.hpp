#pragma once

#include <optional>
#include <string>

#include "design/design.hpp"
#include "design/fields.hpp"
#include "geometry/section.hpp"

/// Numbers changed by pulling at a line of the section.
namespace bandwright::app {

/// A line of the section held at a place, and the number that moves it.
struct LineGrip {
    std::string field;           ///< its path: "channels[0].depth"
    design::NumberField number;  ///< of the field
    double start = 0;            ///< the field's value when the line was taken hold of
    geometry::Vec2 normal;       ///< unit, across the line where it is held
    double gain = 0;             ///< mm that the line moves along the normal for one unit of the field

    /// The field's value when the pointer has moved by this many mm of the ring: whole steps of the thimble,
    /// or with `fine` of the grid that a maker can read off, within the field's bounds.
    double pulled(geometry::Vec2 by, bool fine) const;
};

/// The line that the tag made, held at the place of it nearest to `place`, in the section shown (0 = plain, n
/// = through setting n - 1) at a stage; nothing when no number moves it.
std::optional<LineGrip> gripOn(const design::Design& plan, design::Stage stage, int shown, geometry::Tag tag,
                               geometry::Vec2 place);

}  // namespace bandwright::app
