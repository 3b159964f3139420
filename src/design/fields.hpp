#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <type_traits>
#include <utility>

#include "design/design.hpp"

/// The table of the design file: every field once, with its key, what is allowed in it and what it means.
/// Reader, writer, validation and schema all walk it, so a new field is one line here. Private to the room.
namespace bandwright {

enum class FieldUnit : std::uint8_t { None, Millimetres, Nanometres, Degrees, Percent };

/// A number, both ends allowed.
struct NumberField {
    double least, most;
    FieldUnit unit;
};
constexpr NumberField mm(double least, double most) {
    return {least, most, FieldUnit::Millimetres};
}
constexpr NumberField nanometres(double least, double most) {
    return {least, most, FieldUnit::Nanometres};
}
constexpr NumberField degrees(double least, double most) {
    return {least, most, FieldUnit::Degrees};
}
constexpr NumberField percent(double least, double most) {
    return {least, most, FieldUnit::Percent};
}
constexpr NumberField share(double least, double most) {
    return {least, most, FieldUnit::None};
}

/// A whole number, both ends allowed.
struct CountField {
    int least, most;
};

/// Text in UTF-8 of so many bytes at most, without control characters; only a note may have several lines.
struct TextField {
    std::size_t most;
    bool lines;
};

/// An id in the trade catalogue.
enum class MaterialField : std::uint8_t { Metal, Gem, Filler, Adhesive };
inline constexpr std::size_t kLongestId = 64;  ///< bytes

/// One of a few words.
template <class Enum, std::size_t N>
using WordField = std::array<std::pair<Enum, std::string_view>, N>;

/// A finger size whose inner diameter lies between these, in mm.
struct SizeField {
    double least, most;
};

/// The steps of the work, each once.
struct RouteField {};

/// An object with fields of its own.
struct GroupField {};
inline constexpr GroupField kGroup;

/// At most so many items, each of which keeps a rule.
template <class Rule>
struct ListField {
    std::size_t most;
    Rule each;
};

inline constexpr WordField<OutsideShape, 4> kOutsideShapes{{{OutsideShape::Flat, "flat"},
                                                            {OutsideShape::Domed, "domed"},
                                                            {OutsideShape::KnifeEdge, "knife-edge"},
                                                            {OutsideShape::Hollow, "hollow"}}};
inline constexpr WordField<EdgeShape, 3> kEdgeShapes{
    {{EdgeShape::Sharp, "sharp"}, {EdgeShape::Bevel, "bevel"}, {EdgeShape::Round, "round"}}};
inline constexpr WordField<BoreShape, 2> kBoreShapes{
    {{BoreShape::Straight, "straight"}, {BoreShape::Comfort, "comfort"}}};
inline constexpr WordField<Finish, 6> kFinishes{{{Finish::Polished, "polished"},
                                                 {Finish::Turned, "turned"},
                                                 {Finish::Satin, "satin"},
                                                 {Finish::Brushed, "brushed"},
                                                 {Finish::Blasted, "blasted"},
                                                 {Finish::Hammered, "hammered"}}};
inline constexpr WordField<Treatment, 3> kTreatments{
    {{Treatment::None, "none"}, {Treatment::Anodised, "anodised"}, {Treatment::Blackened, "blackened"}}};
inline constexpr WordField<LayerPattern, 4> kLayerPatterns{{{LayerPattern::Random, "random"},
                                                            {LayerPattern::Ladder, "ladder"},
                                                            {LayerPattern::Twist, "twist"},
                                                            {LayerPattern::Raindrop, "raindrop"}}};
inline constexpr WordField<HoleBottom, 4> kHoleBottoms{{{HoleBottom::Through, "through"},
                                                        {HoleBottom::Flat, "flat"},
                                                        {HoleBottom::Drill118, "drill-118"},
                                                        {HoleBottom::Drill135, "drill-135"}}};
inline constexpr WordField<Join, 3> kJoins{
    {{Join::Adhesive, "adhesive"}, {Join::Solder, "solder"}, {Join::LaserWeld, "laser-weld"}}};
inline constexpr WordField<Stage, kRouteLength> kRouteSteps{{{Stage::Blank, "blank"},
                                                             {Stage::Bored, "bored"},
                                                             {Stage::Turned, "turned"},
                                                             {Stage::Parted, "parted"},
                                                             {Stage::Lined, "lined"},
                                                             {Stage::Channelled, "channelled"},
                                                             {Stage::Drilled, "drilled"},
                                                             {Stage::Filled, "filled"},
                                                             {Stage::Trued, "trued"},
                                                             {Stage::Bevelled, "bevelled"},
                                                             {Stage::Polished, "polished"},
                                                             {Stage::Sized, "sized"},
                                                             {Stage::Etched, "etched"},
                                                             {Stage::Joined, "joined"},
                                                             {Stage::Set, "set"},
                                                             {Stage::Closed, "closed"}}};
inline constexpr WordField<StoneCut, 8> kStoneCuts{{{StoneCut::RoundBrilliant, "round-brilliant"},
                                                    {StoneCut::Oval, "oval"},
                                                    {StoneCut::Marquise, "marquise"},
                                                    {StoneCut::Pear, "pear"},
                                                    {StoneCut::StepOctagon, "step-octagon"},
                                                    {StoneCut::StepSquare, "step-square"},
                                                    {StoneCut::RoseCut, "rose-cut"},
                                                    {StoneCut::Cabochon, "cabochon"}}};

template <class T, class Plain>
concept Like = std::same_as<std::remove_const_t<T>, Plain>;

// A visitor is called as visit(key, member, rule, meaning) for each field in the order of the file. The
// ranges keep out slips and nonsense (wider than any finger ring known to us; our own choice); the checks
// judge what is left.

template <class Visitor>
void visitFields(Visitor& visit, Like<Finger> auto& finger) {
    visit("size", finger.size, SizeField{8, 40}, "The finger's size in the system the client named it in");
    visit("width-correction", finger.widthCorrection, mm(-2, 2),
          "Added to the bore diameter for a wide band");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Outside> auto& outside) {
    visit("shape", outside.shape, kOutsideShapes, "The outside, seen in the cross-section");
    visit("rise", outside.rise, mm(0, 5),
          "Between its highest and its lowest place; of no meaning when flat");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Edge> auto& edge) {
    visit("shape", edge.shape, kEdgeShapes, "The corner between the outside and the edge face");
    visit("width", edge.width, mm(0, 15),
          "Taken from the outside along the axis by a bevel; the radius of a round");
    visit("angle", edge.angle, degrees(5, 85), "Between a bevel and the axis");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Bore> auto& bore) {
    visit("shape", bore.shape, kBoreShapes, "The inside, seen in the cross-section");
    visit("rise", bore.rise, mm(0, 5), "By which a comfort bore is wider, on the radius, at the edge faces");
    visit("flat", bore.flat, mm(0, 30), "Straight bore in the middle of a comfort bore");
    visit("ease", bore.ease, mm(0, 5), "Radius of the corner between bore and edge face; 0 = sharp");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Liner> auto& liner) {
    visit("metal", liner.metal, MaterialField::Metal, "What the liner is made of");
    visit("thickness", liner.thickness, mm(0.1, 5), "At mid-width, part of the band's thickness");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Surface> auto& surface) {
    visit("outside", surface.outside, kFinishes, "How the outside is left");
    visit("edges", surface.edges, kFinishes, "How bevels, rounds and edge faces are left");
    visit("bore", surface.bore, kFinishes, "How the bore is left");
    visit("treatment", surface.treatment, kTreatments,
          "What is grown on these surfaces before channels and holes are cut; the metal must take it");
    visit("oxide", surface.oxide, nanometres(0, 300),
          "Clear oxide that gives an anodised metal its colour; of no meaning otherwise");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Layers> auto& layers) {
    visit("pattern", layers.pattern, kLayerPatterns, "How the layers of a pattern-welded billet lie");
    visit("thickness", layers.thickness, mm(0.02, 2), "Of each layer");
    visit("etch", layers.etch, mm(0, 0.2), "By which the darker layers lie below the brighter ones");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Band> auto& band) {
    visit("metal", band.metal, MaterialField::Metal, "What the band is made of");
    visit("width", band.width, mm(1, 30), "Along the axis");
    visit("thickness", band.thickness, mm(0.5, 10),
          "From the bore at mid-width to the largest outside radius");
    visit("outside", band.outside, kGroup, "The outside");
    visit("left", band.left, kGroup, "The edge at the left, z = -width/2");
    visit("right", band.right, kGroup, "The edge at the right, z = +width/2");
    visit("bore", band.bore, kGroup, "The inside");
    visit("liner", band.liner, kGroup, "A sleeve of another metal in the bore; left out or null = none");
    visit("finish", band.surface, kGroup, "How its surfaces are left");
    visit("layers", band.layers, kGroup, "The billet of a pattern-welded metal; of no meaning otherwise");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Fill> auto& fill) {
    visit("filler", fill.filler, MaterialField::Filler, "Crushed stone, pigment or glow powder");
    visit("adhesive", fill.adhesive, MaterialField::Adhesive, "What holds it");
    visit("grain-least", fill.grainLeast, mm(0, 5), "Size of the smallest grains");
    visit("grain-most", fill.grainMost, mm(0, 5), "Size of the largest grains");
    visit("packing", fill.packing, share(0, 1), "Share of the volume that is filler; the rest is adhesive");
    visit("proud", fill.proud, mm(-2, 2), "Above the outside; negative = sunk");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Channel> auto& channel) {
    visit("offset", channel.offset, mm(-15, 15), "From mid-width to the middle of the mouth");
    visit("width", channel.width, mm(0.1, 30), "At the height of the outside over the channel's middle");
    visit("depth", channel.depth, mm(0.05, 10), "Below the outside over the channel's middle");
    visit("floor-radius", channel.floorRadius, mm(0, 5), "The corner the tool leaves between side and floor");
    visit("draft", channel.draft, degrees(-45, 45), "Lean of each side outwards; negative = undercut");
    visit("fill", channel.fill, kGroup, "What it is packed with; left out or null = left empty");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<HoleStep> auto& step) {
    visit("diameter", step.diameter, mm(0.2, 20), "Of the step");
    visit("depth", step.depth, mm(0.05, 10), "Below the outside over the hole's middle, to its full width");
    visit("bearing", step.bearing, degrees(0, 75),
          "Its floor's rise from what is below it to its side, on which a stone without a tube is set; 0 = "
          "flat");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Hole> auto& hole) {
    visit("pilot-diameter", hole.pilotDiameter, mm(0.1, 20), "Of the narrowest part");
    visit("bottom", hole.bottom, kHoleBottoms, "How the pilot ends");
    visit("pilot-depth", hole.pilotDepth, mm(0, 10), "To the full-width end of a blind pilot");
    visit("steps", hole.steps, ListField<GroupField>{8, {}},
          "Wider steps, each wider and less deep than the one before");
    visit("countersink", hole.countersink, mm(0, 5),
          "Added to the diameter at the outside by a 90 degree countersink");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Tube> auto& tube) {
    visit("metal", tube.metal, MaterialField::Metal, "What the tube is made of");
    visit("outer-diameter", tube.outerDiameter, mm(0.2, 20), "Outside of the tube");
    visit("inner-diameter", tube.innerDiameter, mm(0.1, 20), "Below the ledge");
    visit("seat-diameter", tube.seatDiameter, mm(0.1, 20), "Above the ledge");
    visit("height", tube.height, mm(0.1, 10), "Lip open");
    visit("seat-depth", tube.seatDepth, mm(0, 10), "From the lip down to the ledge");
    visit("join", tube.join, kJoins, "What holds it in its hole");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Stone> auto& stone) {
    visit("gem", stone.gem, MaterialField::Gem, "What the stone is");
    visit("cut", stone.cut, kStoneCuts, "How it is cut");
    visit("diameter", stone.diameter, mm(0.5, 20), "At the girdle; the width when it is longer than wide");
    visit("length", stone.length, mm(0, 40),
          "At the girdle; 0 = as long as wide; not used by round and square cuts");
    visit("table", stone.table, percent(20, 95), "Width of the table, of the girdle diameter");
    visit("crown-angle", stone.crownAngle, degrees(5, 70), "Of the crown mains, or of the middle step");
    visit("pavilion-angle", stone.pavilionAngle, degrees(5, 70),
          "Of the pavilion mains, or of the middle step");
    visit("girdle", stone.girdle, percent(0, 30), "Thickness, of the girdle diameter");
    visit("star-length", stone.starLength, percent(0, 100),
          "Brilliants: reach of the stars from table to girdle");
    visit("lower-length", stone.lowerLength, percent(0, 100),
          "Brilliants: reach of the lower girdle facets to the culet");
    visit("dome", stone.dome, percent(5, 100),
          "Rose cut and cabochon: height above the girdle, of its diameter");
    visit("model", stone.model, TextField{1024, false},
          "A closed OBJ model instead of a cut, from the folder of this file; empty = none");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Placement> auto& placement) {
    visit("offset", placement.offset, mm(-15, 15), "From mid-width");
    visit("count", placement.count, CountField{1, 120}, "How many");
    visit("start", placement.start, degrees(-360, 360), "Angle round the band of the first");
    visit("spacing", placement.spacing, degrees(-360, 360),
          "Between neighbours; 0 = evenly round the whole band");
    visit("angles", placement.angles, ListField<NumberField>{120, degrees(-360, 360)},
          "Listed angles; when there are any they replace count, start and spacing");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Setting> auto& setting) {
    visit("placement", setting.placement, kGroup, "Where its holes stand");
    visit("hole", setting.hole, kGroup, "A radial hole: a pilot and wider steps");
    visit("tube", setting.tube, kGroup, "A length of tube in the widest step; left out or null = none");
    visit("stone", setting.stone, kGroup,
          "On the tube's ledge, or set straight in the hole; left out or null = none");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Allowances> auto& allowances) {
    visit("sizing", allowances.sizing, mm(0, 2), "Left on the bore radius until the band is sized");
    visit("truing", allowances.truing, mm(0, 2), "Left on the outside radius until it is trued");
    visit("fill", allowances.fill, mm(0, 2), "By which fills stand over the outside until they are trued");
    visit("parting", allowances.parting, mm(0, 10), "Left on each edge face until the ring is parted off");
    visit("blank-outside", allowances.blankOutside, mm(0, 20), "More on the outside radius of the blank");
    visit("blank-bore", allowances.blankBore, mm(0, 20),
          "More on the bore radius of the blank, of which 1 mm is left at least");
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Design> auto& design) {
    visit("title", design.title, TextField{200, false}, "What the commission is called");
    visit("note", design.note, TextField{8000, true}, "Anything else to remember");
    visit("finger", design.finger, kGroup, "Whom it is to fit");
    visit("band", design.band, kGroup, "The metal ring");
    visit("channels", design.channels, ListField<GroupField>{16, {}}, "Grooves round the outside");
    visit("settings", design.settings, ListField<GroupField>{32, {}},
          "Holes and what sits in them, round the band");
    visit("allowances", design.allowances, kGroup, "Material left for later steps");
    visit("route", design.route, RouteField{}, "The steps of the work in the order they are done, each once");
}

}  // namespace bandwright
