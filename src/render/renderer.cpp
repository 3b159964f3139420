#include "render/renderer.hpp"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <stdexcept>

#include "body_buffers.hpp"
#include "passes.hpp"
#include "platform/offscreen_context.hpp"
#include "ring_box.hpp"
#include "shaders.hpp"
#include "studio_light.hpp"
#include "targets.hpp"

namespace bandwright::render {

namespace {

constexpr int kStillPasses = 12;
constexpr int kMovingBounces = 4, kStillBounces = 7;

// The i-th point of Halton's sequence with this base, in [0, 1).
double halton(int i, int base) {
    double value = 0, share = 1;
    for (; i > 0; i /= base) {
        share /= base;
        value += share * (i % base);
    }
    return value;
}

PassOptions stillPass(int number) {
    PassOptions options;
    options.number = number;
    options.jitter = {halton(number + 1, 2) - 0.5, halton(number + 1, 3) - 0.5};
    options.hue = halton(number + 1, 5) - 0.5;
    options.bounces = kStillBounces;
    options.fine = true;
    return options;
}

PassOptions movingPass() {
    PassOptions options;
    options.bounces = kMovingBounces;
    return options;
}

void onlyWithin(const PixelBox& box) {
    glEnable(GL_SCISSOR_TEST);
    glScissor(box.x, box.y, box.size.width, box.size.height);
}

void leaveContext() {
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glUseProgram(0);
    glBindVertexArray(0);
    glActiveTexture(GL_TEXTURE0);
}

std::filesystem::path shaderFolder(const Renderer::Options& options) {
    if (!options.shaderFolder.empty()) return options.shaderFolder;
    const char* named =
        std::getenv("BANDWRIGHT_SHADERS");  // NOLINT(concurrency-mt-unsafe): read once, at start
    return named == nullptr ? "" : named;
}

}  // namespace

struct Renderer::State {
    State(const std::filesystem::path& folder, std::optional<bool> sampled)
        : shaders(folder),
          light(folder),
          passes(folder),
          gather("screen.vert", "gather.frag", folder),
          present("screen.vert", "present.frag", folder),
          over("screen.vert", "over.frag", folder),
          screen(GlVertexArray::make()),
          targets(sampled) {
        if (!shaders.empty()) written = newestShader(shaders);
    }

    void reloadShaders();
    void copy(const Program& program, const TextureTarget& from, const TextureTarget& to);
    void drawPass(const PassFrame& frame, const TextureTarget& to, const PixelBox& box);
    void drawSampled(const PassFrame& frame, const TextureTarget& to, const PixelBox& box);
    void gatherPass(const TextureTarget& pass, int number);

