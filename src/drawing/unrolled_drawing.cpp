#include "drawing/unrolled_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "dimensioning.hpp"
#include "drawing_parts.hpp"

namespace bandwright::drawing {

namespace {

constexpr double kDegree = std::numbers::pi / 180;
/// Left free beside a hole where the band is cut open, mm.
constexpr double kClear = 1;
/// More angles than these are not written one by one if they are alike.
constexpr std::size_t kMostAngles = 6;

/// The outside of the band, as it is laid flat.
struct Flat {
    double radius = 0;              ///< mm
    double cut = 0;                 ///< degrees at its left end
    geometry::Rectangle outside{};  ///< mm of the ring

    double at(double degrees) const {
        const double turned = std::fmod(degrees - cut + 720, 360.0);
        return radius * kDegree * turned;
    }
    double degreesPerMm() const { return 1 / (radius * kDegree); }
};

/// Diameters of the circles a hole shows from outside, the widest first.
std::vector<double> circlesOf(const design::Hole& hole) {
    std::set<double, std::greater<>> all{hole.pilotDiameter};
    for (const design::HoleStep& step : hole.steps)
        all.insert(step.diameter);
    if (hole.countersink > 0) all.insert(*all.begin() + hole.countersink);
    return {all.begin(), all.end()};
}

struct PlacedHole {
    double angle = 0;   ///< degrees
    double radius = 0;  ///< mm
};

/// In order round the band.
std::vector<PlacedHole> holesOf(const design::Design& design) {
    std::vector<PlacedHole> all;
    for (const design::Setting& setting : design.settings) {
        for (const double angle : design::placedAngles(setting.placement))
            all.push_back({angle, circlesOf(setting.hole).front() / 2});
    }
    std::ranges::sort(all, {}, &PlacedHole::angle);
    return all;
}

double cutFor(const std::vector<PlacedHole>& holes, double radius) {
    const bool isClear = std::ranges::all_of(holes, [&](const PlacedHole& hole) {
        const double away = std::min(hole.angle, 360 - hole.angle) * kDegree * radius;
        return away >= hole.radius + kClear;
    });
    if (isClear) return 0;
    double widest = 0, middle = 0;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const double next = i + 1 < holes.size() ? holes[i + 1].angle : holes.front().angle + 360;
        if (next - holes[i].angle <= widest) continue;
        widest = next - holes[i].angle;
        middle = (next + holes[i].angle) / 2;
    }
    return std::fmod(middle, 360.0);
}

void addAcross(Drawing& drawing, const Flat& flat, double z, LineKind kind) {
    if (z <= flat.outside.low.r || z >= flat.outside.high.r) return;
    const double at = drawing.scale * z;
    drawing.strokes.push_back({kind, geometry::line({0, at}, {drawing.scale * flat.outside.high.z, at}, {})});
}

void addCircle(Drawing& drawing, geometry::Vec2 middle, double radius) {
    const geometry::Vec2 right = middle + geometry::Vec2{radius, 0},
                         left = middle - geometry::Vec2{radius, 0};
    drawing.strokes.push_back({LineKind::Outline, {right, left, middle, radius, true, {}}});
    drawing.strokes.push_back({LineKind::Outline, {left, right, middle, radius, true, {}}});
}

/// The circles of a hole and the axes that cross in its middle.
void addHole(Drawing& drawing, const design::Hole& hole, geometry::Vec2 middle) {
    const std::vector<double> circles = circlesOf(hole);
    for (const double diameter : circles)
        addCircle(drawing, drawing.scale * middle, drawing.scale * diameter / 2);
    const double reach = drawing.scale * circles.front() / 2 + drawing.textHeight;
    for (const geometry::Vec2 way : {geometry::Vec2{reach, 0}, geometry::Vec2{0, reach}}) {
        drawing.strokes.push_back(
            {LineKind::Axis, geometry::line(drawing.scale * middle - way, drawing.scale * middle + way, {})});
    }
}

/// Where the bevels meet the outside.
void addBevels(Drawing& drawing, const Flat& flat, const geometry::RingSections& plain) {
    const auto bevels = geometry::segmentsWhere(
        plain.band, [](geometry::Tag tag) { return tag.feature == geometry::Feature::Bevel; });
    for (const geometry::Segment& s : bevels)
        addAcross(drawing, flat, s.from.r > s.to.r ? s.from.z : s.to.z, LineKind::Outline);
}

void addChannels(Drawing& drawing, const Flat& flat, const design::Design& design, bool filled) {
    for (const design::Channel& channel : design.channels) {
        const LineKind kind = filled && channel.fill ? LineKind::Thin : LineKind::Outline;
        addAcross(drawing, flat, channel.offset - channel.width / 2, kind);
        addAcross(drawing, flat, channel.offset + channel.width / 2, kind);
    }
}

/// Dimension lines beside the left end, one channel farther out than the other; what is too short there for
/// its text is left out.
void showChannels(Dimensioning& all, const Flat& flat, const design::Design& design, const Layout& layout) {
    constexpr double kFirstOut = 2, kNextOut = 5, kLegible = 1.6;  // heights of text
    double out = kFirstOut;
    const auto beside = [&](Shown shown) {
        if (layout.scale * std::abs(shown.to.r - shown.from.r) < kLegible * layout.textHeight) return;
        all.upright(std::move(shown), -out * layout.textHeight / layout.scale, true);
        out += kNextOut;
    };
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const design::Channel& channel = design.channels[i];
        const std::string field = "channels[" + std::to_string(i) + "]";
        const double low = std::max(flat.outside.low.r, channel.offset - channel.width / 2),
                     high = std::min(flat.outside.high.r, channel.offset + channel.width / 2);
        beside({field + ".width", {0, low}, {0, high}});
        if (channel.offset != 0) beside({field + ".offset", {0, 0}, {0, channel.offset}});
    }
}

