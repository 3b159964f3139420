#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "cutting.hpp"
#include "drawer.hpp"
#include "job.hpp"
#include "lathe.hpp"
#include "places.hpp"

namespace bandwright::route {

namespace {

using geometry::Feature;
using geometry::Side;

bool isChannel(geometry::Tag tag, std::size_t channel) {
    const auto found = geometry::channelOf(tag);
    return found && *found == channel;
}

/// Where a channel's side meets what lies beside its mouth, and what that is.
struct Mouth {
    std::optional<Place> left, right;  ///< tagged with what lies beside
};

Mouth mouthOf(const geometry::Section& band, std::size_t channel) {
    Mouth mouth;
    for (const geometry::Loop& loop : band) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const geometry::Segment& here = loop[i];
            const geometry::Segment& next = loop[(i + 1) % loop.size()];
            // The outline runs from right to left along the outside.
            if (!isChannel(here.tag, channel) && isChannel(next.tag, channel))
                mouth.right = Place{here.tag, here.to};
            if (isChannel(here.tag, channel) && !isChannel(next.tag, channel))
                mouth.left = Place{next.tag, next.from};
        }
    }
    return mouth;
}

bool isRim(const std::optional<Place>& place) {
    return place && place->tag.feature == Feature::Outside;
}

Place sideOf(const Place& mouth, std::size_t channel, Side side) {
    return {{Feature::ChannelSide, channel, side}, mouth.at};
}

/// The middle of its longest stretch of floor; nothing where something else was cut through it.
std::optional<Place> floorOf(const geometry::Section& band, std::size_t channel) {
    std::optional<Place> best;
    double longest = 0;
    for (const geometry::Segment& s : geometry::segmentsWhere(band, [&](geometry::Tag tag) {
             return tag.feature == Feature::ChannelFloor && isChannel(tag, channel);
         })) {
        if (geometry::arcLength(s) <= longest) continue;
        longest = geometry::arcLength(s);
        best = Place{s.tag, geometry::pointAt(s, 0.5)};
    }
    return best;
}

std::string fieldOf(std::size_t channel, const char* member) {
    return "channels[" + std::to_string(channel) + "]." + member;
}

std::string named(const Job& job, std::size_t channel) {
    return job.design.channels.size() == 1 ? "the channel" : "channel " + std::to_string(channel + 1);
}

/// mm of the floor between the sides.
double floorWidth(const design::Channel& channel) {
    return channel.width - 2 * channel.depth * std::tan(channel.draft * std::numbers::pi / 180);
}

/// Deeper, or wider, only as far as the walls beside stay go.
double deeper(const Job& job, std::size_t channel, double plusMinus) {
    return withinWalls(job, plusMinus, [&](geometry::Tag tag) {
        return isChannel(tag, channel) && tag.feature != Feature::ChannelSide;
    });
}

double wider(const Job& job, std::size_t channel, double plusMinus) {
    return withinWalls(job, plusMinus, [&](geometry::Tag tag) {
        return isChannel(tag, channel) && tag.feature != Feature::ChannelFloor;
    });
}

