#include "render/still.hpp"

#include <algorithm>
#include <cmath>

#include "platform/atomic_file.hpp"
#include "platform/offscreen_context.hpp"
#include "png_rows.hpp"
#include "render/renderer.hpp"

namespace bandwright::render {

namespace {

constexpr int kTileSide = 1024;

Image settled(Renderer& renderer, const scene::Scene& scene, const Tile& tile) {
    do {
        renderer.draw(scene, tile, Quality::Still);
    } while (!renderer.settled());
    return renderer.read();
}

// Rows of the still from `top`, as RGBA.
struct Strip {
    int top = 0;
    scene::Size size;
    std::vector<std::uint8_t> rgba;

    void put(const Image& image, int x, int y) {
        for (int row = 0; row < image.size.height; ++row) {
            const std::uint8_t* from = image.pixel(0, row);
            const std::size_t place =
                4 * (static_cast<std::size_t>(y - top + row) * static_cast<std::size_t>(size.width) +
                     static_cast<std::size_t>(x));
            std::copy_n(from, 4 * static_cast<std::size_t>(image.size.width), &rgba[place]);
        }
    }
};

// The part of a panel that lies in the band, tile by tile.
void drawPanel(Renderer& renderer, const Panel& panel, Strip& strip) {
    const int from = std::max(strip.top - panel.y, 0);
    const int to = std::min(strip.top + strip.size.height - panel.y, panel.size.height);
    if (from >= to) return;
    for (int x = 0; x < panel.size.width; x += kTileSide) {
        const scene::Size part{std::min(kTileSide, panel.size.width - x), to - from};
        strip.put(settled(renderer, panel.scene, {panel.size, x, from, part}), panel.x + x, panel.y + from);
    }
}

void drawStill(const Still& still, const platform::ByteSink& bytes, const ProgressReport& progress) {
    const platform::OffscreenContext context;
    Renderer renderer(context.loader());
    PngRows png(still.size, bytes, still.dotsPerInch);
    for (int top = 0; top < still.size.height; top += kTileSide) {
        Strip strip{top, {still.size.width, std::min(kTileSide, still.size.height - top)}, {}};
        strip.rgba.assign(
            4 * static_cast<std::size_t>(strip.size.width) * static_cast<std::size_t>(strip.size.height), 0);
        for (const Panel& panel : still.panels)
            drawPanel(renderer, panel, strip);
        png.write(strip.rgba);
        if (progress) progress(static_cast<double>(top + strip.size.height) / still.size.height);
    }
    png.finish();
}

}  // namespace

Still stillOf(std::vector<scene::Scene> scenes, scene::Size each) {
    const auto count = static_cast<int>(scenes.size());
    const int columns = std::max(1, static_cast<int>(std::ceil(std::sqrt(count)))),
              rows = (count + columns - 1) / columns;
    Still still{{columns * each.width, rows * each.height}, {}, 0};
    for (int i = 0; i < count; ++i) {
        still.panels.push_back({std::move(scenes[static_cast<std::size_t>(i)]), i % columns * each.width,
                                i / columns * each.height, each});
    }
    return still;
}

void writeStill(const Still& still, const std::filesystem::path& file, const ProgressReport& progress) {
    platform::writeFileAtomically(
        file, [&](const platform::ByteSink& bytes) { drawStill(still, bytes, progress); });
}

std::string stillPng(const Still& still, const ProgressReport& progress) {
    std::string png;
    drawStill(
        still, [&](std::string_view bytes) { png += bytes; }, progress);
    return png;
}

}  // namespace bandwright::render
