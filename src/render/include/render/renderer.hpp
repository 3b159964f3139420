#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>

#include "platform/gl_loader.hpp"
#include "render/image.hpp"
#include "scene/scene.hpp"

/// Turns scenes into pictures with OpenGL 4.1 core.
namespace bandwright::render {

/// A part of a picture that is too large to draw at once.
struct Tile {
    scene::Size whole;
    int x = 0, y = 0;  ///< pixels from the whole's top left corner
    scene::Size size;

    bool operator==(const Tile&) const = default;
};

enum class Quality : std::uint8_t {
    Moving,  ///< one pass with short light paths: for every frame while something changes
    Still,   ///< each call with the same scene refines the picture, until `settled`
};

/// Owns every OpenGL object of the picture. Construct, use and destroy it with the same context current. It
/// changes the context's state and leaves framebuffer 0, no program and no vertex array bound.
class Renderer {
  public:
    struct Options {
        /// Read the shaders from this folder, and again whenever one changes; empty = those built into the
        /// program, or the folder named by the environment variable BANDWRIGHT_SHADERS.
        std::filesystem::path shaderFolder;
        /// Draw edges with several samples a pixel and moving pictures at full size. Unless set: yes on a
        /// graphics processor, no where a processor draws.
        std::optional<bool> sampled;
    };

    /// `load` finds an OpenGL function of the current context by its name (the window toolkit's, or EGL's).
    /// Throws std::runtime_error when the context is older than OpenGL 4.1 or a shader does not compile.
    Renderer(platform::GlLoader load, const Options& options);
    explicit Renderer(platform::GlLoader load) : Renderer(load, Options()) {}
    ~Renderer();
    Renderer(Renderer&&) noexcept;
    Renderer& operator=(Renderer&&) noexcept;

    /// Draws and returns the name of an RGBA8 texture with sRGB-encoded bytes, rows from the bottom, to be
    /// shown at that size. A moving picture drawn by a processor has fewer pixels. The texture belongs to the
    /// renderer and is valid until the next draw.
    unsigned draw(const scene::Scene& scene, scene::Size size, Quality quality = Quality::Still);

    /// The same for a part of a picture; tiles drawn side by side make the whole.
    unsigned draw(const scene::Scene& scene, const Tile& tile, Quality quality = Quality::Still);

    /// Pixels of the texture that the last draw returned.
    scene::Size pictureSize() const;

    /// Whether drawing the last scene again would leave the picture as it is.
    bool settled() const;

    /// The last picture, read back.
    Image read() const;

    /// The name of a texture of these pixels (sRGB, 4 bytes each, rows from the top), which are not changed
    /// by draw. It belongs to the renderer and is valid until the next call.
    unsigned textureOf(std::span<const std::uint8_t> rgba, scene::Size size);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// The settled picture, with a context of its own and without a display: EGL without a surface, or else a
/// hidden window. Throws std::runtime_error when there is neither.
Image render(const scene::Scene& scene, scene::Size size);

}  // namespace bandwright::render