void addChannelReadings(const Job& job, std::size_t channel, Operation& op) {
    const geometry::Section band = geometry::sections(job.design, job.after).band;
    const Mouth mouth = mouthOf(band, channel);
    const auto floor = floorOf(band, channel);
    const auto add = [&](Reading reading, const std::string& field) {
        reading.field = field;
        op.readings.push_back(std::move(reading));
    };
    const double depthTolerance = toleranceOf(job, fieldOf(channel, "depth"));
    for (const auto& [place, side] : {std::pair{mouth.left, "left"}, std::pair{mouth.right, "right"}}) {
        if (!isRim(place) || !floor) continue;
        Reading depth = radialReading(std::string("Depth below the ") + side + " rim", Instrument::DepthGauge,
                                      *place, *floor, depthTolerance);
        depth.most = depth.value + deeper(job, channel, depthTolerance);
        add(std::move(depth), fieldOf(channel, "depth"));
    }
    if (floor) {
        Reading across = diameterReading("Diameter over the floor", outsideInstrument(job.workshop), *floor,
                                         2 * depthTolerance);
        across.least = across.value - 2 * deeper(job, channel, depthTolerance);
        add(std::move(across), fieldOf(channel, "depth"));
    }
    if (mouth.left && mouth.right) {
        constexpr double kJaws = 2;  // mm, what a caliper's inner jaws need
        const Place left = sideOf(*mouth.left, channel, Side::Left),
                    right = sideOf(*mouth.right, channel, Side::Right);
        const double plusMinus = toleranceOf(job, fieldOf(channel, "width"));
        Reading width = alongReading("Width at the mouth", Instrument::Caliper, left, right, plusMinus);
        if (width.value < kJaws) width.instrument = Instrument::PinGauge;
        width.most = width.value + wider(job, channel, plusMinus);
        add(std::move(width), fieldOf(channel, "width"));
    }
    const auto face = edgeFace(band, Side::Right);
    if (mouth.right && face) {
        const double plusMinus = wider(job, channel, toleranceOf(job, fieldOf(channel, "offset")));
        add(alongReading("From the right-hand face to the channel", Instrument::Caliper, *face,
                         sideOf(*mouth.right, channel, Side::Right), plusMinus),
            fieldOf(channel, "offset"));
    }
}

/// What a blade may cut straight down: the floor, or the mouth where the sides are undercut. z of its sides.
struct Straight {
    double left = 0, right = 0;
    double width() const { return right - left; }
};

Straight straightOf(const Job& job, std::size_t number) {
    const design::Channel& channel = job.design.channels[number];
    const double half = floorWidth(channel) / 2;
    Straight straight{channel.offset - half, channel.offset + half};
    if (channel.draft >= 0) return straight;
    const Mouth mouth = mouthOf(geometry::sections(job.design, job.after).band, number);
    if (mouth.left) straight.left = std::max(straight.left, mouth.left->at.z);
    if (mouth.right) straight.right = std::min(straight.right, mouth.right->at.z);
    return straight;
}

/// Where the blade's right-hand corner stands at each plunge, mm to the left of the right-hand face: first at
/// the right-hand side, last at the left-hand one, each at most four fifths of the blade beside the last.
std::vector<double> plunges(const Job& job, const Straight& straight, double blade) {
    constexpr double kStep = 0.8, kSame = 1e-9;
    const double first = job.after.band.width / 2 - straight.right;
    std::vector<double> at{first};
    const double more = straight.width() - blade;
    if (more <= kSame) return at;
    const auto count = static_cast<int>(std::ceil(more / (kStep * blade) - kSame));
    for (int i = 1; i <= count; ++i)
        at.push_back(first + more * i / count);
    return at;
}

/// Where the outside is not flat over the channel, one zero serves all plunges.
void tellPlunges(bool isFlat, Operation& op) {
    std::string list;
    for (const double at : op.cut->across)
        list += (list.empty() ? "" : ", ") + base::fixed(at, 2);
    const bool many = op.cut->across.size() > 1;
    op.doing.push_back(
        "Touch the blade's right-hand corner off on the right-hand face and set the dial along the axis to "
        "zero. "
        "Towards the chuck the corner goes to " +
        list + " mm.");
    op.doing.push_back(
        isFlat ? "Touch off on the outside there and set the other dial to zero."
               : "The outside is not flat: touch off where it stands over the middle of the channel, "
                 "set the other dial to zero there, and keep that zero.");
    op.doing.push_back(
        std::string(many ? "At each of them go in to the last figure but one" : "Go in to the last figure") +
        ", out between the figures to clear the chips.");
    if (many)
        op.doing.push_back("The last figure is one pass across the floor, from the first place to the last.");
}

/// Whether the outside has one height over the mouth of a channel.
bool isFlatOver(const geometry::Workpiece& piece, const design::Channel& channel) {
    return geometry::outsideAt(piece, channel.offset) ==
           geometry::outsideAt(piece, channel.offset + channel.width / 2);
}

