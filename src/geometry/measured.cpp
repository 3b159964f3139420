#include "geometry/measured.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "geometry/ring.hpp"
#include "geometry/workpiece.hpp"

namespace bandwright::geometry {

namespace {

/// The step that makes what is read; nothing for what is bought.
std::optional<design::Stage> madeBy(design::Measurable what) {
    switch (what) {
        case design::Measurable::Bore:
            return design::Stage::Bored;
        case design::Measurable::Outside:
            return design::Stage::Turned;
        case design::Measurable::Width:
            return design::Stage::Parted;
        case design::Measurable::BevelLeft:
        case design::Measurable::BevelRight:
            return design::Stage::Bevelled;
        case design::Measurable::ChannelWidth:
        case design::Measurable::ChannelDepth:
        case design::Measurable::ChannelFromLeft:
            return design::Stage::Channelled;
        case design::Measurable::PilotDiameter:
        case design::Measurable::SeatDiameter:
        case design::Measurable::SeatDepth:
            return design::Stage::Drilled;
        case design::Measurable::TubeOutside:
        case design::Measurable::StoneGirdle:
        case design::Measurable::Mass:
            break;
    }
    return std::nullopt;
}

/// A sum of numbers as typed, without the hair that rounding leaves: to a picometre.
double typed(double sum) {
    return base::roundedTo(sum, 9);
}

/// mm of diameter by which a reading may contradict what was there before.
constexpr double kScatter = 0.05;

/// One reading worked into the design.
class Reader {
  public:
    /// `earlier` is what the same thing read before, mm.
    Reader(design::Design& design, const design::Measured& reading, std::optional<double> earlier,
           std::string path)
        : design_(design), reading_(reading), earlier_(earlier), path_(std::move(path)) {}

    void work() {
        requireMade();
        switch (reading_.what) {
            case design::Measurable::Bore:
                return bore(reading_.value / 2);
            case design::Measurable::Outside:
                return outside(reading_.value / 2);
            case design::Measurable::Width:
                return width();
            case design::Measurable::BevelLeft:
                return bevel(design_.band.left);
            case design::Measurable::BevelRight:
                return bevel(design_.band.right);
            case design::Measurable::ChannelWidth:
                channel().width = typed(reading_.value - widerAbove());
                return;
            case design::Measurable::ChannelDepth:
                channel().depth = typed(reading_.value - over(channel().offset));
                return;
            case design::Measurable::ChannelFromLeft:
                channel().offset = typed(leftFace() + reading_.value + (channel().width + widerAbove()) / 2);
                return;
            case design::Measurable::PilotDiameter:
                setting().hole.pilotDiameter = reading_.value;
                return;
            case design::Measurable::SeatDiameter:
                seat().diameter = reading_.value;
                return;
            case design::Measurable::SeatDepth:
                seat().depth = typed(reading_.value - over(setting().placement.offset));
                return;
            case design::Measurable::TubeOutside:
                part(setting().tube, "tube").outerDiameter = reading_.value;
                return;
            case design::Measurable::StoneGirdle:
                part(setting().stone, "stone").diameter = reading_.value;
                return;
            case design::Measurable::Mass:
                return;
        }
    }

  private:
    bool done(design::Stage step) const { return design::isDoneBy(design_.route, step, reading_.stage); }

    [[noreturn]] void refuse(const char* key, const std::string& what) const {
        throw base::InputError(path_ + "." + key + " " + what);
    }

    void requireMade() const {
        const std::optional<design::Stage> maker = madeBy(reading_.what);
        if (!maker || done(*maker)) return;
        refuse("what", "is " + base::inQuotes(design::kMeasurables[reading_.what].id) + " after " +
                           base::inQuotes(design::name(reading_.stage)) +
                           ", when it is not there yet; allowed: from " +
                           base::inQuotes(design::name(*maker)) + " on");
    }

