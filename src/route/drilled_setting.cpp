#include "drilled_setting.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "cutting.hpp"
#include "dividing.hpp"
#include "drilling.hpp"
#include "geometry/tolerance.hpp"
#include "lathe.hpp"
#include "setting_places.hpp"

namespace bandwright::route {

namespace {

constexpr double kUsualPoint = 118;    // degrees
constexpr double kOnToTheRim = 0.3;    // mm past the channel's edge, so that the tool's tip meets metal
constexpr double kBreakThrough = 0.3;  // mm past the bore, our own choice
constexpr double kMostSlope = 7.2;     // degrees under the drill's rim, cnccookbook: R at least 4 diameters

/// One setting whose holes are drilled, and where the surface is by then.
class Drilling {
  public:
    Drilling(const Job& job, std::size_t number)
        : job_(job),
          number_(number),
          setting_(job.design.settings[number]),
          before_(geometry::sections(job.design, job.before)),
          outlines_(outlinesThrough(job, number)),
          z_(setting_.placement.offset),
          finished_(geometry::outsideAt(job.design, z_)) {
        const auto surface = surfaceAt(before_, z_);
        surface_ = zero_ = surface ? surface->at.r : geometry::outsideAt(job.before, z_);
        if (surface) on_ = surface->tag;
        if (const auto rim = inChannel() ? nearestOutside() : std::nullopt) {
            zero_ = rim->at.r;
            beside_ = rim->at.z - z_;
        }
    }

    std::vector<Operation> operations(const Dividing& dividing) const {
        std::vector<Operation> all{pilot(dividing)};
        if (setting_.hole.bottom == design::HoleBottom::Flat) all.push_back(flatBottom());
        for (std::size_t k = 0; k < setting_.hole.steps.size(); ++k)
            if (setting_.hole.steps[k].depth + over() > geometry::kFilm) all.push_back(step(k));
        if (setting_.hole.countersink > 0) all.push_back(countersink());
        return all;
    }

  private:
    /// How much deeper than in the design everything is, counted from where the depth is zero.
    double over() const { return zero_ - finished_; }
    /// What the drill goes down from there before it touches.
    double air() const { return zero_ - surface_; }
    bool inFill() const { return on_.feature == geometry::Feature::FillTop; }
    bool inChannel() const { return geometry::channelOf(on_).has_value() && !inFill(); }
    std::string field(const std::string& rest) const { return settingField(number_, "hole." + rest); }

    /// Beside an open channel, where a tool wider than the channel touches first.
    std::optional<Place> nearestOutside() const {
        std::optional<Place> best;
        for (const geometry::Segment& s : geometry::segmentsWhere(
                 before_.band, [](geometry::Tag tag) { return tag.feature == geometry::Feature::Outside; }))
            for (const geometry::Vec2 p : {s.from, s.to})
                if (!best || std::abs(p.z - z_) < std::abs(best->at.z - z_)) best = Place{s.tag, p};
        return best;
    }

    Operation begun(const std::string& name, double minutesEach, double diameter = 0) const {
        constexpr double kChange = 4;  // minutes to change a tool and zero it; a first guess, no source
        Operation op = operationFor(
            job_, name + ofSetting(job_.design, number_) + (diameter > 0 ? ", " + inMm(diameter) : ""));
        op.hold = "As before: in the dividing head.";
        op.minutes = kChange + minutesEach * placesOf(setting_);
        return op;
    }

    /// The steepest the surface stands under the rim of the pilot, round the band and across it, degrees.
    double slope() const {
        const double radius = setting_.hole.pilotDiameter / 2;
        double steepest = std::asin(std::min(1.0, radius / surface_));
        if (job_.before.band.outside.shape != design::OutsideShape::Flat) {
            for (const double at : {z_ - radius, z_ + radius})
                steepest = std::max(steepest, geometry::outsideLeanAt(job_.design, at));
        }
        return steepest * 180 / std::numbers::pi;
    }

    /// How deep a flat as wide as the pilot goes below the surface over its middle, mm: what falls away
    /// across the width and round the band.
    double flatDepth() const {
        const double radius = setting_.hole.pilotDiameter / 2;
        double lowest = surface_;
        for (const double at : {z_ - radius, z_ + radius})
            if (const auto place = surfaceAt(before_, at)) lowest = std::min(lowest, place->at.r);
        return surface_ - std::sqrt(std::max(0.0, lowest * lowest - radius * radius));
    }