void tellBlade(const Job& job, const design::Channel& channel, const ChosenBlade& chosen, double width,
               Operation& op) {
    op.tool = "grooving blade " + inMm(chosen.blade.width) +
              (chosen.blade.nose > 0 ? ", corners of " + inMm(chosen.blade.nose) : "") + ", " +
              turningSpeed(bandMetal(job), job.workshop.turningTools).tool;
    if (!chosen.told)
        op.missing.push_back("grooving blades: usual widths from 0.4 to 2 mm are taken as there");
    if (!chosen.fits) {
        op.missing.push_back("a blade no wider than " + inMm(width) + " with corners of at most " +
                             inMm(channel.floorRadius));
    }
    if (chosen.blade.nose < channel.floorRadius) {
        op.doing.push_back("The corners of the floor have a radius of " + inMm(channel.floorRadius) +
                           ": stone the blade's corners to that before the pass across.");
    }
}

Operation plungeChannel(const Job& job, std::size_t number) {
    const design::Channel& channel = job.design.channels[number];
    const Straight straight = straightOf(job, number);
    const ChosenBlade chosen = groovingBladeFor(job.workshop, straight.width(), channel.floorRadius);
    Operation op = operationFor(job, "Cut " + named(job, number));
    op.hold = heldForOutside(job, op);
    op.cut = turningCut(job, 2 * job.after.outside);
    noteSpeed(job, op);
    op.cut->feed = kBladeFeed;
    op.cut->along = "on the radius";
    op.cut->across = plunges(job, straight, chosen.blade.width);
    const double surface = geometry::outsideAt(job.after, channel.offset);
    const double floor = geometry::channelFloor(job.design, number);
    const double plunge = biteOf(bandMetal(job)).plunge;
    constexpr double kAcross = 0.05;
    op.cut->dial = dialOf(surface - floor, plunge, op.cut->across.size() > 1 ? kAcross : plunge);
    tellPlunges(isFlatOver(job.after, channel), op);
    tellBlade(job, channel, chosen, straight.width(), op);
    op.minutes = 5 + static_cast<double>(op.cut->across.size()) * (minutesOf(*op.cut, plunge) - 5);
    return op;
}

/// The sides are leaned when the middle is out.
Operation leanSides(const Job& job, std::size_t number) {
    const design::Channel& channel = job.design.channels[number];
    const bool undercut = channel.draft < 0;
    const double depth =
        geometry::outsideAt(job.after, channel.offset) - geometry::channelFloor(job.design, number);
    const double reach = depth * std::tan(std::abs(channel.draft) * std::numbers::pi / 180);
    Operation op =
        operationFor(job, (undercut ? "Undercut the sides of " : "Lean the sides of ") + named(job, number));
    op.hold = "As before.";
    op.tool = undercut ? "blade narrower than the mouth, relieved behind its corner, on the compound slide"
                       : "narrow blade on the compound slide";
    op.cut = turningCut(job, 2 * job.after.outside);
    op.cut->along = "along the axis";
    op.cut->dial = {reach};
    const std::string angle = inDegrees(std::abs(channel.draft));
    op.doing = {"Set the compound slide " + angle +
                    " degrees from square to the axis, once to each side; on a "
                    "scale that reads from the axis, " +
                    inDegrees(90 - std::abs(channel.draft)) + ".",
                std::string("Each side goes ") + inMm(reach) +
                    (undercut ? " wider at the floor" : " wider at the mouth") +
                    " than it was cut straight, over the depth of " + inMm(depth) + "."};
    op.minutes = 10;
    return op;
}

bool hasFill(const geometry::Workpiece& piece) {
    return piece.filled;
}

/// How far the highest fill stands over the outside before it is trued.
double standsProud(const Job& job) {
    double most = 0;
    for (const design::Channel& channel : job.design.channels)
        if (channel.fill)
            most = std::max(most, std::max(0.0, channel.fill->proud) + job.design.allowances.fill);
    return most;
}

