#include "inlay.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "drawer.hpp"
#include "lathe.hpp"
#include "places.hpp"
#include "sentences.hpp"
#include "setting_places.hpp"

namespace bandwright::route {

namespace {

constexpr double kMinutesPerHour = 60;

const geometry::Section* fillOf(const geometry::RingSections& ring, std::size_t channel) {
    const auto found = std::ranges::find(ring.fillChannel, channel);
    return found == ring.fillChannel.end()
               ? nullptr
               : &ring.fills[static_cast<std::size_t>(found - ring.fillChannel.begin())];
}

/// Its top, in the middle of the channel where it is there.
std::optional<Place> topOf(const geometry::Section& fill, double middle) {
    const auto tops = geometry::segmentsWhere(
        fill, [](geometry::Tag tag) { return tag.feature == geometry::Feature::FillTop; });
    std::optional<Place> best;
    for (const geometry::Segment& s : tops)
        if (const auto r = radiusAt(s, middle)) return Place{s.tag, {middle, *r}};
    for (const geometry::Segment& s : tops)
        if (!best) best = Place{s.tag, geometry::pointAt(s, 0.5)};
    return best;
}

/// What of a fill lies between two cylinders.
double volumeBetween(const geometry::Section& fill, double low, double high) {
    constexpr double kBeyond = 1000;  // mm, wider than any ring
    const geometry::Vec2 a{-kBeyond, low}, b{kBeyond, low}, c{kBeyond, high}, d{-kBeyond, high};
    const geometry::Tag none;
    const geometry::Section between{{geometry::line(a, b, none), geometry::line(b, c, none),
                                     geometry::line(c, d, none), geometry::line(d, a, none)}};
    return geometry::properties(geometry::intersect(fill, between)).volume;
}

double packedVolume(const Job& job, std::size_t channel) {
    for (const geometry::SolidPart& body : geometry::bodies(job.design, job.stage))
        if (body.part.role == geometry::PartRole::Fill && body.part.source == channel)
            return body.solid.volume;
    return 0;
}

/// The middle layers end at cylinders; the first and the last take what is below and above.
std::vector<double> layerVolumes(const geometry::Section& fill, double floor, double depth, int count) {
    constexpr double kFar = 1000;  // mm
    std::vector<double> volumes;
    for (int i = 0; i < count; ++i) {
        const double low = i == 0 ? 0 : floor + depth * i;
        const double high = i + 1 == count ? kFar : floor + depth * (i + 1);
        volumes.push_back(volumeBetween(fill, low, high));
    }
    return volumes;
}

double minutesAfter(const trade::Adhesive& adhesive, bool last) {
    if (last) return adhesive.curedHours ? adhesive.curedHours->value * kMinutesPerHour : 0;
    return adhesive.layerMinutes ? adhesive.layerMinutes->value : 0;
}

}  // namespace

Packing packingOf(const Job& job, std::size_t channel) {
    const design::Channel& c = job.design.channels[channel];
    const trade::Adhesive& adhesive = *job.catalogue.adhesive(c.fill->adhesive);
    const trade::Filler& filler = *job.catalogue.filler(c.fill->filler);
    const geometry::RingSections ring = geometry::sections(job.design, job.after);
    const geometry::Section* fill = fillOf(ring, channel);
    Packing packing{geometry::channelFloor(job.design, channel), 0, packedVolume(job, channel), {}};
    const auto top = fill ? topOf(*fill, c.offset) : std::nullopt;
    if (!top) return packing;
    packing.top = top->at.r;
    const double deep = packing.top - packing.floor;
    const int count = std::max(1, static_cast<int>(std::ceil(deep / adhesive.layer.value - 1e-9)));
    const std::vector<double> volumes = layerVolumes(*fill, packing.floor, deep / count, count);
    double whole = 0;
    for (const double volume : volumes)
        whole += volume;
    for (int i = 0; i < count; ++i) {
        const double volume = volumes[static_cast<std::size_t>(i)] * packing.volume / whole;
        Layer layer;
        layer.depth = deep / count;
        layer.grains = volume * c.fill->packing * filler.density.value / kMm3PerCm3;
        layer.adhesive = volume * (1 - c.fill->packing) * adhesive.density.value / kMm3PerCm3;
        if (adhesive.drop) layer.drops = std::round(layer.adhesive / adhesive.drop->value);
        layer.waitMinutes = minutesAfter(adhesive, i + 1 == count);
        packing.layers.push_back(layer);
    }
    return packing;
}

namespace {

/// Holes drilled before the fill stay open: what fills them until then.
void sayPlugs(const Job& job, Operation& op) {
    if (!job.after.drilled) return;
    std::vector<std::string> sizes;
    for (const design::Setting& setting : job.design.settings) {
        if (geometry::hasTube(job.after, setting)) continue;
        const geometry::HoleSeat seat = geometry::seatOf(setting.hole, 0);
        sizes.push_back(std::to_string(placesOf(setting)) + " of " + inMm(seat.diameter));
    }
    if (!sizes.empty())
        op.doing.push_back("Plug the holes with turned plugs of nylon or waxed wood, " + base::listed(sizes) +
                           ", greased and standing over the fill to be.");
    if (job.after.joined) op.doing.push_back("Close the tubes with wax or putty: no adhesive may run in.");
}

/// How the fill stands to the metal beside it after each layer.
std::string heights(const Job& job, std::size_t channel, const Packing& packing) {
    const double metal = geometry::outsideAt(job.after, job.design.channels[channel].offset);
    std::vector<std::string> marks;
    double at = packing.floor;
    for (const Layer& layer : packing.layers) {
        at += layer.depth;
        marks.push_back(at < metal ? inMm(metal - at) + " below" : inMm(at - metal) + " above");
    }
    return base::listed(marks) + " the metal beside it";
}

void sayLayers(const Job& job, std::size_t channel, const Packing& packing, Operation& op) {
    const design::Fill& fill = *job.design.channels[channel].fill;
    const trade::Adhesive& adhesive = *job.catalogue.adhesive(fill.adhesive);
    double grains = 0, glue = 0;
    for (const Layer& layer : packing.layers) {
        grains += layer.grains;
        glue += layer.adhesive;
    }
    op.doing.push_back("Weigh out " + inGrams(kGrainLoss * grains) + " of " +
                       job.catalogue.filler(fill.filler)->name + ", sieved " + inMm(fill.grainLeast) +
                       " to " + inMm(fill.grainMost) + "; have " +
                       inAdhesive(kAdhesiveLoss * glue, adhesive) + " of " + adhesive.name +
                       " at hand. Both with what gets lost; " + inGrams(grains) + " and " +
                       inAdhesive(glue, adhesive) + " stay in the ring.");
    const std::string depth = inMm(packing.layers.front().depth);
    const bool one = packing.layers.size() == 1;
    op.doing.push_back(
        (one ? "One layer of " : std::to_string(packing.layers.size()) + " layers of ") + depth +
        (one ? ":" : " each by the list:") +
        " strew the grains in, tap and press them, let the adhesive soak through, and turn the "
        "ring so that it does not run to one side.");
    op.doing.push_back("After each layer the fill stands " + heights(job, channel, packing) + ".");
}

void sayWait(const trade::Adhesive& adhesive, std::size_t layers, Operation& op) {
    if (layers > 1) {
        if (adhesive.layerMinutes)
            op.doing.push_back("Let each layer set for " + inTime(adhesive.layerMinutes->value) +
                               " before the next.");
        else
            op.missing.push_back("how long a layer of " + adhesive.name + " takes: see its sheet");
    }
    if (adhesive.curedHours)
        op.doing.push_back("Then leave it for " + base::shortestNumber(adhesive.curedHours->value) +
                           " hours before it is turned. Look for pits under a loupe and top them up.");
    else
        op.missing.push_back("how long " + adhesive.name + " takes until it can be turned: see its sheet");
}

void addReading(const Job& job, std::size_t channel, Operation& op) {
    const geometry::RingSections ring = geometry::sections(job.design, job.after);
    const auto top = topOf(*fillOf(ring, channel), job.design.channels[channel].offset);
    Reading over = diameterReading("Across the cured fill", outsideInstrument(job.workshop), *top, 0);
    const double proud = job.design.channels[channel].fill->proud;
    const double needed = geometry::outsideAt(job.design, top->at.z) + proud;
    over.least = std::min(over.value, 2 * needed);  // so much stays when it is trued
    over.most = over.value + 2 * job.design.allowances.fill;
    over.field = "allowances.fill";
    op.readings.push_back(std::move(over));
}

Operation pack(const Job& job, std::size_t channel, const Packing& packing) {
    const design::Fill& fill = *job.design.channels[channel].fill;
    const trade::Adhesive& adhesive = *job.catalogue.adhesive(fill.adhesive);
    const bool several = job.design.channels.size() > 1;
    Operation op =
        operationFor(job, "Pack the channel" + (several ? " " + std::to_string(channel + 1) : std::string()));
    op.hold = "On a rod through the bore that you can turn by hand.";
    op.tool = "spatula, tamper as wide as the channel, fine needle on the bottle";
    op.doing = {"Roughen the floor and the sides with P220, clean with acetone and let it dry."};
    sayPlugs(job, op);
    op.layers = packing.layers;
    sayLayers(job, channel, packing, op);
    sayWait(adhesive, packing.layers.size(), op);
    addReading(job, channel, op);
    addCautions(op, adhesive.cautions);
    addCautions(op, job.catalogue.filler(fill.filler)->cautions);
    constexpr double kPrepare = 15, kLayer = 8;  // minutes at work, not waiting; a first guess, no source
    op.minutes = kPrepare + kLayer * static_cast<double>(packing.layers.size());
    return op;
}

}  // namespace

std::vector<Operation> packChannels(const Job& job) {
    std::vector<Operation> operations;
    for (std::size_t i = 0; i < job.design.channels.size(); ++i) {
        if (!job.design.channels[i].fill) continue;
        const Packing packing = packingOf(job, i);
        if (packing.layers.empty()) continue;
        operations.push_back(pack(job, i, packing));
        if (operations.size() == 1) addHallmark(job, operations.front());  // while no fill is in yet
    }
    return operations;
}

}  // namespace bandwright::route
