#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "design/route.hpp"
#include "trade/ring_size.hpp"

/// A design: what the maker has decided, as plain values. Lengths in mm, angles in degrees, positions across
/// the width from mid-width (z = 0), positive towards the right-hand edge. Materials are ids of the trade
/// catalogue.
namespace bandwright::design {

struct Finger {
    trade::RingSize size;
    double widthCorrection = 0;  ///< mm added to the bore diameter for a wide band, as the maker chose

    bool operator==(const Finger&) const = default;
};

enum class OutsideShape {
    Flat,
    Domed,      ///< an arc, highest at mid-width
    KnifeEdge,  ///< two cones, highest at mid-width
    Hollow,     ///< an arc, lowest at mid-width
};

struct Outside {
    OutsideShape shape = OutsideShape::Flat;
    double rise = 0.3;  ///< mm between the highest and the lowest place; of no meaning when flat

    bool operator==(const Outside&) const = default;
};

enum class EdgeShape { Sharp, Bevel, Round };

/// The corner between the outside and one edge face.
struct Edge {
    EdgeShape shape = EdgeShape::Bevel;
    double width = 0.8;  ///< mm taken from the outside along the axis (bevel); the radius (round)
    double angle = 45;   ///< degrees between the bevel and the axis

    bool operator==(const Edge&) const = default;
};

enum class BoreShape { Straight, Comfort };

struct Bore {
    BoreShape shape = BoreShape::Comfort;
    double rise = 0.25;  ///< mm on the radius by which a comfort bore is wider at the edge faces
    double flat = 0;     ///< mm of straight bore in the middle of a comfort bore
    double ease = 0.15;  ///< radius of the rounded corner between bore and edge face, mm; 0 = sharp

    bool operator==(const Bore&) const = default;
};

/// A sleeve of another metal that lines the bore, as wide as the band.
struct Liner {
    std::string metal = "gold-18k-yellow";
    double thickness = 0.6;      ///< mm at mid-width, part of the band's thickness
    double interference = 0.02;  ///< mm of diameter by which it is larger than its hole, pressed in; negative
                                 ///< = a gap, and it is glued

    bool operator==(const Liner&) const = default;
};

/// How the last tool leaves a surface.
enum class Finish {
    Polished,
    Turned,    ///< polished over fine turning marks that run round the ring
    Satin,     ///< fine lines round the ring, from a pad
    Brushed,   ///< coarser lines across the ring
    Blasted,   ///< matt, without direction
    Hammered,  ///< dents side by side, polished
};

/// What is grown on the surfaces when they are polished. It does not reach into channels and holes.
enum class Treatment {
    None,
    Anodised,   ///< a clear oxide, whose thickness gives the colour
    Blackened,  ///< the black oxide of heat
};

struct Surface {
    Finish outside = Finish::Turned;
    Finish edges = Finish::Turned;
    Finish bore = Finish::Turned;
    Treatment treatment = Treatment::None;
    double oxide = 50;  ///< nm of clear oxide; of no meaning unless anodised

    bool operator==(const Surface&) const = default;
};

/// How the layers of a pattern-welded billet lie.
enum class LayerPattern {
    Random,    ///< across the axis, bent by the hammer
    Ladder,    ///< round the ring, pressed in by bars across it
    Twist,     ///< a twisted bar bent round
    Raindrop,  ///< round the ring, dimpled
};

/// Of no meaning in a metal that is not pattern-welded.
struct Layers {
    LayerPattern pattern = LayerPattern::Random;
    double thickness = 0.24;  ///< mm of each
    double etch = 0.006;      ///< mm that the darker layers lie below the brighter ones

    bool operator==(const Layers&) const = default;
};

/// How the grain of a wooden band lies.
enum class Grain {
    Plank,  ///< turned from a plank: it crosses the band at two places of the round
    Bent,   ///< laminations bent round: along the band all the way
};

struct Band {
    std::string metal = "titanium-grade-5";
    double width = 8;        ///< mm along the axis
    double thickness = 2.2;  ///< mm from the bore at mid-width to the largest outside radius
    Outside outside;
    Edge left;   ///< at z = -width/2
    Edge right;  ///< at z = +width/2
    Bore bore;   ///< the liner's, where there is one
    std::optional<Liner> liner;
    Surface surface;
    Layers layers;
    Grain grain = Grain::Plank;  ///< of no meaning unless the band is of wood