    double pointAngle() const {
        return setting_.hole.bottom == design::HoleBottom::Drill135 ? 135 : kUsualPoint;
    }
    double point() const { return drillPoint(setting_.hole.pilotDiameter, pointAngle()); }

    /// From the zero to the tip of the pilot's drill, to the hundredth that a dial shows.
    double tipDepth() const {
        const design::Hole& hole = setting_.hole;
        switch (hole.bottom) {
            case design::HoleBottom::Through:
                return base::roundedTo(toBore() + point() + kBreakThrough, 2);
            case design::HoleBottom::Flat:
                return base::roundedTo(hole.pilotDepth + over(), 2);  // the tip no deeper than the flat
            case design::HoleBottom::Drill118:
            case design::HoleBottom::Drill135:
                break;
        }
        return base::roundedTo(hole.pilotDepth + over() + point(), 2);
    }
    double toBore() const { return zero_ - geometry::boreAt(before_, z_).value_or(job_.before.bore); }

    Operation pilot(const Dividing& dividing) const {
        Operation op = begun("Drill the pilot", 4, setting_.hole.pilotDiameter);
        op.tool = toolOf("drill", setting_.hole.pilotDiameter, job_.workshop.drills, op);
        op.indexing = indexed(design::placedAngles(setting_.placement), dividing.zero, dividing.divider,
                              dividing.circle);
        sayPlaces(op, dividing.divider);
        saySurface(op);
        sayStart(op);
        sayPilot(op);
        addPilotReadings(op);
        return op;
    }

    void sayPlaces(Operation& op, const trade::Divider& divider) const {
        if (op.indexing.size() == 1) {
            const Indexing& place = op.indexing.front();
            op.doing.push_back(place.turns + place.holes == 0
                                   ? "The hole stands at the zero of the dividing: lock the spindle."
                                   : "Set the dividing to " + inWords(place, divider) +
                                         " from the zero and lock the spindle.");
        } else {
            op.doing.push_back("Go round the " + std::to_string(op.indexing.size()) +
                               " places by the list, each counted from the zero and always turned the same "
                               "way; lock the spindle at each.");
        }
        sayError(op);
        if (z_ == 0) return;
        op.doing.push_back("Move the table until the spindle stands " + inMm(std::abs(z_)) +
                           (z_ > 0 ? " right" : " left") + " of mid-width.");
    }

    void sayError(Operation& op) const {
        constexpr double kMinutes = 60;
        double worst = 0;
        for (const Indexing& place : op.indexing)
            worst = std::max(worst, std::abs(place.errorMinutes));
        if (worst == 0) return;
        const double arc = worst / kMinutes * std::numbers::pi / 180 * surface_;
        op.doing.push_back("Not every place can be set exactly: the worst is " + base::fixed(worst, 1) +
                           " minutes of arc off, " + base::fixed(arc, 3) + " mm on the outside.");
        sayBetterDivider(op, worst);
    }

    /// The usual head, where it does better.
    void sayBetterDivider(Operation& op, double worst) const {
        const trade::Divider usual = usualDivider();
        const std::vector<double> angles = design::placedAngles(setting_.placement);
        const int circle = bestCircle(angles, angles.front(), usual);
        double its = 0;
        for (const Indexing& place : indexed(angles, angles.front(), usual, circle))
            its = std::max(its, std::abs(place.errorMinutes));
        if (circle == 0 || its > worst / 2) return;
        op.doing.push_back("A head of 40 to 1 with a circle of " + std::to_string(circle) +
                           " holes would set them " +
                           (its == 0 ? "exactly." : "to " + base::fixed(its, 1) + " minutes."));
    }

    void saySurface(Operation& op) const {
        std::string text = "Zero the depth on the ";
        if (beside_ != 0) {
            text += "outside beside the channel, " + inMm(std::abs(beside_) + kOnToTheRim) +
                    (beside_ > 0 ? " right" : " left") + " of the hole's middle, and come back";
        } else {
            text += inChannel() ? "channel's floor" : inFill() ? "fill" : "outside";
            text += " over the hole's middle";
        }
        text += ". It stands ";
        if (over() > geometry::kFilm) text += inMm(over()) + " above the finished outside";
        if (over() < -geometry::kFilm) text += inMm(-over()) + " below the finished outside";
        if (std::abs(over()) <= geometry::kFilm) text += "where the finished outside will";
        op.doing.push_back(
            text +
            ", and all depths of this hole count from it; carry the zero from tool to tool over "
            "a gauge block.");
        if (beside_ != 0)
            op.doing.push_back("The drill begins on the channel's floor, " + inMm(air()) +
                               " below the zero.");
        if (inFill())
            op.cautions.push_back(
                "The fill is drilled too: crushed stone blunts steel. Go through it with "
                "carbide or diamond, wet and slowly, then change to the drill.");
    }

