#include <algorithm>
#include <array>
#include <cmath>

#include "base/numbers.hpp"
#include "check/cautions.hpp"
#include "check/tolerance_stack.hpp"
#include "check/weighed.hpp"
#include "drawer.hpp"
#include "geometry/tolerance.hpp"
#include "lathe.hpp"
#include "places.hpp"
#include "sanding.hpp"
#include "sentences.hpp"

/// Polish, colour, etch, and the last look.
namespace bandwright::route {

namespace {

bool isDoneBefore(const Job& job, design::Stage step) {
    return design::isBefore(job.design.route, step, job.stage);
}

/// What is in the ring already and must not be spoilt by polishing.
void sayCare(const Job& job, Operation& op) {
    if (job.before.filled) {
        op.doing.push_back(
            "Over the fill work wet, with the paper on a hard block, so that it is not dished; "
            "never dry, never hot.");
        op.cautions.push_back(
            "Sanding stone makes dust that harms the lungs: wet, with extraction, and a fitted "
            "P100 mask.");
    }
    if (job.before.set) op.doing.push_back("Cover the stones with tape.");
    if (job.before.drilled && !job.before.joined)
        op.doing.push_back("Keep mops off the rims of the holes: they round them.");
    op.cautions.push_back(
        "A mop takes hold of a ring: hold it on a stick, never with a finger through it; eye "
        "protection.");
}

void addSurface(Operation& op, const std::string& surface, design::Finish finish) {
    const std::vector<std::string> steps = finishing(finish);
    op.doing.push_back("The " + surface + ". " + steps.front());
    op.doing.insert(op.doing.end(), steps.begin() + 1, steps.end());
}

void addOutsideReadings(const Job& job, Operation& op) {
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    const auto outsides = geometry::segmentsWhere(
        plain.band, [](geometry::Tag tag) { return tag.feature == geometry::Feature::Outside; });
    for (const geometry::Segment& s : outsides) {
        const geometry::Vec2 at = geometry::pointAt(s, 0.5);
        const bool middle = std::abs(at.z) < geometry::kFilm;
        const std::string where =
            middle ? " at mid-width"
                   : ", " + inMm(std::abs(at.z)) + (at.z > 0 ? " right" : " left") + " of mid-width";
        op.readings.push_back(diameterReading("Outside" + where, outsideInstrument(job.workshop), {s.tag, at},
                                              passingTolerance(job, 2 * at.r, 0)));
        op.readings.back().field = "band.thickness";
    }
    const auto left = edgeFace(plain.band, geometry::Side::Left);
    const auto right = edgeFace(plain.band, geometry::Side::Right);
    if (!left || !right) return;
    op.readings.push_back(alongReading("Width", outsideInstrument(job.workshop), *left, *right,
                                       toleranceOf(job, "band.width")));
    op.readings.back().field = "band.width";
}

Operation polishOutside(const Job& job) {
    const design::Surface& surface = job.design.band.surface;
    Operation op = operationFor(job, "Finish the outside and the edges");
    op.hold = heldForOutside(job, op);
    op.tool = "abrasive paper on a block, felt and mops";
    if (surface.outside == surface.edges) {
        addSurface(op, "outside and the edges", surface.outside);
    } else {
        addSurface(op, "edges", surface.edges);
        addSurface(op, "outside", surface.outside);
    }
    sayCare(job, op);
    op.doing.push_back("Finishing takes some hundredths off: read often.");
    addOutsideReadings(job, op);
    op.minutes = surface.outside == surface.edges ? 30 : 45;
    return op;
}

}  // namespace

std::vector<Operation> finishBore(const Job& job) {
    Operation op = operationFor(job, "Finish the bore");
    op.hold = "In soft jaws or a ring collet, lightly.";
    op.tool = "abrasive paper on a split mandrel, felt";
    addSurface(op, "bore", job.design.band.surface.bore);
    op.cautions.push_back("Paper is wound on a split mandrel, never on the finger.");
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    if (const auto place = borePlace(plain)) {
        op.readings.push_back(diameterReading("Bore at its narrowest", Instrument::BoreGauge, *place,
                                              toleranceOf(job, check::kBore)));
        op.readings.back().field = check::kBore;
        op.readings.back().size = sizeOf(job.design, 2 * place->at.r);
    }
    op.minutes = 15;
    return {op};
}

namespace {

/// By thickness of oxide on titanium: table of nokit.org, 2 nm a volt.
struct Colour {
    double nanometres;
    const char* name;
};
constexpr std::array<Colour, 15> kColours{{{8, "pale gold"},
                                           {16, "golden"},
                                           {24, "purple"},
                                           {32, "blue-violet"},
                                           {40, "deep blue"},
                                           {50, "royal blue"},
                                           {60, "sky blue"},
                                           {70, "blue-green"},
                                           {80, "yellow-green"},
                                           {90, "straw"},
                                           {110, "pink"},
                                           {130, "turquoise"},
                                           {160, "pale pink"},
                                           {180, "pale green"},
                                           {200, "near white"}}};

const char* colourOf(double nanometres) {
    return std::ranges::min_element(kColours, {},
                                    [&](const Colour& c) { return std::abs(c.nanometres - nanometres); })
        ->name;
}

Operation anodise(const Job& job) {
    constexpr double kLeast = 1.5, kMost = 2.5;  // nm a volt, by the bath
    const double oxide = job.design.band.surface.oxide;
    const trade::Metal& metal = bandMetal(job);
    Operation op = operationFor(job, "Anodise");
    op.hold = "On a wire or tongs of the same metal, which is the anode; no other metal may touch the bath.";
    op.tool = "supply of direct current with a limit for the current, bath, cathode of steel or titanium";
    op.doing = {"Degrease, rinse, and touch it no more with the fingers."};
    const double perVolt = metal.anodising ? metal.anodising->perVolt : 0;
    if (perVolt > 0) {
        op.doing.push_back("For " + base::fixed(oxide, 0) + " nm of oxide, " + colourOf(oxide) + ": about " +
                           base::fixed(oxide / perVolt, 0) + " V, between " + base::fixed(oxide / kMost, 0) +
                           " and " + base::fixed(oxide / kLeast, 0) +
                           " V by the bath. Find the volts on scrap of the same bar with the same finish.");
    } else {
        op.missing.push_back("the volts for " + metal.name + ": find them on scrap of the same bar");
    }
    op.doing.push_back(
        "Come up to the volts from below and stop when the colour is there: it cannot go back but by "
        "polishing. Rinse and dry.");
    addWorkCautions(job, "Anodising", op);
    op.minutes = 40;
    return op;
}

Operation blacken(const Job& job) {
    Operation op = operationFor(job, "Blacken in the heat");
    op.hold = "On a ceramic rest in the furnace, touched at the bore alone.";
    op.tool = "furnace with air in it";
    op.doing = {"Degrease, and touch it no more with the fingers.",
                "600 to 900 degrees C in air, minutes at the hot end and hours at the cool: 2 to 8 um of "
                "black oxide. "
                "Find heat and time on a piece of the same bar with the same finish.",
                "Let it cool in the furnace; do not quench it."};
    addWorkCautions(job, "Blackening", op);
    op.minutes = 60;
    return op;
}

}  // namespace

std::vector<Operation> polish(const Job& job) {
    std::vector<Operation> operations{polishOutside(job)};
    if (isDoneBefore(job, design::Stage::Sized)) {
        for (Operation& op : finishBore(job))
            operations.push_back(std::move(op));
    }
    switch (job.design.band.surface.treatment) {
        case design::Treatment::Anodised:
            operations.push_back(anodise(job));
            break;
        case design::Treatment::Blackened:
            operations.push_back(blacken(job));
            break;
        case design::Treatment::None:
            break;
    }
    return operations;
}

std::vector<Operation> etch(const Job& job) {
    const double depth = job.design.band.layers.etch;
    Operation op = operationFor(job, "Etch the layers");
    op.hold = "On a nylon thread.";
    op.tool = "iron(III) chloride with hydrochloric acid in glass or plastic, soda to stop it";
    op.doing = {
        "Stop the bore off with lacquer" +
            std::string(job.before.filled || job.before.set ? ", and the fill and the stones too" : "") +
            "; degrease the rest.",
        "Find the time on an offcut of the same billet, finished alike and half of it covered with lacquer: "
        "look "
        "every 5 minutes, and note when the step is " +
            base::shortestNumber(base::roundedTo(1000 * depth, 1)) + " um by the micrometer.",
        "Etch the ring as long, moving it all the while. Lift it out, put it into soda water until nothing "
        "fizzes, rinse and dry.",
        "Take the lacquer off; wipe the tops of the layers with P2000 on a hard block."};
    op.cautions = {
        "Acid into water, never water into acid. Goggles, gloves, apron; extract the fume; what is used up "
        "goes to where the law of the place says."};
    for (const std::string& caution : metalCautions(job, job.design.band.metal))
        op.cautions.push_back(caution);
    op.minutes = 60;
    return {op};
}

namespace {

/// Plus or minus on the finished mass: what the tolerances of width and thickness do to the band, as a root
/// of squares. Fill, tubes and stones weigh little beside it.
double massTolerance(const Job& job, double band) {
    const double width = toleranceOf(job, "band.width") / job.design.band.width;
    const double thickness = toleranceOf(job, "band.thickness") / job.design.band.thickness;
    return band * std::hypot(width, thickness);
}

Reading weighing(const Job& job, const std::vector<geometry::SolidPart>& bodies) {
    Reading reading;
    reading.what = "The whole ring";
    reading.instrument = Instrument::Scales;
    reading.span = Span::Mass;
    reading.value = check::weighed(bodies, job.design, job.catalogue).volume;
    double band = 0;
    for (const geometry::SolidPart& body : bodies)
        if (body.part.role == geometry::PartRole::Band) band += check::mass(body, job.design, job.catalogue);
    const double plusMinus = massTolerance(job, band);
    reading.least = reading.value - plusMinus;
    reading.most = reading.value + plusMinus;
    return reading;
}

/// How it is cleaned and kept, as far as its materials ask for it.
void sayKeeping(const Job& job, Operation& op) {
    for (const design::Setting& setting : job.design.settings)
        if (setting.stone) addCautions(op, job.catalogue.gem(setting.stone->gem)->cautions);
    addHallmark(job, op);
}

}  // namespace

std::vector<Operation> finish(const Job& job) {
    const std::vector<geometry::SolidPart> bodies = geometry::bodies(job.design);
    Operation op = operationFor(job, "Last look");
    op.hold = "In the hand, over a soft cloth.";
    op.tool = "loupe, ring mandrel, scales";
    op.doing = {
        "Wash it in warm water with a drop of soap, rinse, dry.",
        "Go round it under the loupe: no scratch across the finish, no pit in a fill, no gap under a lip, no "
        "sharp "
        "corner anywhere a finger or a sleeve meets it.",
        "Weigh it. More or less than the limits means that it is not the ring that was designed: look for "
        "what differs."};
    op.readings.push_back(weighing(job, bodies));
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    if (const auto place = borePlace(plain)) {
        op.readings.push_back(diameterReading("Size on the mandrel", Instrument::RingMandrel, *place,
                                              toleranceOf(job, check::kBore)));
        op.readings.back().field = check::kBore;
        op.readings.back().size = sizeOf(job.design, 2 * place->at.r);
    }
    sayKeeping(job, op);
    op.minutes = 15;
    return {op};
}

}  // namespace bandwright::route
