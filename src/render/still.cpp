#include "render/still.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "platform/atomic_file.hpp"
#include "platform/offscreen_context.hpp"
#include "png_rows.hpp"
#include "render/renderer.hpp"

namespace bandwright::render {

namespace {

constexpr int kTileSide = 1024;

// How many bands of this height a still has.
int bandsOf(const Still& still) {
    return (still.size.height + kTileSide - 1) / kTileSide;
}

// What a panel shows in the band that begins at `top`, tile by tile.
void addTiles(const Panel& panel, int top, std::vector<std::pair<const Panel*, Tile>>& tiles) {
    const int from = std::max(top - panel.y, 0), to = std::min(top + kTileSide - panel.y, panel.size.height);
    if (from >= to) return;
    for (int x = 0; x < panel.size.width; x += kTileSide)
        tiles.push_back(
            {&panel, {panel.size, x, from, {std::min(kTileSide, panel.size.width - x), to - from}}});
}

void drawStill(const Still& still, const platform::ByteSink& bytes, const ProgressReport& progress) {
    const platform::OffscreenContext context;
    Renderer renderer(context.loader());
    StillPainting painting(still, bytes);
    double told = 0;
    while (!painting.advance(renderer)) {
        if (!progress || painting.share() == told) continue;
        told = painting.share();
        progress(told);
    }
    if (progress) progress(1);
}

}  // namespace

struct StillPainting::State {
    State(Still wanted, const platform::ByteSink& bytes)
        : still(std::move(wanted)), png(still.size, bytes, still.dotsPerInch) {
        beginBand();
    }
    void beginBand() {
        const int top = band * kTileSide;
        const scene::Size strip{still.size.width, std::min(kTileSide, still.size.height - top)};
        rgba.assign(4 * static_cast<std::size_t>(strip.width) * static_cast<std::size_t>(strip.height), 0);
        tiles.clear();
        at = 0;
        for (const Panel& panel : still.panels)
            addTiles(panel, top, tiles);
    }
    void put(const Image& image, int x, int y) {
        for (int row = 0; row < image.size.height; ++row) {
            const std::size_t place =
                4 * (static_cast<std::size_t>(y + row) * static_cast<std::size_t>(still.size.width) +
                     static_cast<std::size_t>(x));
            std::copy_n(image.pixel(0, row), 4 * static_cast<std::size_t>(image.size.width), &rgba[place]);
        }
    }

    Still still;
    PngRows png;
    int band = 0;
    std::vector<std::uint8_t> rgba;                    // of the band
    std::vector<std::pair<const Panel*, Tile>> tiles;  // of the band
    std::size_t at = 0;                                // the tile being drawn
};

StillPainting::StillPainting(Still still, const std::function<void(std::string_view)>& bytes)
    : state_(std::make_unique<State>(std::move(still), bytes)) {}
StillPainting::~StillPainting() = default;
StillPainting::StillPainting(StillPainting&&) noexcept = default;
StillPainting& StillPainting::operator=(StillPainting&&) noexcept = default;

bool StillPainting::advance(Renderer& renderer) {
    State& now = *state_;
    const int bands = bandsOf(now.still);
    if (now.band == bands) return true;
    if (now.at < now.tiles.size()) {
        const auto& [panel, tile] = now.tiles[now.at];
        renderer.draw(panel->scene, tile, Quality::Still);
        if (!renderer.settled()) return false;
        now.put(renderer.read(), panel->x + tile.x, panel->y + tile.y - now.band * kTileSide);
        ++now.at;
    }
    if (now.at < now.tiles.size()) return false;
    now.png.write(now.rgba);
    if (++now.band < bands) {
        now.beginBand();
        return false;
    }
    now.png.finish();
    return true;
}

double StillPainting::share() const {
    const double inBand = state_->tiles.empty()
                              ? 0
                              : static_cast<double>(state_->at) / static_cast<double>(state_->tiles.size());
    return std::min(1.0, (state_->band + inBand) / bandsOf(state_->still));
}

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
