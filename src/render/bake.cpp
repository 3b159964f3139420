#include "render/bake.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <vector>

#include "body_buffers.hpp"
#include "passes.hpp"
#include "platform/offscreen_context.hpp"
#include "render/renderer.hpp"

namespace bandwright::render {

namespace {

constexpr int kOver = 2;    // pixels drawn for each one of the texture, either way
constexpr int kSpread = 4;  // texels by which colours go on beyond the edge; charts lie further apart

std::vector<std::string> definesFor(scene::Texture what) {
    switch (what) {
        case scene::Texture::Surface:
            return {"BAKED", "SURFACE"};
        case scene::Texture::Relief:
            return {"BAKED", "RELIEF"};
        case scene::Texture::Colour:
        case scene::Texture::Glow:
            break;
    }
    return {"BAKED"};
}

/// A texel as sums over what is drawn for it.
struct Sum {
    std::array<double, 3> of{};
    int count = 0;
};

/// From sRGB to light and back (IEC 61966-2-1); other textures are averaged as they are.
double decoded(double share) {
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}
double encoded(double light) {
    return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

std::vector<Sum> gathered(const std::vector<std::uint8_t>& drawn, scene::Size size, bool light) {
    std::array<double, 256> meant{};
    for (std::size_t i = 0; i < meant.size(); ++i) {
        const double share = static_cast<double>(i) / 255;
        meant[i] = light ? decoded(share) : share;
    }
    std::vector<Sum> sums(static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height));
    std::size_t at = 0;
    for (int y = 0; y < kOver * size.height; ++y) {
        for (int x = 0; x < kOver * size.width; ++x, at += 4) {
            if (drawn[at + 3] == 0) continue;
            Sum& sum = sums[static_cast<std::size_t>(y / kOver) * static_cast<std::size_t>(size.width) +
                            static_cast<std::size_t>(x / kOver)];
            for (std::size_t k = 0; k < 3; ++k)
                sum.of[k] += meant[drawn[at + k]];
            ++sum.count;
        }
    }
    for (Sum& sum : sums)
        for (double& value : sum.of)
            value /= std::max(sum.count, 1);
    return sums;
}

/// Each texel without a colour beside some with one takes their mean.
void spread(std::vector<Sum>& sums, scene::Size size) {
    const std::vector<Sum> before = sums;
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            const auto at = [&](int column, int row) {
                return static_cast<std::size_t>(row) * static_cast<std::size_t>(size.width) +
                       static_cast<std::size_t>(column);
            };
            Sum& sum = sums[at(x, y)];
            if (sum.count > 0) continue;
            for (int dy = -1; dy <= 1; ++dy) {
                for (int dx = -1; dx <= 1; ++dx) {
                    const int row = y + dy, column = (x + dx + size.width) % size.width;
                    if (row < 0 || row >= size.height) continue;
                    const Sum& other = before[at(column, row)];
                    if (other.count == 0) continue;
                    for (std::size_t k = 0; k < 3; ++k)
                        sum.of[k] += other.of[k];
                    ++sum.count;
                }
            }
            for (double& value : sum.of)
                value /= std::max(sum.count, 1);
        }
    }
}

}  // namespace

struct Baker::State {
    platform::OffscreenContext context;
    Renderer loaded{context.loader()};  ///< finds OpenGL's functions
    std::map<std::vector<std::string>, ScenePasses> passes;
    std::vector<BodyBuffers> bodies;
};

Baker::Baker() : state_(std::make_unique<State>()) {}
Baker::~Baker() = default;

Image Baker::bake(const scene::Body& flat, const scene::Extent& extent, scene::Size size,
                  scene::Texture what) {
    State& now = *state_;
    const auto [passes, added] =
        now.passes.try_emplace(definesFor(what), std::filesystem::path(), definesFor(what));
    update(now.bodies, {flat});
    const scene::Size large{kOver * size.width, kOver * size.height};
    const auto texture = GlTexture::make();
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, large.width, large.height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                 nullptr);
    const auto framebuffer = GlFramebuffer::make();
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
    glViewport(0, 0, large.width, large.height);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_CULL_FACE);
    setFixedState();
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT);
    passes->second.drawFlat(now.bodies.front(), extent, what == scene::Texture::Glow);
    std::vector<std::uint8_t> drawn(4 * static_cast<std::size_t>(large.width) *
                                    static_cast<std::size_t>(large.height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, large.width, large.height, GL_RGBA, GL_UNSIGNED_BYTE, drawn.data());
    glBindFramebuffer(GL_FRAMEBUFFER, 0);

    const bool light = what == scene::Texture::Colour || what == scene::Texture::Glow;
    std::vector<Sum> sums = gathered(drawn, size, light);
    for (int i = 0; i < kSpread; ++i)
        spread(sums, size);
    Image image{size, {}};
    image.rgba.reserve(4 * sums.size());
    for (const Sum& sum : sums) {
        for (const double value : sum.of)
            image.rgba.push_back(
                static_cast<std::uint8_t>(std::lround(255 * (light ? encoded(value) : value))));
        image.rgba.push_back(255);
    }
    return image;
}

}  // namespace bandwright::render
