#include "formats/dxf.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "dxf_tables.hpp"
#include "dxf_text.hpp"

namespace bandwright::formats {

namespace {

// Dark enough on white and on black: 7 is black or white, 8 grey, 3 green, 4 cyan, 5 blue, 6 magenta, 30
// orange.
const std::vector<DxfLayer>& dxfLayers() {
    static const std::vector<DxfLayer> layers{{"0"},
                                              {"BAND", 7, 50},
                                              {"BAND-HATCHING", 8},
                                              {"LINER", 30, 50},
                                              {"LINER-HATCHING", 8},
                                              {"FILL", 4},
                                              {"FILL-HATCHING", 8},
                                              {"TUBE", 5, 50},
                                              {"TUBE-HATCHING", 8},
                                              {"STONE", 6, 50},
                                              {"VISIBLE", 7, 50},
                                              {"NARROW", 7},
                                              {"HIDDEN", 8, 25, kHiddenLine},
                                              {"AXES", 1, 25, kAxisLine},
                                              {"DIMENSIONS", 3},
                                              {"NAMES", 7}};
    return layers;
}

std::string layerOf(geometry::PartRole role) {
    switch (role) {
        case geometry::PartRole::Band:
            return "BAND";
        case geometry::PartRole::Fill:
            return "FILL";
        case geometry::PartRole::Tube:
            return "TUBE";
        case geometry::PartRole::Stone:
            return "STONE";
        case geometry::PartRole::Liner:
            return "LINER";
    }
    return "0";
}

std::string layerOf(drawing::LineKind kind) {
    switch (kind) {
        case drawing::LineKind::Outline:
            return "VISIBLE";
        case drawing::LineKind::Thin:
            return "NARROW";
        case drawing::LineKind::Hidden:
            return "HIDDEN";
        case drawing::LineKind::Axis:
            return "AXES";
    }
    return "0";
}

double degreesAt(geometry::Vec2 from, geometry::Vec2 to) {
    const double degrees = std::atan2(to.r - from.r, to.z - from.z) * 180 / std::numbers::pi;
    return degrees < 0 ? degrees + 360 : degrees;
}

/// Writes entities that have one owner.
class Entities {
  public:
    Entities(DxfText& dxf, DxfHandle owner, DxfHandle& next, geometry::Vec2 at)
        : dxf_(dxf), owner_(owner), next_(next), at_(at) {}

    void segment(const geometry::Segment& s, const std::string& layer) {
        if (s.isArc()) return arc(s, layer);
        begin("LINE", layer, "AcDbLine");
        dxf_.point(0, at_ + s.from);
        dxf_.point(1, at_ + s.to);
    }

    void segments(const std::vector<geometry::Segment>& all, const std::string& layer) {
        for (const geometry::Segment& s : all)
            segment(s, layer);
    }

    void arrowhead(const drawing::Arrowhead& arrow, const std::string& layer) {
        begin("SOLID", layer, "AcDbTrace");
        dxf_.point(0, at_ + arrow[0]);
        dxf_.point(1, at_ + arrow[1]);
        dxf_.point(2, at_ + arrow[2]);
        dxf_.point(3, at_ + arrow[2]);
    }

    void text(const std::string& words, geometry::Vec2 place, double height, const std::string& layer) {
        begin("TEXT", layer, "AcDbText");
        dxf_.point(0, at_ + place);
        dxf_.pair(40, height);
        dxf_.words(1, words);
        dxf_.pair(100, "AcDbText");
    }

    /// Shown by the block; its number is measured between its places.
    void dimension(const drawing::Dimension& dimension, const std::string& block, const std::string& words);

  private:
    void begin(const char* type, const std::string& layer, const char* kind) {
        dxf_.pair(0, type);
        dxf_.handle(5, next_++);
        dxf_.handle(330, owner_);
        dxf_.pair(100, "AcDbEntity");
        dxf_.pair(8, layer);
        dxf_.pair(100, kind);
    }

    /// Arcs of DXF run counter-clockwise.
    void arc(const geometry::Segment& s, const std::string& layer) {
        begin("ARC", layer, "AcDbCircle");
        dxf_.point(0, at_ + s.centre);
        dxf_.pair(40, s.radius);
        dxf_.pair(100, "AcDbArc");
        dxf_.pair(50, degreesAt(s.centre, s.ccw ? s.from : s.to));
        dxf_.pair(51, degreesAt(s.centre, s.ccw ? s.to : s.from));
    }

