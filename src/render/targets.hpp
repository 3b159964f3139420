#pragma once

#include <array>
#include <optional>
#include <vector>

#include "gl_objects.hpp"
#include "ring_box.hpp"
#include "scene/camera.hpp"

namespace bandwright::render {

/// A framebuffer with one texture.
struct TextureTarget {
    GlTexture texture;
    GlFramebuffer framebuffer;
};

/// The surfaces a picture goes through. A pass writes what is shown, already as sRGB; the sum of passes holds
/// linear light.
class Targets {
  public:
    /// `sampled` as in Renderer::Options.
    explicit Targets(std::optional<bool> sampled = {}) : sampledAsked_(sampled) {}

    /// Makes them anew if the size has changed. Returns whether it has.
    bool fit(scene::Size size);
    scene::Size size() const { return size_; }

    /// The size at which a picture is drawn while something moves: a smaller one where a processor draws.
    scene::Size movingSize() const;
    /// Reports how long the last moving picture took. Where a processor draws, pictures become smaller after
    /// several late ones in a row, and larger again when there is time.
    void pace(double milliseconds);
    bool drawsInSoftware() const { return sampled_ == 0; }

    /// Binds one of the targets below, cleared to nothing.
    void begin(const TextureTarget& to, scene::Size size) const;
    /// The same with several samples a pixel, if the device has them: edges are smooth at once.
    void beginSampled() const;
    /// Averages the samples of each pixel of the box into it.
    void resolve(const TextureTarget& to, const PixelBox& box) const;
    /// Stretches `moving` over `shown`.
    void showMoving() const;

    const TextureTarget& pass() const { return pass_; }
    const TextureTarget& moving() const { return sampled_ != 0 ? shown_ : moving_; }
    const TextureTarget& sum() const { return sum_; }
    const TextureTarget& shown() const { return shown_; }

  private:
    void makeMoving();

    std::optional<bool> sampledAsked_;
    scene::Size size_;
    std::size_t pace_ = 0;  ///< step of the moving picture's size
    int wished_ = 0;        ///< frames in a row that asked for another step; the sign says which way
    GlRenderbuffer depth_, colour_, sampledDepth_, movingDepth_;
    GlFramebuffer sampled_;  ///< none where a processor draws
    TextureTarget pass_, sum_, shown_;
    TextureTarget moving_;  ///< where a processor draws
};

/// Allocates `texture` and attaches it. Filters linearly, clamps at the edge.
TextureTarget textureTarget(GLenum format, scene::Size size);

/// Fills a texture of one row, linear light, and leaves none bound.
void fillRow(GLuint texture, const std::vector<std::array<float, 3>>& row);

/// Throws std::runtime_error when the bound framebuffer cannot be drawn on.
void requireComplete();

}  // namespace bandwright::render
