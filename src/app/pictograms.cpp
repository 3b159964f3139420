#include "pictograms.hpp"

#include <initializer_list>

namespace bandwright::app {

namespace {

constexpr float kLine = 1.5F;

/// A path through points given as shares of the box, x to the right and y down; a curve is a parabola given
/// by its start, handle and end.
struct PictogramPen {
    ImDrawList& draw;
    ImVec2 least, most;

    ImVec2 at(float x, float y) const {
        return {least.x + x * (most.x - least.x), least.y + y * (most.y - least.y)};
    }
    void to(float x, float y) const { draw.PathLineTo(at(x, y)); }
    void curve(float handleX, float handleY, float x, float y) const {
        draw.PathBezierQuadraticCurveTo(at(handleX, handleY), at(x, y));
    }
    void close(ImU32 colour) const { draw.PathStroke(colour, ImDrawFlags_Closed, kLine); }
};

void flat(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 1), pen.to(0, 0.2F), pen.to(1, 0.2F), pen.to(1, 1);
    pen.close(colour);
}

void domed(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 1), pen.to(0, 0.5F), pen.curve(0.5F, -0.4F, 1, 0.5F), pen.to(1, 1);
    pen.close(colour);
}

void knifeEdge(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 1), pen.to(0, 0.55F), pen.to(0.5F, 0), pen.to(1, 0.55F), pen.to(1, 1);
    pen.close(colour);
}

void hollow(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 1), pen.to(0, 0), pen.curve(0.5F, 1, 1, 0), pen.to(1, 1);
    pen.close(colour);
}

void sharpEdge(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 0.1F), pen.to(0.85F, 0.1F), pen.to(0.85F, 1);
    draw.PathStroke(colour, 0, kLine);
}

void bevelledEdge(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 0.1F), pen.to(0.45F, 0.1F), pen.to(0.85F, 0.65F), pen.to(0.85F, 1);
    draw.PathStroke(colour, 0, kLine);
}

void roundedEdge(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 0.1F), pen.to(0.4F, 0.1F), pen.curve(0.85F, 0.1F, 0.85F, 0.7F), pen.to(0.85F, 1);
    draw.PathStroke(colour, 0, kLine);
}

void straightBore(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 0), pen.to(0, 0.8F), pen.to(1, 0.8F), pen.to(1, 0);
    pen.close(colour);
}

void comfortBore(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour) {
    const PictogramPen pen{draw, least, most};
    pen.to(0, 0), pen.to(0, 0.5F), pen.curve(0.5F, 1.4F, 1, 0.5F), pen.to(1, 0);
    pen.close(colour);
}

}  // namespace

const std::array<Pictogram, 4>& outsidePictograms() {
    static const std::array<Pictogram, 4> kPictograms = {flat, domed, knifeEdge, hollow};
    return kPictograms;
}

const std::array<Pictogram, 3>& edgePictograms() {
    static const std::array<Pictogram, 3> kPictograms = {sharpEdge, bevelledEdge, roundedEdge};
    return kPictograms;
}

const std::array<Pictogram, 2>& borePictograms() {
    static const std::array<Pictogram, 2> kPictograms = {straightBore, comfortBore};
    return kPictograms;
}

}  // namespace bandwright::app
