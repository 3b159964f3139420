#pragma once

#include <string>
#include <vector>

#include "drawing/drawing.hpp"

/// Drawings as DXF, for programs that cut or draw from lines and arcs.
namespace bandwright::formats {

/// A drawing whose scale is 1, and where its z = 0, r = 0 is to stand.
struct DxfView {
    std::string name;
    drawing::Drawing drawing;
    geometry::Vec2 at;
};

/// An ASCII file of release 2000 (AC1015), one unit to the mm of the ring, z along x and r along y. Straight
/// pieces are LINE, arcs ARC, and dimensions DIMENSION entities, which measure anew when they are moved; an
/// angle on the unrolled outside measures the length of its arc and says the angle. Each body, its hatching,
/// the axes, the dimensions and the names have a layer of their own. The same drawings give the same bytes.
std::string dxf(const std::vector<DxfView>& views);

}  // namespace bandwright::formats
