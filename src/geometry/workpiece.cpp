#include "geometry/workpiece.hpp"

#include <algorithm>

#include "outline.hpp"

namespace bandwright {

namespace {

constexpr double kLeastBlankBore = 1;  // mm

class Done {
  public:
    Done(const Route& route, Stage last) : route_(route), end_(std::find(route.begin(), route.end(), last)) {
        if (end_ != route_.end()) ++end_;
    }
    bool operator()(Stage step) const { return std::find(route_.begin(), end_, step) != end_; }

  private:
    const Route& route_;
    Route::const_iterator end_;
};

void shapeInside(Workpiece& piece, const Design& design, const Done& done) {
    const Allowances& left = design.allowances;
    const bool lined = done(Stage::Lined) && design.band.liner;
    if (!lined) piece.band.liner.reset();
    piece.lined = lined;
    if (done(Stage::Sized)) {
        piece.bore = boreRadius(design);
    } else {
        piece.bore = boreRadius(design) - left.sizing;
        piece.band.bore = {BoreShape::Straight, 0, 0, 0};
    }
    piece.joint = lined ? linerRadius(design) : piece.bore;
    if (!done(Stage::Bored)) {
        piece.bore = piece.joint = std::max(kLeastBlankBore, piece.bore - left.blankBore);
    } else if (design.band.liner && !lined) {
        piece.bore = piece.joint = linerRadius(design);
    }
}

void shapeOutside(Workpiece& piece, const Design& design, const Done& done) {
    const Allowances& left = design.allowances;
    piece.trued = done(Stage::Trued);
    piece.outside = outsideRadius(design);
    if (!piece.trued) piece.outside += left.truing;
    if (!done(Stage::Turned)) piece.outside += left.blankOutside;
    if (!done(Stage::Parted)) piece.band.width += 2 * left.parting;
    if (!done(Stage::Turned) || !done(Stage::Parted)) piece.band.outside.shape = OutsideShape::Flat;
    if (!done(Stage::Bevelled)) piece.band.left.shape = piece.band.right.shape = EdgeShape::Sharp;
}

}  // namespace

Workpiece workpiece(const Design& design, Stage stage) {
    const Done done(design.route, stage);
    Workpiece piece;
    piece.band = design.band;
    shapeInside(piece, design, done);
    shapeOutside(piece, design, done);
    const auto some = [](const auto& items, auto&& has) { return std::ranges::any_of(items, has); };
    piece.channelled = done(Stage::Channelled) && !design.channels.empty();
    piece.drilled = done(Stage::Drilled) && !design.settings.empty();
    piece.filled =
        done(Stage::Filled) && some(design.channels, [](const Channel& c) { return c.fill.has_value(); });
    piece.joined =
        done(Stage::Joined) && some(design.settings, [](const Setting& s) { return s.tube.has_value(); });
    piece.set =
        done(Stage::Set) && some(design.settings, [](const Setting& s) { return s.stone.has_value(); });
    piece.closed = done(Stage::Closed) && piece.set;
    return piece;
}

double outsideAt(const Workpiece& piece, double z) {
    return outsideAt(piece.band, piece.outside, z);
}

Workpiece turnedMetal(Workpiece piece) {
    piece.drilled = piece.filled = piece.trued = piece.joined = piece.set = piece.closed = false;
    return piece;
}

bool hasTube(const Workpiece& piece, const Setting& setting) {
    return setting.tube && piece.joined;
}

bool hasStone(const Workpiece& piece, const Setting& setting) {
    return setting.stone && piece.set && (piece.joined || !setting.tube);
}

}  // namespace bandwright
