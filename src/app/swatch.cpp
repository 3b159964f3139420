#include "app/swatch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace bandwright::app {

namespace {

using trade::LinearRgb;

ImU32 asSeen(const LinearRgb& light) {
    const auto byte = [](double linear) {
        return static_cast<int>(std::lround(255 * trade::srgbEncoded(std::clamp(linear, 0.0, 1.0))));
    };
    return IM_COL32(byte(light[0]), byte(light[1]), byte(light[2]), 255);
}

LinearRgb between(const LinearRgb& a, const LinearRgb& b, double share) {
    LinearRgb mixed{};
    for (std::size_t i = 0; i < 3; ++i)
        mixed.at(i) = a.at(i) + share * (b.at(i) - a.at(i));
    return mixed;
}

LinearRgb times(const LinearRgb& light, double share) {
    return between({}, light, share);
}

/// Light of the tent from so high: bright above, darker at the table.
double tent(double sine) {
    return 0.25 + 0.75 / (1 + std::exp(-6 * sine));
}

/// A rod of the metal that lies across: each line shows the tent where it mirrors it, Schlick's way to the
/// edge.
void drawRod(ImDrawList& draw, ImVec2 least, ImVec2 most, const Swatch& swatch) {
    constexpr int kLines = 24;
    for (int i = 0; i < kLines; ++i) {
        const double up = 1 - 2 * (i + 0.5) / kLines;  // of the surface's normal, as a sine
        const double cosine = std::sqrt(1 - up * up), mirrored = 2 * up * cosine;
        const bool isLayer = swatch.kind == Swatch::Kind::Layers && (i / 2) % 2 == 1;
        const LinearRgb colour = between(isLayer ? swatch.second : swatch.first,
                                         isLayer ? swatch.second : swatch.edge, std::pow(1 - cosine, 5));
        const float height = (most.y - least.y) / kLines, top = least.y + height * static_cast<float>(i);
        draw.AddRectFilled({least.x, top}, {most.x, top + height + 0.5F},
                           asSeen(times(colour, tent(mirrored))));
    }
}

/// A stone from above: table and crown, each facet by the light that its way through the stone leaves.
void drawStone(ImDrawList& draw, ImVec2 least, ImVec2 most, const Swatch& swatch) {
    constexpr int kMains = 8;
    constexpr float kTable = 0.55F;
    const ImVec2 middle{(least.x + most.x) / 2, (least.y + most.y) / 2};
    const float radius = (most.y - least.y) / 2;
    const auto corner = [&](int i, float share) {
        const float angle = (static_cast<float>(i) + 0.5F) * 2 * std::numbers::pi_v<float> / kMains;
        return ImVec2(middle.x + share * radius * std::cos(angle),
                      middle.y + share * radius * std::sin(angle));
    };
    const auto after = [&](double mm, double light) {
        LinearRgb left{};
        for (std::size_t i = 0; i < 3; ++i)
            left.at(i) =
                light * std::pow(std::max(swatch.first.at(i), 1e-6), mm) + 0.04 + swatch.second.at(i);
        return asSeen(left);
    };
    for (int i = 0; i < kMains; ++i) {
        const double light = i % 2 == 0 ? 1 : 0.45;
        draw.AddQuadFilled(corner(i, 1), corner(i + 1, 1), corner(i + 1, kTable), corner(i, kTable),
                           after(2, light));
        draw.AddTriangleFilled(corner(i, kTable), corner(i + 1, kTable), middle, after(3, 1.3 - light));
    }
}

/// Grains of the two colours, each as bright as it happens to lie.
void drawGrains(ImDrawList& draw, ImVec2 least, ImVec2 most, const Swatch& swatch) {
    constexpr int kAcross = 8, kDown = 5;
    draw.AddRectFilled(least, most, asSeen(times(swatch.first, 0.6)));
    std::uint32_t lot = 2463534242U;  // xorshift, the same in every frame
    const auto share = [&lot] {
        lot ^= lot << 13U;
        lot ^= lot >> 17U;
        lot ^= lot << 5U;
        return static_cast<double>(lot % 1000) / 999;
    };
    const ImVec2 each{(most.x - least.x) / kAcross, (most.y - least.y) / kDown};
    for (int row = 0; row < kDown; ++row)
        for (int column = 0; column < kAcross; ++column) {
            const LinearRgb colour =
                times(between(swatch.first, swatch.second, share()), 0.55 + 0.45 * share());
            const ImVec2 from{least.x + each.x * static_cast<float>(column),
                              least.y + each.y * static_cast<float>(row)};
            draw.AddTriangleFilled(from, {from.x + each.x, from.y + each.y / 3},
                                   {from.x + each.x / 3, from.y + each.y}, asSeen(colour));
            draw.AddTriangleFilled({from.x + each.x, from.y + each.y / 3}, {from.x + each.x, from.y + each.y},
                                   {from.x + each.x / 3, from.y + each.y}, asSeen(times(colour, 0.8)));
        }
}

}  // namespace

Swatch swatchOf(const trade::Metal& metal) {
    if (metal.layerReflectance)
        return {Swatch::Kind::Layers, metal.reflectance, *metal.layerReflectance, metal.reflectance82};
    return {Swatch::Kind::Rod, metal.reflectance, metal.reflectance, metal.reflectance82};
}

Swatch swatchOf(const trade::Gem& gem) {
    return {Swatch::Kind::Stone, gem.transmission, gem.cloud, {}};
}

Swatch swatchOf(const trade::Filler& filler) {
    return {Swatch::Kind::Grains, filler.colour, filler.colour2, {}};
}

void drawSwatch(ImDrawList& draw, ImVec2 least, ImVec2 most, const Swatch& swatch) {
    switch (swatch.kind) {
        case Swatch::Kind::Rod:
        case Swatch::Kind::Layers:
            return drawRod(draw, least, most, swatch);
        case Swatch::Kind::Stone:
            return drawStone(draw, least, most, swatch);
        case Swatch::Kind::Grains:
            return drawGrains(draw, least, most, swatch);
    }
}

}  // namespace bandwright::app
