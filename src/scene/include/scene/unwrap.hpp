#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "geometry/part.hpp"
#include "scene/scene.hpp"

/// A part laid flat, so that a picture of its surface can be wrapped round it.
namespace bandwright::scene {

/// What a texture tells at each place of a surface.
enum class Texture : std::uint8_t {
    Colour,   ///< the share of white light that comes back straight, as sRGB
    Glow,     ///< the colour of the light given in the dark, as sRGB
    Surface,  ///< green: roughness, blue: 1 where it is metal
    Relief,   ///< the normal: red across, green up, blue out of the surface
};

/// The textures that a material's pattern needs; none where plain numbers say it all.
std::vector<Texture> texturesOf(const Material& material);

/// The place of a vertex in the texture, 0..1 across and down; across goes on beyond 1 where the surface
/// comes round to where it began, and the texture repeats.
struct Corner {
    std::uint32_t vertex = 0;  ///< of the mesh
    std::array<float, 2> place{};
    /// In the surface, to the right in the texture; then 1 or -1: the texture's way up is that times the
    /// normal cross the tangent (glTF 2.0, 3.7.2.1).
    std::array<float, 4> tangent{};
};

/// No two triangles lie on one another, and none is drawn smaller or larger than by a factor of about 1.5.
struct Unwrapped {
    Size size;                                            ///< of the texture, pixels
    std::vector<Corner> corners;                          ///< a vertex has one for each chart that it lies in
    std::vector<std::array<std::uint32_t, 3>> triangles;  ///< corners, in the mesh's order
};

/// With this many pixels a mm, or fewer where the texture would be larger than `most` pixels either way.
/// Surfaces turned about the ring's axis become strips as long as the texture is wide; all others are cut
/// into what faces one of six directions and projected along it.
Unwrapped unwrapped(const geometry::Mesh& mesh, double pixelsPerMm, int most);

/// The body as the renderer takes it, with the corners' places where the openness and the wall of a vertex
/// stand, for render/bake.hpp.
Body flatBody(const geometry::Part& part, const Unwrapped& flat, Material material);

}  // namespace bandwright::scene
