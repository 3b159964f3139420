#pragma once

#include <memory>

#include "render/image.hpp"
#include "scene/scene.hpp"
#include "scene/unwrap.hpp"

/// Textures for other programs, drawn by the shaders that draw the ring, so that they show the same patterns.
namespace bandwright::render {

/// Makes an OpenGL context of its own, current until it ends. Throws std::runtime_error where there is none.
class Baker {
  public:
    Baker();
    ~Baker();
    Baker(const Baker&) = delete;
    Baker& operator=(const Baker&) = delete;

    /// Of a body laid flat (scene/unwrap.hpp) of a ring with this extent. The image's first row is at 0 of
    /// the texture's second coordinate. Around what is covered the nearest colour goes on.
    Image bake(const scene::Body& flat, const scene::Extent& extent, scene::Size size, scene::Texture what);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace bandwright::render
