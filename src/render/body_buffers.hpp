#pragma once

#include <array>
#include <memory>
#include <vector>

#include "gl_objects.hpp"
#include "scene/scene.hpp"

namespace bandwright::render {

/// One body on the graphics hardware.
struct BodyBuffers {
    std::shared_ptr<const scene::BodyMesh> mesh;  ///< kept alive, so that no other mesh gets its address
    scene::Material material;
    GlVertexArray layout;
    GlBuffer vertices, indices, facets;  ///< facets of a gem only
    GlTexture skin;                      ///< of a metal that has one
    std::array<Runs, scene::kZones> zones;
};

/// Brings `buffers` up to date with the scene's bodies; unchanged ones are not copied again.
void update(std::vector<BodyBuffers>& buffers, const std::vector<scene::Body>& bodies);

}  // namespace bandwright::render