    void sayStart(Operation& op) const {
        if (slope() > kMostSlope)
            op.doing.push_back("The surface stands at " + base::fixed(slope(), 1) +
                               " degrees under the drill's rim, too steep to start on: first mill a flat, " +
                               inMm(air() + flatDepth()) + " below the zero, with an end mill of at most " +
                               inMm(setting_.hole.pilotDiameter) + ".");
        op.doing.push_back("Spot with a centre drill no sharper than the drill's " +
                           base::fixed(pointAngle(), 0) +
                           " degrees, until its cone is half as wide as the drill.");
    }

    void sayPilot(Operation& op) const {
        const double diameter = setting_.hole.pilotDiameter;
        const double depth = tipDepth();
        const double cone = setting_.hole.bottom == design::HoleBottom::Flat ? 0 : point();
        const double diameters = (depth - air() - cone) / diameter;
        const DeepHole deep = deepHole(diameters);
        Speed speed = drillingSpeed(bandMetal(job_));
        op.cut = cutAt({speed.value * deep.speed, speed.tool, speed.source}, diameter, job_.workshop.mill);
        op.cut->feed = holeFeed(diameter, speed.value) * deep.feed;
        op.cut->along = "down the hole, by the tip";
        op.cut->dial = pecks(depth - air(), diameter, speed.value);
        for (double& at : op.cut->dial)
            at += air();
        noteMill(op);
        sayDepth(op, depth);
        if (op.cut->dial.size() > 1)
            op.doing.push_back("At each depth of the list draw the drill out and clear the chips.");
        if (deep.speed < 1)
            op.doing.push_back("The hole is " + base::fixed(diameters, 1) +
                               " diameters deep: speed and feed are lowered for it already.");
    }

    void sayDepth(Operation& op, double depth) const {
        const std::string down = inMm(depth) + " down by the tip";
        const std::string cone =
            base::fixed(point(), 2) + " mm for its point of " + base::fixed(pointAngle(), 0) + " degrees";
        switch (setting_.hole.bottom) {
            case design::HoleBottom::Through:
                op.doing.push_back("Drill right through: " + down + ", which is " + base::fixed(toBore(), 2) +
                                   " mm to the bore, " + cone + " and " + inMm(kBreakThrough) +
                                   " more. Ease the feed as it breaks through.");
                op.cautions.push_back(
                    "The drill comes out into what holds the ring: take a mandrel with a "
                    "groove under the row, or one that may be drilled.");
                break;
            case design::HoleBottom::Flat:
                op.doing.push_back("Drill " + down + ", no deeper than the flat that follows.");
                break;
            case design::HoleBottom::Drill118:
            case design::HoleBottom::Drill135:
                op.doing.push_back("Drill " + down + ": " + inMm(depth - point()) +
                                   " to its full width and " + cone + ".");
                break;
        }
    }

    void noteMill(Operation& op) const {
        if (!op.cut->clipped) return;
        op.doing.push_back("The mill turns no faster than " + base::fixed(op.cut->spindle, 0) +
                           " rev/min: keep the feed per turn, it only takes longer.");
    }

    auto wall(geometry::Feature feature, std::size_t step = 0) const {
        return [=, this](geometry::Tag tag) {
            return tag.feature == feature && tag.owner == number_ && tag.step == step;
        };
    }

    void addDiameter(Operation& op, const std::string& what, const std::string& path, auto&& test) const {
        const auto left = endWhere(outlines_, z_, -1, true, test);
        const auto right = endWhere(outlines_, z_, 1, true, test);
        if (!left || !right) return;
        op.readings.push_back(
            acrossReading(what, Instrument::PinGauge, *left, *right, toleranceOf(job_, path), path));
    }

    void addPilotReadings(Operation& op) const {
        const auto isWall = wall(geometry::Feature::Pilot);
        addDiameter(op, "Pilot", field("pilot-diameter"), isWall);
        addPlace(op, isWall);
        if (setting_.hole.bottom == design::HoleBottom::Drill118 ||
            setting_.hole.bottom == design::HoleBottom::Drill135)
            addBottom(op, "Depth of the pilot to its tip, from the surface beside the hole");
    }