    bool operator==(const Band&) const = default;
};

/// Crushed stone, pigment or glow powder in a clear adhesive.
struct Fill {
    std::string filler = "crushed-opal";
    std::string adhesive = "cyanoacrylate";
    double grainLeast = 0.2;  ///< mm
    double grainMost = 0.4;   ///< mm
    double packing = 0.6;     ///< share of the volume that is stone, 0..1
    double proud = 0;         ///< mm above the outside; negative = sunk

    bool operator==(const Fill&) const = default;
};

/// A groove round the outside.
struct Channel {
    double offset = 0;       ///< mm from mid-width to the middle of the mouth
    double width = 4;        ///< mm, at the height of the outside over the channel's middle
    double depth = 1;        ///< mm below the outside over the channel's middle; the floor is straight
    double floorRadius = 0;  ///< mm, the corner the tool leaves between side and floor
    double draft = 0;        ///< degrees each side leans outwards; negative = undercut that keys the fill
    std::optional<Fill> fill = Fill{};

    bool operator==(const Channel&) const = default;
};

enum class HoleBottom { Through, Flat, Drill118, Drill135 };

/// One wider step above the pilot.
struct HoleStep {
    double diameter = 4.58;
    double depth = 1.4;  ///< mm below the outside over the hole's middle, to its full width
    double bearing = 0;  ///< degrees its floor rises from what is below it to its side; 0 = a flat ledge

    bool operator==(const HoleStep&) const = default;
};

/// A radial hole: a pilot and any number of wider steps, each wider and less deep than the one before.
struct Hole {
    double pilotDiameter = 2;
    HoleBottom bottom = HoleBottom::Through;
    double pilotDepth = 0;  ///< mm to the full-width end of the pilot when it is blind
    std::vector<HoleStep> steps = std::vector<HoleStep>(1);
    double countersink = 0;  ///< mm added to the diameter at the outside by a 90 degree countersink; 0 = none

    bool operator==(const Hole&) const = default;
};

/// What holds a tube in its hole.
enum class Join {
    Adhesive,
    Solder,
    LaserWeld,
    Press,  ///< larger than its hole and pressed in
};

/// Silver solder by the heat at which it flows.
enum class Solder { ExtraEasy, Easy, Medium, Hard };

/// A length of tube standing in the hole's widest step; the stone sits inside on a ledge, the lip is closed
/// over it.
struct Tube {
    std::string metal = "gold-18k-yellow";
    double outerDiameter = 4.55;
    double innerDiameter = 3.4;  ///< below the ledge
    double seatDiameter = 4.02;  ///< above the ledge
    double height = 1.7;         ///< mm, lip open
    double seatDepth = 0.8;      ///< mm from the lip down to the ledge
    Join join = Join::Adhesive;
    Solder solder = Solder::Easy;  ///< of no meaning unless it is soldered

    bool operator==(const Tube&) const = default;
};

enum class StoneCut {
    RoundBrilliant,
    Oval,
    Marquise,
    Pear,
    StepOctagon,
    StepSquare,
    RoseCut,
    Cabochon,
};

/// The surface of a model file: closed, each triangle counter-clockwise seen from outside, the crown up along
/// z, in a unit of its own.
struct StoneModel {
    std::vector<std::array<double, 3>> points;
    std::vector<std::array<std::uint32_t, 3>> triangles;

    bool operator==(const StoneModel&) const = default;
};

/// What a model file holds, once it has been read. Copies share it; two are the same when their surfaces are.
class SharedModel {
  public:
    SharedModel() = default;
    SharedModel(std::shared_ptr<const StoneModel> model) : model_(std::move(model)) {}

    explicit operator bool() const { return model_ != nullptr; }
    const StoneModel* operator->() const { return model_.get(); }
    void reset() { model_.reset(); }

    bool operator==(const SharedModel& other) const {
        return model_ == other.model_ || (model_ && other.model_ && *model_ == *other.model_);
    }

  private:
    std::shared_ptr<const StoneModel> model_;
};

/// Proportions in percent of the girdle diameter and degrees. A girdle that is not round takes them from its
/// width.
struct Stone {
    std::string gem = "emerald";
    StoneCut cut = StoneCut::RoundBrilliant;
    double diameter = 4;  ///< mm at the girdle; the width when it is longer than wide
    double length = 0;    ///< mm at the girdle; 0 = as long as wide; not used by round and square cuts
    double table = 53;
    double crownAngle = 34.5;      ///< of the crown mains; of the middle step in step cuts
    double pavilionAngle = 40.75;  ///< of the pavilion mains; of the middle step in step cuts
    double girdle = 2;             ///< thickness where the mains meet it
    double starLength = 55;        ///< brilliants: reach of the stars from table to girdle, percent in plan
    double lowerLength = 80;  ///< brilliants: reach of the lower girdle facets to the culet, percent in plan
    double dome = 35;         ///< rose cut and cabochon: height above the girdle
    std::string model{};  ///< path of a closed OBJ, from the folder of the design file, instead of a cut; the
                          ///< girdle's width, and its length if given, then scale it
    SharedModel solid{};  ///< what that file holds, once it has been read (formats)

