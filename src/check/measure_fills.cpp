#include <cmath>

#include "measure.hpp"

namespace bandwright::check {

void measureFills(const StagedRing& ring, Measures& measures) {
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
        count("channel-reach", "Depth in widths of ", channel.depth / channel.width, "times");
        if (!channel.fill) continue;
        const design::Fill& fill = *channel.fill;
        if (fill.grainMost > 0) {
            count("grains-deep", "Largest grains in the depth of ", channel.depth / fill.grainMost, "grains");
            count("grains-wide", "Largest grains in the width of ", channel.width / fill.grainMost, "grains");
        }
        count("fill-packing", "Share of grains in ", fill.packing, "");
        count("fill-draft", "Outward lean of the sides of ", channel.draft, "degrees");
        const auto add = [&](std::string_view id, const std::string& label, double value, geometry::Vec2 from,
                             geometry::Vec2 to) {
            measures.push_back(measureOf(numbered(id, i), label + in, ring.stage, {value, from, to, tag, tag},
                                         ring.quietAngle, i));
        };
        const geometry::Vec2 top{channel.offset, mouth + fill.proud};
        add("fill-depth", "Depth of the fill in ", channel.depth + fill.proud, floor, top);
        add("fill-step", "Step between fill and metal at ", std::abs(fill.proud), {channel.offset, mouth},
            top);
    }
}

}  // namespace bandwright::check