    /// From the nearer edge to the wall of the hole that is nearer to it.
    void addPlace(Operation& op, auto&& isWall) const {
        const int side = z_ > 0 ? 1 : -1;
        const auto edge = edgeFace(before_.band, side > 0 ? geometry::Side::Right : geometry::Side::Left);
        const auto near = endWhere(outlines_, z_, side, true, isWall);
        if (!edge || !near || side * (edge->at.z - near->at.z) < 0) return;
        const std::string path = settingField(number_, "placement.offset");
        op.readings.push_back(alongReading(
            std::string("From the ") + (side > 0 ? "right" : "left") + " edge to the pilot's wall",
            Instrument::Caliper, *edge, *near, toleranceOf(job_, path)));
        op.readings.back().field = path;
    }

    void addDepth(Operation& op, const std::string& what, const Place& floor, const std::string& path) const {
        const auto from = besideHole(outlines_, setting_, number_);
        if (!from || from->at.r <= floor.at.r) return;
        op.readings.push_back(
            radialReading(what, Instrument::DepthGauge, *from, floor, toleranceOf(job_, path)));
        op.readings.back().field = path;
    }

    void addBottom(Operation& op, const std::string& what) const {
        std::optional<Place> lowest;
        for (const geometry::Segment& s : outlines_)
            if (wall(geometry::Feature::HoleBottom)(s.tag))
                for (const geometry::Vec2 p : {s.from, s.to})
                    if (!lowest || p.r < lowest->at.r) lowest = Place{s.tag, p};
        if (lowest) addDepth(op, what, *lowest, field("pilot-depth"));
    }

    Operation flatBottom() const {
        const double depth = setting_.hole.pilotDepth + over();
        Operation op = begun("Flatten the bottom of the pilot", 3);
        op.tool = toolOf("end mill or flat-ended bur", setting_.hole.pilotDiameter, job_.workshop.burs, op);
        op.cut = plunging(setting_.hole.pilotDiameter);
        op.cut->dial = {depth};
        op.doing.push_back("Go down to " + inMm(depth) + " from the same zero, at every place.");
        addBottom(op, "Depth of the pilot, from the surface beside the hole");
        return op;
    }

    /// End mills and burs go straight down at half a drill's speed.
    Cut plunging(double diameter) const {
        const Speed drill = drillingSpeed(bandMetal(job_));
        Cut cut = cutAt(
            {drill.value / 2, drill.tool, "half of a drill's, our own choice; of the drill: " + drill.source},
            diameter, job_.workshop.mill);
        cut.feed = 0.01;  // from memory
        cut.along = "down the hole";
        return cut;
    }

    bool isSeat(std::size_t k) const {
        return k + 1 == setting_.hole.steps.size() && (setting_.tube || setting_.stone);
    }

    Operation step(std::size_t k) const {
        const design::HoleStep& step = setting_.hole.steps[k];
        const double depth = step.depth + over();
        Operation op = begun(isSeat(k) ? "Cut the seat" : "Open the hole", 5, step.diameter);
        op.cut = plunging(step.diameter);
        op.cut->dial = dialOf(depth, 0.5, 0.1);
        noteMill(op);
        sayStep(op, k, depth);
        if (isSeat(k)) sayFit(op, step);
        addStepReadings(op, k);
        return op;
    }

    void sayStep(Operation& op, std::size_t k, double depth) const {
        const design::HoleStep& step = setting_.hole.steps[k];
        if (step.bearing == 0) {
            op.tool = toolOf("end mill or flat-ended bur", step.diameter, job_.workshop.burs, op);
            op.doing.push_back("Go down to " + inMm(depth) +
                               " from the same zero, at every place of the pilot's list; measure before the "
                               "last pass.");
            return;
        }
        const double below = k > 0 ? setting_.hole.steps[k - 1].diameter : setting_.hole.pilotDiameter;
        op.tool = toolOf("bur with a point of " +
                             base::shortestNumber(base::roundedTo(180 - 2 * step.bearing, 1)) + " degrees",
                         step.diameter, job_.workshop.burs, op);
        op.doing.push_back("Sink it until its full width stands " + inMm(depth) +
                           " below the zero, at every place of the pilot's list. Its cone, the bearing, then "
                           "meets the hole below at " +
                           inMm(depth + geometry::bearingRise(step, below)) + ".");
    }