    bool operator==(const Stone&) const = default;
};

/// How lip or edge is laid over the stone.
enum class Closing {
    Burnished,  ///< pressed and rubbed down
    Hammered,   ///< driven down with a punch or a hammer handpiece
};

/// Where the holes of one setting stand.
struct Placement {
    double offset = 0;  ///< mm from mid-width
    int count = 1;
    double start = 0;            ///< degrees round the band of the first
    double spacing = 0;          ///< degrees between neighbours; 0 = evenly round the whole band
    std::vector<double> angles;  ///< degrees; when not empty, they replace count, start and spacing

    bool operator==(const Placement&) const = default;
};

/// A hole and what sits in it, a stone with or without a tube, repeated round the band.
struct Setting {
    Placement placement;
    Hole hole;
    std::optional<Tube> tube = Tube{};
    std::optional<Stone> stone = Stone{};
    Closing closing = Closing::Burnished;  ///< of no meaning without a stone

    bool operator==(const Setting&) const = default;
};

/// Material left for later steps, mm.
struct Allowances {
    double sizing = 0.2032;   ///< on the bore radius until the band is sized; half a US size is 0.2032
    double truing = 0.1;      ///< on the outside radius until it is trued
    double fill = 0.2;        ///< by which fills stand over the outside until they are trued
    double parting = 0.5;     ///< on each edge face until the ring is parted off
    double blankOutside = 1;  ///< more on the outside radius of the blank
    double blankBore = 1;     ///< extra metal in its bore; the bore radius is never under 1 mm

    bool operator==(const Allowances&) const = default;
};

/// What can be read on the ring as it is made.
enum class Measurable : std::uint8_t {
    Bore,       ///< diameter at mid-width
    Outside,    ///< largest diameter
    Width,      ///< along the axis
    BevelLeft,  ///< what it takes from the outside along the axis
    BevelRight,
    ChannelWidth,     ///< at the outside as it is then
    ChannelDepth,     ///< from the outside as it is then
    ChannelFromLeft,  ///< from the left edge face to the channel
    PilotDiameter,
    SeatDiameter,  ///< of the hole's widest step
    SeatDepth,     ///< from the outside as it is then to that step's full width
    TubeOutside,   ///< diameter
    StoneGirdle,   ///< its width
    Mass,          ///< of the whole as it is then, g; nothing follows from it
};

/// A reading taken at the bench.
struct Measured {
    Stage stage = Stage::Bored;  ///< the step after which it was taken
    Measurable what = Measurable::Bore;
    int number = 1;    ///< of the channel or the setting, from 1; of no meaning for the band
    double value = 0;  ///< mm, of a mass g; 0 = not read yet
    std::string instrument;
    std::string date;  ///< as the maker writes it

    bool operator==(const Measured&) const = default;
};

/// An operation ticked at the bench. It tells how far the work is; only readings settle fields.
struct Done {
    Stage stage = Stage::Bored;  ///< the step it belongs to
    std::string operation;       ///< by the name it has in the plan
    std::string date;            ///< as the maker writes it

    bool operator==(const Done&) const = default;
};

struct Design {
    std::string title = "Untitled ring";
    std::string note;
    Finger finger;
    Band band;
    std::vector<Channel> channels;
    std::vector<Setting> settings;
    Allowances allowances;
    Route route = usualRoute();
    std::vector<Measured> measured;   ///< beside the plan; see measured.hpp
    std::vector<Done> done;           ///< in the order in which they were ticked
    std::vector<std::string> locked;  ///< paths of the fields the client asked for; see locks.hpp

    bool operator==(const Design&) const = default;
};

/// Bore radius in mm at mid-width of the finished ring.
double boreRadius(const Design& design);

/// Radius in mm at which band and liner meet, a cylinder; of the bore at mid-width without a liner.
double linerRadius(const Design& design);

/// Largest outside radius in mm of the finished ring.
double outsideRadius(const Design& design);

/// Angles in degrees, 0 <= a < 360, at which the holes of a placement stand, in the order they are made.
std::vector<double> placedAngles(const Placement& placement);

}  // namespace bandwright::design