    DxfText& dxf_;
    DxfHandle owner_;
    DxfHandle& next_;
    geometry::Vec2 at_;
};

void Entities::dimension(const drawing::Dimension& dimension, const std::string& block,
                         const std::string& words) {
    constexpr int kRotated = 0, kRadius = 4, kOwnBlock = 32, kMiddle = 5;
    const bool isRadius = dimension.measured == drawing::Measured::Straight;
    const bool isUpright = dimension.measured == drawing::Measured::AlongRadius;
    const geometry::Vec2 way = dimension.to - dimension.from;
    const double measured = isRadius ? geometry::length(way) : std::abs(isUpright ? way.r : way.z);
    const geometry::Vec2 middle =
        dimension.text.at + 0.5 * geometry::Vec2{dimension.text.width, dimension.text.height};
    // The line of a dimension along an axis passes through this place.
    geometry::Vec2 line = isRadius ? dimension.to : dimension.text.at;
    if (!isRadius && !dimension.lines.empty()) line = dimension.lines.front().to;
    begin("DIMENSION", "DIMENSIONS", "AcDbDimension");
    dxf_.pair(2, block);
    dxf_.point(0, at_ + line);
    dxf_.point(1, at_ + middle);
    dxf_.pair(70, (isRadius ? kRadius : kRotated) + kOwnBlock);
    dxf_.words(1, words);
    dxf_.pair(71, kMiddle);
    dxf_.pair(42, measured);
    dxf_.pair(3, "Standard");
    if (isRadius) {
        dxf_.pair(100, "AcDbRadialDimension");
        dxf_.point(5, at_ + dimension.from);
        dxf_.pair(40, 0.0);
        return;
    }
    dxf_.pair(100, "AcDbAlignedDimension");
    dxf_.point(3, at_ + dimension.from);
    dxf_.point(4, at_ + dimension.to);
    dxf_.pair(50, isUpright ? 90.0 : 0.0);
    dxf_.pair(100, "AcDbRotatedDimension");
}

/// The words with "<>" for the number, which a program then writes itself; an angle is written out.
std::string withPlace(const drawing::Dimension& dimension) {
    std::string words = dimension.text.words;
    if (dimension.measured == drawing::Measured::Round) return words;
    const std::string digits = base::fixed(dimension.value, 2);
    const std::size_t at = words.find(digits);
    return at == std::string::npos ? words : words.replace(at, digits.size(), "<>");
}

/// The lines, arrowheads and words of a dimension, as it is drawn.
DxfBlock blockOf(const drawing::Dimension& dimension, geometry::Vec2 at, std::size_t number,
                 DxfHandle& next) {
    DxfBlock block{"*D" + std::to_string(number), next, next + 1, next + 2, {}};
    next += 3;
    Entities entities(block.entities, block.record, next, at);
    entities.segments(dimension.extensions, "DIMENSIONS");
    entities.segments(dimension.lines, "DIMENSIONS");
    for (const drawing::Arrowhead& arrow : dimension.arrows)
        entities.arrowhead(arrow, "DIMENSIONS");
    entities.text(dimension.text.words, dimension.text.at, dimension.text.height, "DIMENSIONS");
    return block;
}

void addBodies(Entities& entities, const drawing::Drawing& drawing) {
    for (const drawing::CutBody& body : drawing.bodies) {
        for (const geometry::Loop& loop : body.outline)
            entities.segments(loop, layerOf(body.role));
        entities.segments(body.hatching, layerOf(body.role) + "-HATCHING");
    }
    for (const drawing::Stroke& stroke : drawing.strokes)
        entities.segment(stroke.path, layerOf(stroke.line));
}

void addName(Entities& entities, const DxfView& view) {
    constexpr double kOver = 2, kHigher = 1.4;  // heights of text
    const double height = view.drawing.textHeight;
    const geometry::Rectangle extent = drawing::extentOf(view.drawing);
    entities.text(view.name, {extent.low.z, extent.high.r + kOver * height}, kHigher * height, "NAMES");
}

geometry::Rectangle extentOf(const std::vector<DxfView>& views) {
    geometry::Rectangle all{};
    for (const DxfView& view : views) {
        const geometry::Rectangle extent = drawing::extentOf(view.drawing);
        const geometry::Vec2 low = view.at + extent.low, high = view.at + extent.high;
        if (&view == &views.front()) all = {low, high};
        all = {{std::min(all.low.z, low.z), std::min(all.low.r, low.r)},
               {std::max(all.high.z, high.z), std::max(all.high.r, high.r)}};
    }
    return all;
}

}  // namespace

std::string dxf(const std::vector<DxfView>& views) {
    DxfHandle next = kFirstFree;
    std::vector<DxfBlock> blocks;
    DxfText model;
    model.begin("ENTITIES");
    for (const DxfView& view : views) {
        Entities entities(model, kModelSpace, next, view.at);
        addBodies(entities, view.drawing);
        addName(entities, view);
        for (const drawing::Dimension& dimension : view.drawing.dimensions) {
            if (dimension.value == 0) {  // words alone
                entities.text(dimension.text.words, dimension.text.at, dimension.text.height, "DIMENSIONS");
                continue;
            }
            blocks.push_back(blockOf(dimension, view.at, blocks.size() + 1, next));
            entities.dimension(dimension, blocks.back().name, withPlace(dimension));
        }
    }
    model.end();
    const double textHeight = views.empty() ? 1 : views.front().drawing.textHeight;
    DxfText file = headAndTables(dxfLayers(), blocks, textHeight, extentOf(views), next);
    file.append(model);
    file.append(objects());
    file.pair(0, "EOF");
    return file.text();
}

}  // namespace bandwright::formats
