#include <algorithm>
#include <cmath>
#include <numbers>

#include "measure.hpp"

namespace bandwright::check {

namespace {

/// The largest grain over the smallest from which on the small ones fill the gaps between the large.
constexpr double kMixed = 7;

/// How far the floor reaches under each side for the fill to be held by it, mm; our own choice.
constexpr double kKeys = 0.05;

/// The last layer is not topped up any more: between grains that touch, and so do not sink, its adhesive
/// sinks by what it loses in curing. What was packed over the outside for truing makes up for it.
double standsOver(const design::Design& design, const design::Channel& channel,
                  const trade::Adhesive& adhesive) {
    const bool trued = design::isBefore(design.route, design::Stage::Filled, design::Stage::Trued);
    const double over = trued ? design.allowances.fill : 0;
    const double layer = std::min(adhesive.layer.value, channel.depth + channel.fill->proud + over);
    return over - adhesive.shrinkage.value * layer;
}

}  // namespace

void measureFills(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const design::Channel& channel = design.channels[i];
        const double mouth = geometry::outsideAt(design, channel.offset);
        const geometry::Vec2 floor{channel.offset, geometry::channelFloor(design, i)};
        const std::string in = channelName(design, i);
        const geometry::Tag tag{geometry::Feature::ChannelFloor, i};
        const auto count = [&](std::string_view id, const std::string& label, double value,
                               const char* unit) {
            measures.push_back(countOf(numbered(id, i), label + in, ring.stage, value, unit, floor, tag,
                                       ring.quietAngle, i));
        };
        count("channel-reach", "Depth of ", channel.depth / channel.width, "of its width");
        if (!channel.fill) continue;
        const design::Fill& fill = *channel.fill;
        if (fill.grainMost > 0) {
            count("grains-deep", "Number of largest grains in the depth of ", channel.depth / fill.grainMost,
                  "grains");
            count("grains-wide", "Number of largest grains in the width of ", channel.width / fill.grainMost,
                  "grains");
        }
        const bool mixed = fill.grainMost >= kMixed * fill.grainLeast;
        count(mixed ? "fill-packing-mixed" : "fill-packing", "Share of grains in the fill of ", fill.packing,
              "");
        count("fill-draft", "Lean of the sides of ", channel.draft, "degrees");
        const auto add = [&](std::string_view id, const std::string& label, double value, geometry::Vec2 from,
                             geometry::Vec2 to) {
            measures.push_back(measureOf(numbered(id, i), label, ring.stage, {value, from, to, tag, tag},
                                         ring.quietAngle, i));
        };
        const geometry::Vec2 top{channel.offset, mouth + fill.proud};
        const double undercut = channel.depth * std::tan(-channel.draft * std::numbers::pi / 180);
        add(undercut >= kKeys ? "fill-depth-keyed" : "fill-depth", "Depth of the fill in " + in,
            channel.depth + fill.proud, floor, top);
        add("fill-step", "Step between metal and fill of " + in, std::abs(fill.proud),
            {channel.offset, mouth}, top);
        const double over = standsOver(design, channel, *catalogue.adhesive(fill.adhesive));
        add("fill-over", "Cured fill of " + in + " before it is trued", over, top,
            top + geometry::Vec2{0, over});
    }
}

}  // namespace bandwright::check