    std::filesystem::path shaders;
    std::filesystem::file_time_type written;
    StudioLight light;
    GlTexture pixels;  ///< given, not drawn
    ScenePasses passes;
    Program gather, present, over;
    GlVertexArray screen;
    Targets targets;
    std::vector<BodyBuffers> bodies;
    std::optional<scene::Scene> drawn;  // what the sum of passes shows
    Tile tile;
    int passesDone = 0;
    bool showsMoving = false;  // the last picture is in the target for moving ones
};

void Renderer::State::reloadShaders() {
    if (shaders.empty() || newestShader(shaders) == written) return;
    written = newestShader(shaders);
    try {
        light = StudioLight(shaders);
        passes = passes.reloaded();
        gather = Program("screen.vert", "gather.frag", shaders);
        present = Program("screen.vert", "present.frag", shaders);
        over = Program("screen.vert", "over.frag", shaders);
        drawn.reset();
    } catch (const std::runtime_error& problem) {  // someone is still writing: keep the shaders that work
        std::fprintf(stderr, "%s\n", problem.what());
    }
}

void Renderer::State::copy(const Program& program, const TextureTarget& from, const TextureTarget& to) {
    glBindFramebuffer(GL_FRAMEBUFFER, to.framebuffer);
    glActiveTexture(GL_TEXTURE0 + kSourceUnit);
    glBindTexture(GL_TEXTURE_2D, from.texture);
    program.use();
    glBindVertexArray(screen);
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

// Only the ring's edges need several samples. A pixel with four samples costs about as much as four pixels,
// and nothing behind the ring is sharp.
void Renderer::State::drawSampled(const PassFrame& frame, const TextureTarget& to, const PixelBox& box) {
    const TextureTarget& spare = &to == &targets.shown() ? targets.pass() : targets.shown();
    passes.drawBackground(frame);
    onlyWithin(box);
    targets.beginSampled();
    passes.drawRing(frame, bodies);
    passes.drawMarks(frame);
    targets.resolve(spare, box);
    glEnable(GL_BLEND);
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDisable(GL_DEPTH_TEST);
    copy(over, spare, to);
    glDisable(GL_BLEND);
    glDisable(GL_SCISSOR_TEST);
}

void Renderer::State::drawPass(const PassFrame& frame, const TextureTarget& to, const PixelBox& box) {
    const bool first = frame.options.number == 0;
    if (!first) onlyWithin(box);
    targets.begin(to, frame.tile.size);
    if (first && !targets.drawsInSoftware()) {
        drawSampled(frame, to, box);
    } else {
        passes.draw(frame, bodies);
    }
    glDisable(GL_DEPTH_TEST);
}

void Renderer::State::gatherPass(const TextureTarget& pass, int number) {
    if (number > 0) {
        glEnable(GL_BLEND);
        glBlendFunc(GL_ONE, GL_ONE);
    }
    copy(gather, pass, targets.sum());
    glDisable(GL_BLEND);
    if (&pass == &targets.shown()) return;
    present.use();
    present.set("passes", static_cast<float>(number + 1));
    copy(present, targets.sum(), targets.shown());
}

Renderer::Renderer(platform::GlLoader load, const Options& options) {
    loadOpenGl(load);
    state_ = std::make_unique<State>(shaderFolder(options), options.sampled);
    leaveContext();
}
Renderer::~Renderer() = default;
Renderer::Renderer(Renderer&&) noexcept = default;
Renderer& Renderer::operator=(Renderer&&) noexcept = default;

unsigned Renderer::draw(const scene::Scene& scene, scene::Size size, Quality quality) {
    const scene::Size fitting{std::max(size.width, 1), std::max(size.height, 1)};
    return draw(scene, Tile{fitting, 0, 0, fitting}, quality);
}

unsigned Renderer::draw(const scene::Scene& scene, const Tile& tile, Quality quality) {
    State& s = *state_;
    const scene::Size fitting = tile.size;
    s.reloadShaders();
    const bool resized = s.targets.fit(fitting);
    const bool moving = quality == Quality::Moving;
    if (moving || resized || s.tile != tile || s.drawn != scene) {
        s.drawn = scene;
        s.tile = tile;
        s.passesDone = 0;
    }
    if (settled()) return s.targets.shown().texture;

    update(s.bodies, scene.bodies);
    setFixedState();
    s.light.bind(scene.view.studio, scene.extent);
    const bool opaque = scene.view.backdrop == scene::Backdrop::Tent;
    const bool atOnce = moving && opaque && tile.whole == tile.size;
    const scene::Size part = atOnce ? s.targets.movingSize() : fitting;
    const Tile drawnTile = atOnce ? Tile{part, 0, 0, part} : tile;
    PassOptions options = moving ? movingPass() : stillPass(s.passesDone);
    options.scale = static_cast<double>(part.height) / fitting.height;
    // The first pass in front of paper can be shown as it is.
    const bool first = options.number == 0;
    const TextureTarget& target = atOnce            ? s.targets.moving()
                                  : first && opaque ? s.targets.shown()
                                                    : s.targets.pass();
    const PixelBox box = ringBox(scene, drawnTile);
    const auto before = std::chrono::steady_clock::now();
    s.drawPass(s.passes.begin(scene, drawnTile, options), target, box);
    // Later passes add only within the box.
    if (opaque) onlyWithin(box);
    if (!atOnce) s.gatherPass(target, options.number);
    glDisable(GL_SCISSOR_TEST);
    if (!moving) ++s.passesDone;
    if (atOnce && s.targets.drawsInSoftware()) {
        finishDrawing();
        s.targets.pace(
            std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - before).count());
    }

    leaveContext();
    s.showsMoving = atOnce;
    return (atOnce ? target : s.targets.shown()).texture;
}

bool Renderer::settled() const {
    return state_->passesDone >= kStillPasses;
}

scene::Size Renderer::pictureSize() const {
    return state_->showsMoving ? state_->targets.movingSize() : state_->targets.size();
}

Image Renderer::read() const {
    const scene::Size size = state_->targets.size();
    const std::size_t stride = 4 * static_cast<std::size_t>(size.width),
                      rows = static_cast<std::size_t>(size.height);
    std::vector<std::uint8_t> upward(stride * rows);
    if (state_->showsMoving) state_->targets.showMoving();
    glBindFramebuffer(GL_FRAMEBUFFER, state_->targets.shown().framebuffer);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, size.width, size.height, GL_RGBA, GL_UNSIGNED_BYTE, upward.data());
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    Image image{size, {}};
    image.rgba.reserve(upward.size());
    for (std::size_t row = rows; row-- > 0;) {
        const auto start = upward.begin() + static_cast<std::ptrdiff_t>(row * stride);
        image.rgba.insert(image.rgba.end(), start, start + static_cast<std::ptrdiff_t>(stride));
    }
    return image;
}

unsigned Renderer::textureOf(std::span<const std::uint8_t> rgba, scene::Size size) {
    GlTexture& texture = state_->pixels;
    if (texture == 0) texture = GlTexture::make();
    glBindTexture(GL_TEXTURE_2D, texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, size.width, size.height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                 rgba.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindTexture(GL_TEXTURE_2D, 0);
    return texture;
}

Image render(const scene::Scene& scene, scene::Size size) {
    const platform::OffscreenContext context;
    Renderer renderer(context.loader());
    do {
        renderer.draw(scene, size, Quality::Still);
    } while (!renderer.settled());
    return renderer.read();
}

}  // namespace bandwright::render