    void requireWithin(double least, double most, const char* why) const {
        if (reading_.value >= least && reading_.value <= most) return;
        refuse("value", "is " + base::shortestNumber(reading_.value) +
                            " mm; allowed: " + base::shortestNumber(base::roundedTo(least, 3)) + " to " +
                            base::shortestNumber(base::roundedTo(most, 3)) + " mm, " + why);
    }

    template <class Item>
    Item& numbered(std::vector<Item>& items, const char* word) const {
        if (static_cast<std::size_t>(reading_.number) <= items.size())
            return items[static_cast<std::size_t>(reading_.number) - 1];
        refuse("number", "is " + std::to_string(reading_.number) + "; this ring has " +
                             std::to_string(items.size()) + " " + word);
    }
    design::Channel& channel() const { return numbered(design_.channels, "channels"); }
    design::Setting& setting() const { return numbered(design_.settings, "settings"); }

    template <class Part>
    Part& part(std::optional<Part>& part, const char* word) const {
        if (part) return *part;
        refuse("what", "is " + base::inQuotes(design::kMeasurables[reading_.what].id) + ", but setting " +
                           std::to_string(reading_.number) + " has no " + word);
    }

    design::HoleStep& seat() const {
        design::Hole& hole = setting().hole;
        if (!hole.steps.empty()) return hole.steps.back();
        refuse("what", "is " + base::inQuotes(design::kMeasurables[reading_.what].id) +
                           ", but the hole of setting " + std::to_string(reading_.number) +
                           " has no wider step");
    }

    /// By how much the outside stands over the finished one at a place across the width.
    double over(double z) const {
        return outsideAt(workpiece(design_, reading_.stage), z) - outsideAt(design_, z);
    }

    /// What a channel's leaning sides add to its width at the outside as it is.
    double widerAbove() const {
        return 2 * over(channel().offset) * std::tan(channel().draft * std::numbers::pi / 180);
    }

    double leftFace() const {
        return -design_.band.width / 2 - (done(design::Stage::Parted) ? 0 : design_.allowances.parting);
    }

    /// The outside comes to lie elsewhere than planned; once it is trued, what was turned before stays.
    void moveOutside(double further) {
        design_.band.thickness = typed(design_.band.thickness + further);
        if (done(design::Stage::Trued))
            design_.allowances.truing = std::max(0.0, typed(design_.allowances.truing - further));
    }

    void outside(double radius) {
        const double turned = design_.allowances.truing + design_.allowances.blankOutside;
        requireWithin(2 * design::boreRadius(design_),
                      earlier_.value_or(2 * (design::outsideRadius(design_) + turned)) + kScatter,
                      "what is there by then");
        const double further = radius - design::outsideRadius(design_);
        if (done(design::Stage::Trued)) return moveOutside(further);
        design_.allowances.truing = std::max(0.0, typed(further));
        if (further < 0) moveOutside(further);
    }

    void bore(double radius) {
        if (design_.band.liner && !done(design::Stage::Lined)) return joint(radius);
        const double blank =
            design::boreRadius(design_) - design_.allowances.sizing - design_.allowances.blankBore;
        requireWithin(earlier_.value_or(2 * blank) - kScatter, 2 * design::outsideRadius(design_),
                      "what is there by then");
        const double further = radius - design::boreRadius(design_);
        if (done(design::Stage::Sized)) return moveBore(further);
        design_.allowances.sizing = std::max(0.0, typed(-further));
        if (further > 0) moveBore(further);
    }

    void joint(double radius) {
        requireWithin(2 * design::boreRadius(design_), 2 * design::outsideRadius(design_),
                      "between the bore and the outside");
        design_.band.liner->thickness = typed(radius - design::boreRadius(design_));
    }

    /// The bore comes to lie elsewhere; an outside that is turned already stays where it is.
    void moveBore(double further) {
        design_.finger.widthCorrection = typed(design_.finger.widthCorrection + 2 * further);
        if (done(design::Stage::Sized))
            design_.allowances.sizing = std::max(0.0, typed(design_.allowances.sizing + further));
        if (design_.band.liner)
            design_.band.liner->thickness = typed(design_.band.liner->thickness - further);
        if (done(design::Stage::Turned) || design_.band.liner)
            design_.band.thickness = typed(design_.band.thickness - further);
    }

