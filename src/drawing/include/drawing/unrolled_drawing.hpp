#pragma once

#include "design/design.hpp"
#include "drawing/drawing.hpp"
#include "geometry/ring.hpp"

/// The outside of a ring laid flat.
namespace bandwright::drawing {

/// Round the band runs to the right, by the length of the arc at the largest radius, and across the width
/// upwards with mid-width at r = 0. It begins at 0 degrees, or where a hole is too near to that, in the
/// middle of the widest stretch without one. Channels are bands between two lines; holes are the circles they
/// are drilled with. Angles count from the left end. `plain` is the design's at that stage.
Drawing unrolledDrawing(const design::Design& design, design::Stage stage,
                        const geometry::RingSections& plain, const Layout& layout);

}  // namespace bandwright::drawing
