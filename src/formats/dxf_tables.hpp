#pragma once

#include <string>
#include <vector>

#include "dxf_text.hpp"
#include "geometry/section.hpp"

/// What a DXF file of release 2000 must have besides its entities. Private to the room.
namespace bandwright::formats {

/// Handles that entries of several parts of the file refer to.
inline constexpr DxfHandle kModelSpace = 0x20, kPaperSpace = 0x21, kTextStyle = 0x22;
/// The first that is free for entities.
inline constexpr DxfHandle kFirstFree = 0x1000;

struct DxfLayer {
    std::string name;
    int colour = 7;  ///< of the AutoCAD colour index: 7 black or white, 8 grey, 1 red, 3 green, 5 blue
    int width = 25;  ///< hundredths of a mm
    std::string line = "Continuous";
};

/// A block that a dimension shows itself by.
struct DxfBlock {
    std::string name;
    DxfHandle record = 0, begin = 0, end = 0;
    DxfText entities;
};

/// The sections before the entities. Text is `textHeight` high. `afterLast` is behind the largest handle.
DxfText headAndTables(const std::vector<DxfLayer>& layers, const std::vector<DxfBlock>& blocks,
                      double textHeight, const geometry::Rectangle& extent, DxfHandle afterLast);

/// The section behind the entities.
DxfText objects();

/// Types of line other than Continuous: hidden, axis.
inline constexpr const char* kHiddenLine = "HIDDEN";
inline constexpr const char* kAxisLine = "AXIS";

}  // namespace bandwright::formats
