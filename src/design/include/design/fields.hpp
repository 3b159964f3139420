#pragma once

#include <algorithm>
#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <type_traits>

#include "design/design.hpp"

/// The table of the design file: every field once, with its key, what is allowed in it, how a person sets it
/// and what it means. Reader, writer, schema, job card, remedies, tolerances and paths all walk it, so a new
/// field is one line here. Where only the rows as data are needed, see field_table.hpp.
namespace bandwright::design {

enum class Unit : std::uint8_t { None, Pieces, Millimetres, Nanometres, Degrees, Percent, Share, Grams };

/// As the file's messages name it, as a sentence for the maker does, and its sign beside a number. A share is
/// 0..1 in the file and percent for a person.
struct UnitNames {
    std::string_view inFile, inWords, sign;
};
UnitNames names(Unit unit);

/// What one in the file is for a person: 100 for a share, else 1.
constexpr double shownFactor(Unit unit) {
    return unit == Unit::Share ? 100 : 1;
}

/// How a number comes out of the workshop; see tolerances in check.
enum class ToleranceKind : std::uint8_t {
    Size,      ///< a length or angle that is made; where it is nothing, there is nothing to make
    Position,  ///< counted from some place, and as uncertain where it is nothing
    Edge,      ///< a bevel's width or the radius of a corner
    StoneSize,
    Exact,  ///< chosen, bought by the sieve, or removed later: comes out as it is written
};

/// A number, both ends allowed. Everything in the unit of the file, but for `decimals`.
struct NumberField {
    double least = 0, most = 0;
    Unit unit = Unit::None;
    double step = 1;   ///< one notch of the thimble or the arrow keys
    int decimals = 0;  ///< a person sees at least
    double grid = 1;   ///< what a maker can read off: remedies change the number by whole ones
    ToleranceKind tolerance = ToleranceKind::Exact;

