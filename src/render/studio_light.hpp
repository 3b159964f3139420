#pragma once

#include <array>
#include <optional>

#include "gl_objects.hpp"
#include "scene/scene.hpp"
#include "shaders.hpp"
#include "targets.hpp"

namespace bandwright::render {

/// The light that falls on the ring, as textures. They are drawn once for each studio, and the floor's shade
/// once for each shape of ring.
class StudioLight {
  public:
    explicit StudioLight(const std::filesystem::path& shaderFolder);

    /// Draws the textures that are still missing and binds all to their units.
    void bind(scene::Studio studio, const scene::Extent& extent);

  private:
    void drawStudio(scene::Studio studio);
    void drawFloorShade(scene::Studio studio, float halfWidth, float boreRadius);

    Program studioProgram_, blurProgram_, floorProgram_;
    GlVertexArray screen_;
    GlFramebuffer framebuffer_;
    GlTexture raw_, blurred_, reflectance_;
    TextureTarget floorShade_;
    std::optional<scene::Studio> drawn_;
    std::array<float, 2> shadedFor_{};  // half width and bore in ring radii
};

}  // namespace bandwright::render
