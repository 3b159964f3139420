#include "geometry/workpiece.hpp"

#include <algorithm>

#include "outline.hpp"

namespace bandwright::geometry {

namespace {

constexpr double kLeastBlankBore = 1;  // mm

class Done {
  public:
    Done(const design::Route& route, design::Stage last)
        : route_(route), end_(std::find(route.begin(), route.end(), last)) {
        if (end_ != route_.end()) ++end_;
    }
    bool operator()(design::Stage step) const { return std::find(route_.begin(), end_, step) != end_; }

  private:
    const design::Route& route_;
    design::Route::const_iterator end_;
};

void shapeInside(Workpiece& piece, const design::Design& design, const Done& done) {
    const design::Allowances& left = design.allowances;
    const bool lined = done(design::Stage::Lined) && design.band.liner;
    if (!lined) piece.band.liner.reset();
    piece.lined = lined;
    if (done(design::Stage::Sized)) {
        piece.bore = design::boreRadius(design);
    } else {
        piece.bore = design::boreRadius(design) - left.sizing;
        piece.band.bore = {design::BoreShape::Straight, 0, 0, 0};
    }
    piece.joint = lined ? design::linerRadius(design) : piece.bore;
    if (!done(design::Stage::Bored)) {
        piece.bore = piece.joint = std::max(kLeastBlankBore, piece.bore - left.blankBore);
    } else if (design.band.liner && !lined) {
        piece.bore = piece.joint = design::linerRadius(design);
    }
}

void shapeOutside(Workpiece& piece, const design::Design& design, const Done& done) {
    const design::Allowances& left = design.allowances;
    piece.trued = done(design::Stage::Trued);
    piece.outside = design::outsideRadius(design);
    if (!piece.trued) piece.outside += left.truing;
    if (!done(design::Stage::Turned)) piece.outside += left.blankOutside;
    if (!done(design::Stage::Parted)) piece.band.width += 2 * left.parting;
    if (!done(design::Stage::Turned) || !done(design::Stage::Parted))
        piece.band.outside.shape = design::OutsideShape::Flat;
    if (!done(design::Stage::Bevelled))
        piece.band.left.shape = piece.band.right.shape = design::EdgeShape::Sharp;
}

}  // namespace

Workpiece workpiece(const design::Design& design, design::Stage stage) {
    const Done done(design.route, stage);
    Workpiece piece;
    piece.band = design.band;
    shapeInside(piece, design, done);
    shapeOutside(piece, design, done);
    const auto some = [](const auto& items, auto&& has) { return std::ranges::any_of(items, has); };
    piece.channelled = done(design::Stage::Channelled) && !design.channels.empty();
    piece.drilled = done(design::Stage::Drilled) && !design.settings.empty();
    piece.filled = done(design::Stage::Filled) &&
                   some(design.channels, [](const design::Channel& c) { return c.fill.has_value(); });
    piece.joined = done(design::Stage::Joined) &&
                   some(design.settings, [](const design::Setting& s) { return s.tube.has_value(); });
    piece.set = done(design::Stage::Set) &&
                some(design.settings, [](const design::Setting& s) { return s.stone.has_value(); });
    piece.closed = done(design::Stage::Closed) && piece.set;
    return piece;
}

double outsideAt(const Workpiece& piece, double z) {
    return outsideAt(piece.band, piece.outside, z);
}

Workpiece turnedMetal(Workpiece piece) {
    piece.drilled = piece.filled = piece.trued = piece.joined = piece.set = piece.closed = false;
    return piece;
}

bool hasTube(const Workpiece& piece, const design::Setting& setting) {
    return setting.tube && piece.joined;
}

bool hasStone(const Workpiece& piece, const design::Setting& setting) {
    return setting.stone && piece.set && (piece.joined || !setting.tube);
}

}  // namespace bandwright::geometry