    constexpr NumberField as(ToleranceKind kind) const {
        NumberField same = *this;
        same.tolerance = kind;
        return same;
    }
};
constexpr NumberField mm(double least, double most, double step = 0.05, int decimals = 2,
                         double grid = 0.01) {
    return {least, most, Unit::Millimetres, step, decimals, grid, ToleranceKind::Size};
}
constexpr NumberField fine(double least, double most) {
    return mm(least, most, 0.01);
}
constexpr NumberField nanometres(double least, double most) {
    return {least, most, Unit::Nanometres};
}
constexpr NumberField grams(double least, double most) {
    return {least, most, Unit::Grams, 0.01, 3, 0.001};
}
constexpr NumberField degrees(double least, double most, double step = 0.5) {
    return {least, most, Unit::Degrees, step, 1, step, ToleranceKind::Size};
}
constexpr NumberField percent(double least, double most) {
    return {least, most, Unit::Percent, 0.5, 1, 0.5};
}
constexpr NumberField share(double least, double most) {
    return {least, most, Unit::Share, 0.01, 0, 0.01};
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

/// One value of an enumeration: its word in the file and its name for a person.
template <class Enum>
struct Word {
    Enum value;
    std::string_view id, label;
    std::string_view help{};
};

/// One of a few words.
template <class Enum, std::size_t N>
struct WordField {
    std::array<Word<Enum>, N> words;
    bool sideBySide = false;  ///< on the job card, where all can be seen; otherwise in a list that opens

    constexpr auto begin() const { return words.begin(); }
    constexpr auto end() const { return words.end(); }

    /// The row of a value.
    constexpr const Word<Enum>& operator[](Enum value) const {
        return *std::ranges::find(words, value, &Word<Enum>::value);
    }
};

/// A finger size whose inner diameter lies between these, in mm.
struct SizeField {
    double least, most;
};

/// The steps of the work, each once.
struct RouteField {};

/// The path of a field of the same design.
struct PathField {};

/// An object with fields of its own.
struct GroupField {};
inline constexpr GroupField kGroup;

/// How the items of a list are told apart.
enum class Numbering : std::uint8_t {
    Group,  ///< each is a group of its own: "the depth of channel 2"
    Label,  ///< in the label: "Step 2 depth"
};

/// At most so many items, each of which keeps a rule.
template <class Rule>
struct ListField {
    std::size_t most;
    Rule each;
    Numbering numbering = Numbering::Group;
};

/// What a field belongs to, so that a measure of the same leads to it.
enum class FieldOwner : std::uint8_t { Ring, LeftEdge, RightEdge, Channel, Setting };

/// What a person reads about a field.
struct Words {
    std::string_view label;  ///< on the job card
    std::string_view help;   ///< what it means; in the schema
    bool counts = true;      ///< whether it means anything as the fields beside it stand
    /// What a sentence calls it where the label will not do: "the largest grain". A # stands for what it
    /// belongs to, as in "the offset of # from mid-width"; empty = "the LABEL of #".
    std::string_view noun{};

    // Of groups and lists alone.
    std::string_view belonging{};  ///< in a sentence, what the fields inside belong to: "left edge"; empty =
                                   ///< what the group itself belongs to
    FieldOwner owner = FieldOwner::Ring;
};
constexpr Words called(std::string_view label, std::string_view noun, std::string_view help,
                       bool counts = true) {
    return {label, help, counts, noun};
}
constexpr Words group(std::string_view label, std::string_view help, std::string_view belonging,
                      FieldOwner owner = FieldOwner::Ring) {
    return {label, help, true, {}, belonging, owner};
}

inline constexpr WordField<OutsideShape, 4> kOutsideShapes{{{{OutsideShape::Flat, "flat", "Flat"},
                                                             {OutsideShape::Domed, "domed", "Domed"},
                                                             {OutsideShape::KnifeEdge, "knife-edge", "Knife"},
                                                             {OutsideShape::Hollow, "hollow", "Hollow"}}},
                                                           true};
inline constexpr WordField<EdgeShape, 3> kEdgeShapes{{{{EdgeShape::Sharp, "sharp", "Sharp"},
                                                       {EdgeShape::Bevel, "bevel", "Bevel"},
                                                       {EdgeShape::Round, "round", "Round"}}},
                                                     true};
inline constexpr WordField<BoreShape, 2> kBoreShapes{
    {{{BoreShape::Straight, "straight", "Straight"}, {BoreShape::Comfort, "comfort", "Comfort"}}}, true};
inline constexpr WordField<Finish, 6> kFinishes{{{{Finish::Polished, "polished", "Polished"},
                                                  {Finish::Turned, "turned", "Turned"},
                                                  {Finish::Satin, "satin", "Satin"},
                                                  {Finish::Brushed, "brushed", "Brushed"},
                                                  {Finish::Blasted, "blasted", "Blasted"},
                                                  {Finish::Hammered, "hammered", "Hammered"}}}};
inline constexpr WordField<Treatment, 3> kTreatments{{{{Treatment::None, "none", "None"},
                                                       {Treatment::Anodised, "anodised", "Anodised"},
                                                       {Treatment::Blackened, "blackened", "Blackened"}}}};
inline constexpr WordField<LayerPattern, 4> kLayerPatterns{
    {{{LayerPattern::Random, "random", "Random"},
      {LayerPattern::Ladder, "ladder", "Ladder"},
      {LayerPattern::Twist, "twist", "Twist"},
      {LayerPattern::Raindrop, "raindrop", "Raindrop"}}}};
inline constexpr WordField<Grain, 2> kGrains{
    {{{Grain::Plank, "plank", "Plank", "turned from a plank, whose grain crosses the band at two places"},
      {Grain::Bent, "bent", "Bent", "laminations bent round, the grain along the band"}}}};
inline constexpr WordField<HoleBottom, 4> kHoleBottoms{{{{HoleBottom::Through, "through", "Through"},
                                                         {HoleBottom::Flat, "flat", "Flat"},
                                                         {HoleBottom::Drill118, "drill-118", "118\u00B0"},
                                                         {HoleBottom::Drill135, "drill-135", "135\u00B0"}}},
                                                       true};
inline constexpr WordField<Join, 4> kJoins{{{{Join::Adhesive, "adhesive", "Glue"},
                                             {Join::Solder, "solder", "Solder"},
                                             {Join::LaserWeld, "laser-weld", "Laser"},
                                             {Join::Press, "press", "Press"}}},
                                           true};
inline constexpr WordField<Solder, 4> kSolders{{{{Solder::ExtraEasy, "extra-easy", "Extra-easy"},
                                                 {Solder::Easy, "easy", "Easy"},
                                                 {Solder::Medium, "medium", "Medium"},
                                                 {Solder::Hard, "hard", "Hard"}}}};
inline constexpr WordField<Closing, 2> kClosings{
    {{{Closing::Burnished, "burnished", "Burnished"}, {Closing::Hammered, "hammered", "Hammered"}}}, true};
inline constexpr WordField<Stage, kRouteLength> kRouteSteps{
    {{{Stage::Blank, "blank", "Blank", "a drilled piece of bar or tube"},
      {Stage::Bored, "bored", "Bored", "bored straight and under size, or to the joint for a liner"},
      {Stage::Turned, "turned", "Turned", "turned outside, with what is left to true"},
      {Stage::Parted, "parted", "Parted", "parted off and faced to width, the outside in shape"},
      {Stage::Lined, "lined", "Lined", "the liner pressed in"},
      {Stage::Channelled, "channelled", "Channelled", "the channels cut"},
      {Stage::Drilled, "drilled", "Drilled", "the holes drilled and seated"},
      {Stage::Filled, "filled", "Filled", "the channels packed, standing over the outside"},
      {Stage::Trued, "trued", "Trued", "metal and fill taken down to where they belong"},
      {Stage::Bevelled, "bevelled", "Bevelled", "the edges bevelled or rounded"},
      {Stage::Polished, "polished", "Polished", "the surfaces as they are to be left"},
      {Stage::Sized, "sized", "Sized", "the bore opened to size, in its shape and eased"},
      {Stage::Etched, "etched", "Etched", "the layers etched out"},
      {Stage::Joined, "joined", "Joined", "the tubes fixed in their holes"},
      {Stage::Set, "set", "Set", "the stones laid in"},
      {Stage::Closed, "closed", "Closed", "the lips closed over the stones"}}}};
inline constexpr WordField<Measurable, 14> kMeasurables{
    {{{Measurable::Bore, "bore", "Bore", "diameter at mid-width"},
      {Measurable::Outside, "outside", "Outside", "largest diameter"},
      {Measurable::Width, "width", "Width", "along the axis"},
      {Measurable::BevelLeft, "bevel-left", "Left bevel", "what it takes from the outside along the axis"},
      {Measurable::BevelRight, "bevel-right", "Right bevel", "what it takes from the outside along the axis"},
      {Measurable::ChannelWidth, "channel-width", "Channel width", "at the outside as it is then"},
      {Measurable::ChannelDepth, "channel-depth", "Channel depth", "from the outside as it is then"},
      {Measurable::ChannelFromLeft, "channel-from-left", "Channel from left",
       "from the left edge face to the channel"},
      {Measurable::PilotDiameter, "pilot-diameter", "Pilot \u00D8", "of the hole's narrowest part"},
      {Measurable::SeatDiameter, "seat-diameter", "Seat \u00D8", "of the hole's widest step"},
      {Measurable::SeatDepth, "seat-depth", "Seat depth",
       "from the outside as it is then to the full width of the hole's widest step"},
      {Measurable::TubeOutside, "tube-outside", "Tube \u00D8", "its outside"},
      {Measurable::StoneGirdle, "stone-girdle", "Stone girdle", "its width at the girdle"},
      {Measurable::Mass, "mass", "Mass", "of the whole as it is then, by a scale"}}}};
/// The row of any stage, Finished included.
const Word<Stage>& word(Stage stage);
inline constexpr WordField<StoneCut, 8> kStoneCuts{
    {{{StoneCut::RoundBrilliant, "round-brilliant", "Round brilliant"},
      {StoneCut::Oval, "oval", "Oval"},
      {StoneCut::Marquise, "marquise", "Marquise"},
      {StoneCut::Pear, "pear", "Pear"},
      {StoneCut::StepOctagon, "step-octagon", "Step octagon"},
      {StoneCut::StepSquare, "step-square", "Step square"},
      {StoneCut::RoseCut, "rose-cut", "Rose cut"},
      {StoneCut::Cabochon, "cabochon", "Cabochon"}}}};

template <class T, class Plain>
concept Like = std::same_as<std::remove_const_t<T>, Plain>;

// A visitor is called as visit(key, member, rule, words) for each field in the order of the file. The
// ranges keep out slips and nonsense (wider than any finger ring known to us; our own choice); the checks
// judge what is left.

template <class Visitor>
void visitFields(Visitor& visit, Like<Finger> auto& finger) {
    visit("size", finger.size, SizeField{8, 40},
          {"Size", "The finger's size in the system the client named it in"});
    visit("width-correction", finger.widthCorrection, fine(-2, 2).as(ToleranceKind::Exact),
          called("Correction", "the correction of the bore for a wide band",
                 "Added to the bore diameter for a wide band"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Outside> auto& outside) {
    visit("shape", outside.shape, kOutsideShapes, {"Outside", "The outside, seen in the cross-section"});
    visit("rise", outside.rise, fine(0, 5),
          {"Rise", "Between its highest and its lowest place; ignored when flat",
           outside.shape != OutsideShape::Flat});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Edge> auto& edge) {
    visit("shape", edge.shape, kEdgeShapes, {"Shape", "The corner between the outside and the edge face"});
    visit("width", edge.width, mm(0, 15).as(ToleranceKind::Edge),
          {edge.shape == EdgeShape::Round ? "Radius" : "Bevel width",
           "Taken from the outside along the axis by a bevel; the radius of a round",
           edge.shape != EdgeShape::Sharp});
    visit("angle", edge.angle, degrees(5, 85),
          {"Bevel angle", "Between a bevel and the axis", edge.shape == EdgeShape::Bevel});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Bore> auto& bore) {
    const bool isComfort = bore.shape == BoreShape::Comfort;
    visit("shape", bore.shape, kBoreShapes, {"Bore", "The inside, seen in the cross-section"});
    visit(
        "rise", bore.rise, fine(0, 5),
        {"Comfort rise",
         "By which a comfort bore is wider, on the radius, where its arc would meet the edge face; the ease "
         "rounds that corner. The arc is tangent to the straight middle, or without one to the bore at "
         "mid-width",
         isComfort});
    visit("flat", bore.flat, mm(0, 30),
          {"Flat middle",
           "Straight bore in the middle of a comfort bore, to which its two arcs are tangent; "
           "0 = one arc from edge to edge",
           isComfort});
    visit("ease", bore.ease, fine(0, 5).as(ToleranceKind::Edge),
          {"Ease radius", "Radius of the corner between bore and edge face; 0 = sharp"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Liner> auto& liner) {
    visit("metal", liner.metal, MaterialField::Metal,
          called("Liner metal", "the metal of the liner", "What the liner is made of"));
    visit("thickness", liner.thickness, fine(0.1, 5),
          called("Liner wall", "the thickness of the liner", "At mid-width, part of the band's thickness"));
    visit("interference", liner.interference, mm(-0.3, 0.3, 0.005, 3, 0.001).as(ToleranceKind::Exact),
          called("Liner fit", "the interference of the liner",
                 "How the liner is held: by how much it is larger than its hole, on the diameter, it is "
                 "pressed in; negative = a gap, and it is glued in"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Surface> auto& surface) {
    visit("outside", surface.outside, kFinishes, {"Outside", "How the outside is left"});
    visit("edges", surface.edges, kFinishes, {"Edges", "How bevels, rounds and edge faces are left"});
    visit("bore", surface.bore, kFinishes, {"Bore", "How the bore is left"});
    visit(
        "treatment", surface.treatment, kTreatments,
        {"Treatment",
         "What is grown on these surfaces when they are polished, not in channels and holes; the metal must "
         "take it"});
    visit("oxide", surface.oxide, nanometres(0, 300),
          called("Oxide", "the thickness of the oxide",
                 "Clear oxide that gives an anodised metal its colour; otherwise ignored",
                 surface.treatment == Treatment::Anodised));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Layers> auto& layers) {
    visit("pattern", layers.pattern, kLayerPatterns,
          {"Pattern", "How the layers of a pattern-welded billet lie"});
    visit("thickness", layers.thickness, fine(0.02, 2),
          called("Layer", "the thickness of each layer", "Of each layer"));
    visit("etch", layers.etch, mm(0, 0.2, 0.001, 3, 0.001),
          called("Etch", "the depth of the etch", "By which the darker layers lie below the brighter ones"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Band> auto& band) {
    visit("metal", band.metal, MaterialField::Metal, {"Metal", "What the band is made of"});
    visit("width", band.width, mm(1, 30), {"Width", "Along the axis"});
    visit("thickness", band.thickness, mm(0.5, 10),
          {"Thickness", "From the bore at mid-width to the largest outside radius"});
    visit("outside", band.outside, kGroup, group("Outside", "The outside", "outside"));
    visit("left", band.left, kGroup,
          group("Left edge", "The edge at the left, z = -width/2", "left edge", FieldOwner::LeftEdge));
    visit("right", band.right, kGroup,
          group("Right edge", "The edge at the right, z = +width/2", "right edge", FieldOwner::RightEdge));
    visit("bore", band.bore, kGroup, group("Bore", "The inside", "bore"));
    visit("liner", band.liner, kGroup,
          group("Liner", "A sleeve of another metal in the bore; left out or null = none", ""));
    visit("finish", band.surface, kGroup, group("Finish", "How its surfaces are left", ""));
    visit("layers", band.layers, kGroup,
          group("Layers", "The billet of a pattern-welded metal; otherwise ignored", "layers"));
    visit("grain", band.grain, kGrains,
          {"Grain", "How the grain of a wooden band lies; ignored unless it is of wood"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Fill> auto& fill) {
    visit("filler", fill.filler, MaterialField::Filler,
          called("Fill", "the filler", "Crushed stone, pigment or glow powder"));
    visit("adhesive", fill.adhesive, MaterialField::Adhesive, {"Adhesive", "What holds it"});
    visit("grain-least", fill.grainLeast, fine(0, 5).as(ToleranceKind::Exact),
          called("Grain, least", "the smallest grain of #", "Size of the smallest grains"));
    visit("grain-most", fill.grainMost, fine(0, 5).as(ToleranceKind::Exact),
          called("Grain, most", "the largest grain of #", "Size of the largest grains"));
    visit("packing", fill.packing, share(0, 1),
          called("Packed", "the share of grains in #",
                 "Share of the volume that is filler; the rest is adhesive"));
    visit("proud", fill.proud, fine(-2, 2).as(ToleranceKind::Position),
          called("Proud", "the height of # above the metal", "Above the outside; negative = sunk"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Channel> auto& channel) {
    visit(
        "offset", channel.offset, mm(-15, 15).as(ToleranceKind::Position),
        called("Off middle", "the offset of # from mid-width", "From mid-width to the middle of the mouth"));
    visit("width", channel.width, mm(0.1, 30),
          {"Width", "At the height of the outside over the channel's middle"});
    visit("depth", channel.depth, fine(0.05, 10),
          {"Depth",
           "From the outside over the channel's middle down to the floor, which lies parallel to the "
           "axis also where the outside is not flat"});
    visit("floor-radius", channel.floorRadius, fine(0, 5),
          called("Floor corner", "the radius of the floor's corners of #",
                 "Radius that the tool leaves between side and floor"));
    visit("draft", channel.draft, degrees(-45, 45).as(ToleranceKind::Position),
          {"Side draft", "Lean of each side outwards; negative = undercut"});
    visit("fill", channel.fill, kGroup,
          group("Filled", "What it is packed with; left out or null = left empty", "fill"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<HoleStep> auto& step) {
    visit("diameter", step.diameter, mm(0.2, 20), called("\u00D8", "the diameter of #", "Of the step"));
    visit("depth", step.depth, mm(0.05, 10),
          {"depth",
           "To its full width, from the outside over the hole's middle as it was before any channel "
           "was cut, also where the hole stands in one"});
    visit(
        "bearing", step.bearing, degrees(0, 75, 1),
        called("bearing", "the bearing angle of #",
               "Its floor's rise from what is below it to its side, on which a stone without a tube is set; "
               "0 = flat"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Hole> auto& hole) {
    visit("pilot-diameter", hole.pilotDiameter, mm(0.1, 20),
          called("Pilot \u00D8", "the diameter of the pilot", "Of the narrowest part"));
    visit("bottom", hole.bottom, kHoleBottoms, {"Pilot ends", "How the pilot ends"});
    visit("pilot-depth", hole.pilotDepth, mm(0, 10),
          called("Pilot depth", "the depth of the pilot",
                 "To the full-width end of a blind pilot, counted as the steps' depths are",
                 hole.bottom != HoleBottom::Through));
    visit("steps", hole.steps, ListField<GroupField>{8, {}, Numbering::Label},
          {"Step", "Wider steps, each wider and less deep than the one before"});
    visit("countersink", hole.countersink, mm(0, 5),
          {"Countersink",
           "Added by a 90 degree countersink to the diameter at the height of the outside over the hole's "
           "middle; where the outside stands higher the cone goes on widening"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Tube> auto& tube) {
    visit("metal", tube.metal, MaterialField::Metal,
          called("Tube metal", "the metal of #", "What the tube is made of"));
    visit("outer-diameter", tube.outerDiameter, mm(0.2, 20),
          called("Outside \u00D8", "the outside diameter of #", "Outside of the tube"));
    visit("inner-diameter", tube.innerDiameter, mm(0.1, 20),
          called("Inside \u00D8", "the inside diameter of #", "Below the ledge"));
    visit("seat-diameter", tube.seatDiameter, mm(0.1, 20),
          called("Seat \u00D8", "the seat diameter of #", "Above the ledge"));
    visit("height", tube.height, mm(0.1, 10), {"Height", "Lip open"});
    visit("seat-depth", tube.seatDepth, mm(0, 10), {"Seat depth", "From the lip down to the ledge"});
    visit("join", tube.join, kJoins,
          {"Join", "What holds it in its hole; pressed in, it is larger than its hole"});
    visit("solder", tube.solder, kSolders,
          {"Solder", "Silver solder, by the heat at which it flows; ignored unless it is soldered",
           tube.join == Join::Solder});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Stone> auto& stone) {
    const bool isCut = stone.model.empty();
    const bool isRound =
        isCut && (stone.cut == StoneCut::RoundBrilliant || stone.cut == StoneCut::StepSquare);
    const bool isDomed = isCut && (stone.cut == StoneCut::RoseCut || stone.cut == StoneCut::Cabochon);
    const bool isStepped = stone.cut == StoneCut::StepOctagon || stone.cut == StoneCut::StepSquare;
    const bool hasTable = isCut && !isDomed;
    const bool isBrilliant = hasTable && !isStepped;
    visit("gem", stone.gem, MaterialField::Gem, {"Gem", "What the stone is"});
    visit("cut", stone.cut, kStoneCuts, {"Cut", "How it is cut", isCut});
    visit("diameter", stone.diameter, mm(0.5, 20).as(ToleranceKind::StoneSize),
          called(isRound ? "Girdle \u00D8" : "Girdle width", isRound ? "the diameter of #" : "the width of #",
                 "At the girdle; the width when it is longer than wide"));
    visit("length", stone.length, mm(0, 40).as(ToleranceKind::StoneSize),
          called("Girdle length", "the length of #",
                 "At the girdle; 0 = as long as wide; not used by round and square cuts", !isRound));
    visit("table", stone.table, percent(20, 95),
          {"Table", "Width of the table, of the girdle diameter", hasTable});
    visit("crown-angle", stone.crownAngle, degrees(5, 70),
          called("Crown", "the crown angle of #", "Of the crown mains, or of the middle step", hasTable));
    visit("pavilion-angle", stone.pavilionAngle, degrees(5, 70),
          called("Pavilion", "the pavilion angle of #", "Of the pavilion mains, or of the middle step",
                 hasTable));
    visit("girdle", stone.girdle, percent(0, 30),
          called("Girdle", "the girdle thickness of #", "Thickness, of the girdle diameter", isCut));
    visit("star-length", stone.starLength, percent(0, 100),
          {"Star length", "Brilliants: reach of the stars from table to girdle", isBrilliant});
    visit("lower-length", stone.lowerLength, percent(0, 100),
          {"Lower length", "Brilliants: reach of the lower girdle facets to the culet", isBrilliant});
    visit("dome", stone.dome, percent(5, 100),
          called("Dome", "the height of the dome of #",
                 "Rose cut and cabochon: height above the girdle, of its diameter", isDomed));
    visit("model", stone.model, TextField{1024, false},
          {"OBJ model", "A closed OBJ model instead of a cut, from the folder of this file; empty = none"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Placement> auto& placement) {
    const bool isListed = !placement.angles.empty();
    visit("offset", placement.offset, mm(-15, 15).as(ToleranceKind::Position),
          called("Off middle", "the offset of # from mid-width", "From mid-width"));
    visit("count", placement.count, CountField{1, 120},
          called("How many", "the number of holes of #", "How many", !isListed));
    visit("start", placement.start, degrees(-360, 360, 1).as(ToleranceKind::Position),
          called("First at", "the angle of the first hole of #", "Angle round the band of the first",
                 !isListed));
    visit("spacing", placement.spacing, degrees(-360, 360, 1),
          called("Spacing", "the spacing of the holes of #",
                 "Between neighbours; 0 = evenly round the whole band", !isListed && placement.count > 1));
    visit("angles", placement.angles,
          ListField<NumberField>{120, degrees(-360, 360, 1).as(ToleranceKind::Position), Numbering::Label},
          {"Angle", "Listed angles; when there are any they replace count, start and spacing"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Setting> auto& setting) {
    visit("placement", setting.placement, kGroup, group("Placement", "Where its holes stand", ""));
    visit("hole", setting.hole, kGroup, group("Hole", "A radial hole: a pilot and wider steps", "hole"));
    visit("tube", setting.tube, kGroup,
          group("Tube", "A length of tube in the widest step; left out or null = none", "tube"));
    visit(
        "stone", setting.stone, kGroup,
        group("Stone", "On the tube's ledge, or set straight in the hole; left out or null = none", "stone"));
    visit("closing", setting.closing, kClosings,
          {"Closing", "How lip or edge is laid over the stone", setting.stone.has_value()});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Allowances> auto& allowances) {
    visit("sizing", allowances.sizing, mm(0, 2, 0.01, 3),
          called("Left to size", "the metal left in the bore for sizing",
                 "Left on the bore radius until the band is sized"));
    visit("truing", allowances.truing, mm(0, 2, 0.01, 3, 0.001),
          called("Left to true", "the metal left on the outside for truing",
                 "Left on the outside radius until it is trued"));
    visit("fill", allowances.fill, fine(0, 2).as(ToleranceKind::Exact),
          called("Fill stands over", "the height of the fills over the outside until they are trued",
                 "By which fills stand over the outside until they are trued"));
    visit("parting", allowances.parting, mm(0, 10).as(ToleranceKind::Exact),
          called("Left to part off", "the metal left on each face for parting off",
                 "Left on each edge face until the ring is parted off"));
    visit("blank-outside", allowances.blankOutside, mm(0, 20).as(ToleranceKind::Exact),
          called("Blank, outside", "the extra metal on the outside of the blank",
                 "Extra metal on the outside radius of the blank"));
    visit("blank-bore", allowances.blankBore, mm(0, 20).as(ToleranceKind::Exact),
          called("Blank, bore", "the extra metal in the bore of the blank",
                 "Extra metal on the blank's bore radius, which is never under 1 mm"));
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Measured> auto& measured) {
    const bool isMass = measured.what == Measurable::Mass;
    const bool isNumbered = measured.what >= Measurable::ChannelWidth && !isMass;
    visit("stage", measured.stage, kRouteSteps, {"After", "The step after which it was read"});
    visit("what", measured.what, kMeasurables, {"Of", "What was read"});
    visit("number", measured.number, CountField{1, 32},
          {"Which", "Of which channel or setting, from 1; ignored for the band", isNumbered});
    visit("value", measured.value,
          isMass ? grams(0, 100) : mm(0, 100, 0.01, 3, 0.001).as(ToleranceKind::Exact),
          {"Reading", "What the instrument said, mm, of a mass g; 0 = not read yet"});
    visit("instrument", measured.instrument, TextField{80, false}, {"With", "The instrument"});
    visit("date", measured.date, TextField{40, false}, {"Date", "When it was read"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Done> auto& done) {
    visit("stage", done.stage, kRouteSteps, {"Step", "The step of the work it belongs to"});
    visit("operation", done.operation, TextField{200, false},
          {"Operation", "By its name in the plan of the work"});
    visit("date", done.date, TextField{40, false}, {"Date", "When it was done"});
}

template <class Visitor>
void visitFields(Visitor& visit, Like<Design> auto& design) {
    visit("title", design.title, TextField{200, false}, {"Job", "What the commission is called"});
    visit("note", design.note, TextField{8000, true}, {"Note", "Anything else to remember"});
    visit("finger", design.finger, kGroup, group("Finger", "Whom it is to fit", ""));
    visit("band", design.band, kGroup, group("Band", "The metal ring", "band"));
    visit("channels", design.channels, ListField<GroupField>{16, {}},
          group("Channel", "Grooves round the outside", "channel", FieldOwner::Channel));
    visit("settings", design.settings, ListField<GroupField>{32, {}},
          group("Stone", "Holes and what sits in them, round the band", "setting", FieldOwner::Setting));
    visit("allowances", design.allowances, kGroup, group("Allowances", "Material left for later steps", ""));
    visit("route", design.route, RouteField{},
          {"Route", "The steps of the work in the order they are done, each once"});
    visit(
        "measured", design.measured, ListField<GroupField>{200, {}},
        group("Reading", "What was read at the bench, beside the plan; the ring is judged by it", "reading"));
    visit("done", design.done, ListField<GroupField>{500, {}},
          group("Done", "What was ticked at the bench", "operation"));
    visit("locked", design.locked, ListField<PathField>{200, {}},
          {"Locked",
           "Paths of the fields the client asked for, such as band.width: no remedy and no mending changes "
           "them; left out = none"});
}

}  // namespace bandwright::design