void addFillTops(const Job& job, const geometry::RingSections& plain, Operation& op) {
    for (std::size_t i = 0; i < plain.fills.size(); ++i) {
        const std::size_t channel = plain.fillChannel[i];
        const double proud = job.design.channels[channel].fill->proud;
        const Mouth mouth = mouthOf(plain.band, channel);
        if (proud == 0 || !isRim(mouth.right)) continue;
        const double z = job.design.channels[channel].offset;
        for (const geometry::Segment& s : geometry::segmentsWhere(
                 plain.fills[i], [](geometry::Tag tag) { return tag.feature == Feature::FillTop; })) {
            const auto r = radiusAt(s, z);
            if (!r) continue;
            Reading reading = radialReading(
                proud > 0 ? "Fill over the right rim" : "Fill below the right rim", Instrument::DepthGauge,
                *mouth.right, {s.tag, {z, *r}}, toleranceOf(job, fieldOf(channel, "fill.proud")));
            reading.field = fieldOf(channel, "fill.proud");
            op.readings.push_back(std::move(reading));
            break;
        }
    }
}

}  // namespace

std::vector<Operation> cutChannels(const Job& job) {
    std::vector<Operation> operations;
    for (std::size_t i = 0; i < job.design.channels.size(); ++i) {
        operations.push_back(plungeChannel(job, i));
        if (job.design.channels[i].draft != 0) operations.push_back(leanSides(job, i));
        addChannelReadings(job, i, operations.back());
    }
    return operations;
}

std::vector<Operation> trueUp(const Job& job) {
    Operation op = onTheOutside(job, "True", "turning tool, sharp, ", kFinishFeed);
    const double proud = hasFill(job.before) ? standsProud(job) : 0;
    const double metal = job.before.outside - job.after.outside;
    op.cut->dial = dialOf(proud + metal, biteOf(bandMetal(job)).finishing, biteOf(bandMetal(job)).finishing);
    if (proud > 0) {
        op.doing = {
            "Touch off on the fill where it stands highest, about " + inMm(proud) +
                " over the metal, and set the dial to zero. If it stands otherwise, touch off on the metal "
                "and go in " +
                inMm(metal, 3) + " from there.",
            "Light passes, so that no grain is torn out; carbide or diamond, for stone takes the edge off "
            "steel."};
    } else {
        op.doing = {"Touch off on the outside and set the dial to zero."};
    }
    if (job.after.band.outside.shape != design::OutsideShape::Flat)
        op.doing.push_back("Follow the shape of the outside, with the same gauge or setting as before.");
    if (proud > 0) {
        op.cautions.push_back(
            "Dust of stone and cured adhesive harms the lungs: cut and sand wet or with "
            "extraction, and with a mask of class P100 or FFP3.");
    }
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    std::optional<Place> place = outsidePlace(plain.band, 0);
    if (!place) {
        const auto left = geometry::segmentsWhere(
            plain.band, [](geometry::Tag tag) { return tag.feature == Feature::Outside; });
        for (const geometry::Segment& s : left) {
            const geometry::Vec2 at = s.from.r > s.to.r ? s.from : s.to;
            if (!place || at.r > place->at.r) place = Place{s.tag, at};
        }
    }
    if (place) {
        const double plusMinus = toleranceOf(job, "band.thickness");
        Reading reading =
            diameterReading("Outside over the metal", outsideInstrument(job.workshop), *place, 2 * plusMinus);
        reading.least = reading.value - 2 * withinWalls(job, plusMinus, [](geometry::Tag tag) {
                                            return tag.feature == Feature::Outside;
                                        });
        reading.field = "band.thickness";
        op.readings.push_back(std::move(reading));
    }
    addFillTops(job, plain, op);
    op.minutes = minutesOf(*op.cut, job.after.band.width);
    return {op};
}

}  // namespace bandwright::route