    void sayFit(Operation& op, const design::HoleStep& step) const {
        const bool reamed = std::ranges::any_of(
            job_.workshop.reamers, [&](double d) { return std::abs(d - step.diameter) < 0.005; });
        if (reamed)
            op.doing.push_back("Cut it 0.05 mm under size and bring it out with the reamer of " +
                               inMm(step.diameter) + ", short of the floor.");
        if (setting_.tube) {
            op.doing.push_back("A pin or a tube of " + inMm(setting_.tube->outerDiameter) +
                               " drops into each with " + inMm(step.diameter - setting_.tube->outerDiameter) +
                               " of play across.");
        } else {
            op.doing.push_back("Measure the stones first. The seat is " +
                               inMm(step.diameter - setting_.stone->diameter) + " wider than a girdle of " +
                               inMm(setting_.stone->diameter) +
                               ": where a stone is another, cut its seat by as much another.");
        }
    }

    void addStepReadings(Operation& op, std::size_t k) const {
        const auto isWall = wall(geometry::Feature::Seat, k);
        const std::string at = field("steps[" + std::to_string(k) + "].");
        const std::string what = isSeat(k) ? "seat" : "step";
        addDiameter(op, isSeat(k) ? "Seat" : "Step", at + "diameter", isWall);
        if (const auto floor = endWhere(outlines_, z_, sideInwards(setting_), false, isWall))
            addDepth(op, "Depth of the " + what + ", from the surface beside the hole", *floor, at + "depth");
        if (k == 0) addMetalBelow(op, at + "depth");
    }

    /// What is left between the deepest ledge and the bore.
    void addMetalBelow(Operation& op, const std::string& path) const {
        const geometry::Section& inner = before_.liner.empty() ? before_.band : before_.liner;
        const auto isBore = [](geometry::Tag tag) { return geometry::isBore(tag); };
        for (const geometry::Segment& s : outlines_) {
            if (!wall(geometry::Feature::Ledge)(s.tag)) continue;
            const geometry::Vec2 ledge = geometry::pointAt(s, 0.5);
            if (sideInwards(setting_) * (ledge.z - z_) < 0) continue;
            for (const geometry::Segment& b : geometry::segmentsWhere(inner, isBore)) {
                const auto r = radiusAt(b, ledge.z);
                if (!r || *r >= ledge.r) continue;
                op.readings.push_back(radialReading("Metal under the seat, from the bore",
                                                    Instrument::BallGauge, {b.tag, {ledge.z, *r}},
                                                    {s.tag, ledge}, toleranceOf(job_, path)));
                op.readings.back().least = std::max(0.0, op.readings.back().least);
                return;
            }
        }
    }

    Operation countersink() const {
        const double mouth = geometry::seatOf(setting_.hole, number_).mouth;
        const double tip = mouth / 2 + over();  // 90 degrees in all: as deep as it is wide on the radius
        Operation op = begun("Countersink", 2);
        op.tool = "90-degree countersink";
        op.cut = plunging(mouth);
        op.cut->feed = 0;
        op.cut->dial = {tip};
        op.cut->along = "down the hole, by the tip";
        op.doing.push_back(
            "Sink its tip " + inMm(tip) + " below the zero: along the crest the mouth is then " +
            inMm(mouth + 2 * over()) + " wide" +
            (over() > geometry::kFilm ? ", and " + inMm(mouth) + " when the outside is finished." : "."));
        const auto isSink = wall(geometry::Feature::Countersink);
        const auto left = endWhere(outlines_, z_, -1, true, isSink),
                   right = endWhere(outlines_, z_, 1, true, isSink);
        if (left && right)
            op.readings.push_back(acrossReading("Mouth along the crest", Instrument::Caliper, *left, *right,
                                                toleranceOf(job_, field("countersink")),
                                                field("countersink")));
        return op;
    }

    const Job& job_;
    std::size_t number_;
    const design::Setting& setting_;
    geometry::RingSections before_;
    Outlines outlines_;
    double z_, finished_;  ///< across the width; radius of the finished outside there
    double surface_ = 0;   ///< radius of what the drill touches first
    double zero_ = 0;      ///< radius from which depths count
    double beside_ = 0;    ///< mm across the width from the hole's middle to where the zero is taken
    geometry::Tag on_{geometry::Feature::Outside};
};

}  // namespace

std::vector<Operation> drillSetting(const Job& job, std::size_t setting, const Dividing& dividing) {
    return Drilling(job, setting).operations(dividing);
}

}  // namespace bandwright::route