    void width() {
        design_.allowances.parting =
            std::max(0.0, typed(design_.allowances.parting + (design_.band.width - reading_.value) / 2));
        design_.band.width = reading_.value;
    }

    void bevel(design::Edge& edge) {
        if (edge.shape == design::EdgeShape::Sharp)
            refuse("what", "is " + base::inQuotes(design::kMeasurables[reading_.what].id) +
                               ", but that edge is sharp");
        edge.width = reading_.value;
    }

    design::Design& design_;
    const design::Measured& reading_;
    std::optional<double> earlier_;
    std::string path_;
};

/// Radii in mm of what is cut to a depth, which stays where it is while the outside moves.
class CutFloors {
  public:
    void keep(const design::Design& design, design::Stage step) {
        if (step == design::Stage::Channelled) channels_ = channelsOf(design);
        if (step == design::Stage::Drilled) holes_ = holesOf(design);
    }

    void restore(design::Design& design) const {
        for (std::size_t i = 0; i < channels_.size(); ++i)
            design.channels[i].depth = typed(outsideAt(design, design.channels[i].offset) - channels_[i]);
        for (std::size_t i = 0; i < holes_.size(); ++i) {
            design::Setting& setting = design.settings[i];
            const double outside = outsideAt(design, setting.placement.offset);
            if (setting.hole.bottom != design::HoleBottom::Through)
                setting.hole.pilotDepth = typed(outside - holes_[i].back());
            for (std::size_t s = 0; s < setting.hole.steps.size(); ++s)
                setting.hole.steps[s].depth = typed(outside - holes_[i][s]);
        }
    }

  private:
    static std::vector<double> channelsOf(const design::Design& design) {
        std::vector<double> floors;
        for (const design::Channel& channel : design.channels)
            floors.push_back(outsideAt(design, channel.offset) - channel.depth);
        return floors;
    }

    /// Of each hole its steps, and the pilot.
    static std::vector<std::vector<double>> holesOf(const design::Design& design) {
        std::vector<std::vector<double>> holes;
        for (const design::Setting& setting : design.settings) {
            const double outside = outsideAt(design, setting.placement.offset);
            std::vector<double>& floors = holes.emplace_back();
            for (const design::HoleStep& step : setting.hole.steps)
                floors.push_back(outside - step.depth);
            floors.push_back(outside - setting.hole.pilotDepth);
        }
        return holes;
    }

    std::vector<double> channels_;
    std::vector<std::vector<double>> holes_;
};

std::string pathOf(std::size_t reading) {
    return "measured[" + std::to_string(reading) + "]";
}

void requireFields(const design::Design& design, const design::Measured& reading, std::size_t place) {
    try {
        design::requireValid(design);
    } catch (const base::InputError& error) {
        throw base::InputError(pathOf(place) + ".value is " + base::shortestNumber(reading.value) +
                               " mm, and then " + error.what());
    }
}

}  // namespace

design::Design asMeasured(const design::Design& plan) {
    design::Design design = plan;
    CutFloors floors;
    std::map<std::pair<design::Measurable, int>, double> earlier;
    for (const design::Stage step : plan.route) {
        if (!design::isDone(plan, step)) break;
        for (std::size_t i = 0; i < plan.measured.size(); ++i) {
            const design::Measured& reading = plan.measured[i];
            if (reading.stage != step || reading.value == 0) continue;
            const bool ofJoint =
                design.band.liner && !design::isDoneBy(plan.route, design::Stage::Lined, step);
            const std::pair key{reading.what, ofJoint ? 0 : reading.number};
            const auto before = earlier.find(key);
            Reader(design, reading, before == earlier.end() ? std::nullopt : std::optional(before->second),
                   pathOf(i))
                .work();
            requireFields(design, reading, i);
            earlier[key] = reading.value;
        }
        floors.keep(design, step);
    }
    floors.restore(design);
    design::requireValid(design);
    return design;
}

}  // namespace bandwright::geometry