bool areAlike(const std::vector<double>& angles) {
    for (std::size_t i = 2; i < angles.size(); ++i) {
        const double first = angles[1] - angles[0], here = angles[i] - angles[i - 1];
        if (std::abs(std::remainder(here - first, 360.0)) > 1e-6) return false;
    }
    return true;
}

/// Each angle from the left end; of many that are alike the first, and the step to the next.
void showAngles(Dimensioning& all, const Flat& flat, const design::Placement& placement,
                const std::string& field) {
    const std::vector<double> angles = design::placedAngles(placement);
    const auto angle = [&](double from, double to, bool isField) {
        if (from == to) return;
        all.above({.field = field + (placement.angles.empty() ? ".start" : ".angles"),
                   .from = {from, placement.offset},
                   .to = {to, placement.offset},
                   .isField = isField && flat.cut == 0,
                   .degreesPerMm = flat.degreesPerMm()});
    };
    const bool few = angles.size() <= kMostAngles || !areAlike(angles);
    for (std::size_t i = 0; i < (few ? angles.size() : 1); ++i)
        angle(0, flat.at(angles[i]), i == 0 || !placement.angles.empty());
    if (!few) angle(flat.at(angles[0]), flat.at(angles[1]), false);
}

void showHoles(Dimensioning& all, const Flat& flat, const design::Design& design, const Layout& layout) {
    constexpr double kOffHole = 1.2;  // heights of text
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        const std::string field = "settings[" + std::to_string(i) + "]";
        const std::vector<double> angles = design::placedAngles(setting.placement);
        if (angles.empty()) continue;
        showAngles(all, flat, setting.placement, field + ".placement");
        const double offset = setting.placement.offset, x = flat.at(angles.front());
        const double radius = circlesOf(setting.hole).front() / 2;
        if (offset != 0) {
            all.upright({field + ".placement.offset", {x, 0}, {x, offset}},
                        x + radius + kOffHole * layout.textHeight / layout.scale);
        }
        const bool hasSteps = !setting.hole.steps.empty();
        all.note(
            {.field = field + (hasSteps ? ".hole.steps[" + std::to_string(setting.hole.steps.size() - 1) +
                                              "].diameter"
                                        : ".hole.pilot-diameter"),
             .from = {x, offset - radius},
             .to = {x, offset + radius},
             .before = (angles.size() > 1 ? std::to_string(angles.size()) + " \u00D7 " : "") + "\u00D8 ",
             .after = areAlike(angles) && setting.placement.spacing == 0 &&
                              setting.placement.angles.empty() && angles.size() > 1
                          ? ", evenly round the band"
                          : "",
             .isField = setting.hole.countersink == 0});
    }
}

}  // namespace

Drawing unrolledDrawing(const design::Design& design, design::Stage stage,
                        const geometry::RingSections& plain, const Layout& layout) {
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    const geometry::Rectangle band = rectangleRound(plain.band);
    Flat flat{.radius = piece.outside};
    flat.cut = piece.drilled ? cutFor(holesOf(design), piece.outside) : 0;
    flat.outside = {{0, band.low.z}, {2 * std::numbers::pi * piece.outside, band.high.z}};

    Drawing drawing = emptyDrawing(layout);
    drawing.bodies.push_back(
        {geometry::PartRole::Band, LineKind::Outline, scaled(rectangle(flat.outside), layout.scale), {}});
    addBevels(drawing, flat, plain);
    if (piece.channelled) addChannels(drawing, flat, design, piece.filled);
    for (const design::Setting& setting : design.settings) {
        for (const double angle : design::placedAngles(setting.placement)) {
            if (piece.drilled) addHole(drawing, setting.hole, {flat.at(angle), setting.placement.offset});
        }
    }

    Dimensioning all(drawing, layout);
    all.atRight({.field = "band.width",
                 .from = {flat.outside.high.z, band.low.z},
                 .to = {flat.outside.high.z, band.high.z},
                 .isField = false});
    all.below({.field = "finger.size",
               .from = flat.outside.low,
               .to = {flat.outside.high.z, flat.outside.low.r},
               .before = "round the outside ",
               .isField = false});
    if (piece.channelled) showChannels(all, flat, design, layout);
    if (piece.drilled) showHoles(all, flat, design, layout);
    all.note({.field = "settings[0].placement.start",
              .from = {0, 0},
              .to = {flat.radius * kDegree * flat.cut, 0},
              .before = "left end at ",
              .isField = false,
              .degreesPerMm = flat.degreesPerMm()});
    all.write();
    return drawing;
}

}  // namespace bandwright::drawing
