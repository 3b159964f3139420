#pragma once

#include "gl_objects.hpp"
#include "scene/camera.hpp"

namespace bandwright {

/// A framebuffer with one texture.
struct TextureTarget {
    GlTexture texture;
    GlFramebuffer framebuffer;
};

/// The surfaces a picture goes through. Shaders write light that is ready to be shown, linear; the hardware
/// encodes it.
class Targets {
  public:
    /// Makes them anew when the size is another one. Returns whether it did.
    bool fit(Size size);
    Size size() const { return size_; }

    /// Binds the surface to draw one pass on, cleared to nothing.
    void beginPass() const;
    /// Averages the samples of each pixel into `to`, one of the textures below.
    void resolve(const TextureTarget& to) const;

    const TextureTarget& pass() const { return pass_; }
    const TextureTarget& sum() const { return sum_; }
    const TextureTarget& shown() const { return shown_; }

  private:
    Size size_;
    GlRenderbuffer colour_, depth_;
    GlFramebuffer samples_;
    TextureTarget pass_, sum_, shown_;
};

/// Allocates `texture` and attaches it. Filters linearly, clamps at the edge.
TextureTarget textureTarget(GLenum format, Size size);

/// Throws std::runtime_error when the bound framebuffer cannot be drawn on.
void requireComplete();

}  // namespace bandwright
