#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "geometry/triangles.hpp"
#include "scene/camera.hpp"
#include "scene/material.hpp"
#include "trade/catalogue.hpp"

/// What a picture shows, as plain data without OpenGL. The same scene always gives the same picture.
namespace bandwright::scene {

/// A part's surface as the graphics hardware takes it. Ring frame, mm.
struct BodyMesh {
    struct Vertex {
        std::array<float, 3> position{};
        std::array<float, 3> normal{};
        float openness =
            1;  ///< share of the surroundings that the surface sees past channel sides and hole walls, 0..1
        float wall = 0;  ///< mm of metal under the surface, for the wall map
    };
    std::vector<Vertex> vertices;
    std::vector<std::uint32_t> indices;     ///< three a triangle, counter-clockwise seen from outside
    std::vector<geometry::MeshFace> faces;  ///< what made each run of triangles
    bool hasWalls = false;  ///< whether the vertices' walls are known; if not, no map is painted
};

/// The mesh is shared and never changes. The same pointer means the same surface, which then need not be
/// copied to the graphics hardware again.
struct Body {
    std::string name;  ///< "band", "fill-1", ...
    geometry::PartRole role = geometry::PartRole::Band;
    std::shared_ptr<const BodyMesh> mesh;
    Material material;
    geometry::Vec3 apart{};  ///< mm by which it leaves its place in the exploded view; ring frame
    bool isPart = true;  ///< of the ring; false = shown beside it, reaches beyond the extent, is not picked

    bool operator==(const Body&) const = default;
};

/// A witness line between two points, drawn over the ring with end caps. Ring frame, mm. The picture holds
/// the line only; the window writes labels at `project`ed points.
struct Mark {
    geometry::Vec3 from, to;
    std::array<double, 3> colour{};  ///< sRGB, 0..1
    std::string label;

    bool operator==(const Mark&) const = default;
};

enum class Backdrop : std::uint8_t { Tent, Transparent };

/// The bounds of the wall map's colours, mm of metal; or of deviations, mm, from missing to extra metal.
struct WallScale {
    double least = 0.4;     ///< at and below: the first colour
    double most = 2.0;      ///< at and above: the last colour
    bool legend = false;    ///< draw the scale itself into the picture
    bool twoSided = false;  ///< of deviations: pale where there is none

    bool operator==(const WallScale&) const = default;
};

/// What lights the ring. As in a photographer's studio, all lights keep their place relative to the camera
/// while the ring turns.
enum class Studio : std::uint8_t {
    Tent,       ///< a light tent: soft boxes and dark cards round a pale floor
    Even,       ///< the same light from everywhere, for comparing colours
    Window,     ///< one tall window to the left and a dim room
    DarkField,  ///< strips of light from the sides and below against black, for clear stones
};

/// The wall map's colour at a share 0 (thin, bright) .. 1 (thick, dark) of its scale; linear sRGB.
trade::LinearRgb wallColour(double share);
/// The colour of deviations at a share 0 (missing metal, blue) .. 0.5 (none, pale) .. 1 (extra, red).
trade::LinearRgb deviationColour(double share);
/// That of the scale's kind.
trade::LinearRgb scaleColour(const WallScale& scale, double share);

/// How the scene is looked at; may change every frame.
struct View {
    Camera camera;
    Studio studio = Studio::Tent;
    Backdrop backdrop = Backdrop::Tent;
    bool lightsOut = false;         ///< only what glows is seen
    double minutesDark = 0;         ///< since the lights went out: what glows fades
    std::optional<double> cutAway;  ///< mm along the ring's axis: what lies beyond, towards +z, is taken away
    std::optional<double> cutThrough;  ///< degrees round the ring: a cut along the axis; the half ring that
                                       ///< lies before it, at lesser angles, is taken away
    double spread = 0;      ///< how far the parts stand from one another: 0 in their places, 1 apart
    bool scaleBar = false;  ///< a bar of a round number of mm, true at the ring's middle
    std::optional<WallScale> wallMap;  ///< paint the metal by its wall instead

    bool operator==(const View&) const = default;
};

struct Scene {
    std::vector<Body> bodies;
    std::vector<Mark> marks;
    Extent extent;
    double top = 0;  ///< degrees round the ring of the place that stands uppermost, near its first stone
    View view;

    bool operator==(const Scene&) const = default;
};

/// How far the parts reach, in their places.
Extent extentOf(const std::vector<geometry::Part>& parts);

/// Everything but the marks. `walls` holds, for each part, the wall in mm at each vertex, or is empty; it is
/// needed for the wall map only. Throws InputError when a part's material is not in the catalogue.
Scene makeScene(const design::Design& design, const std::vector<geometry::Part>& parts,
                const trade::Catalogue& catalogue, const View& view = {},
                const std::vector<std::vector<float>>& walls = {});

/// A plain finger that fills the bore, its tip towards the ring's left and its back up, so that the ring's
/// width is seen on a hand. `top` as in the scene.
Body fingerIn(const Extent& extent, double top);

/// A real body alone, laid into the ring's frame, looked at as the ring is. `deviations` holds mm at each of
/// its points. Edges sharper than about 40 degrees are shown as such. Throws InputError when the band's metal
/// is not in the catalogue.
Scene bodyScene(const design::Design& design, const geometry::Triangles& body,
                const std::vector<double>& deviations, const trade::Catalogue& catalogue, const View& view);

/// What lies on the far side, where dot(normal, p) > offset, is taken away. Ring frame, mm.
struct CutPlane {
    geometry::Vec3 normal;
    double offset = 0;
};
/// The cuts that a view asks for.
std::vector<CutPlane> cutPlanes(const View& view);

/// How far the body is moved from its place, mm, ring frame.
geometry::Vec3 shift(const Scene& scene, const Body& body);

/// The scene's extent, with its parts moved apart as the view asks.
Extent heldExtent(const Scene& scene);

/// The camera set up for this scene, so that all parts are in the picture, however far apart they are.
Viewpoint viewpoint(const Scene& scene, Size size);

/// The zoom at which 1 mm at the ring's middle takes this many pixels. With the pixels per mm of a screen it
/// shows the ring at its own size.
double zoomForScale(const Scene& scene, Size size, double pixelsPerMm);

/// The place on the ring that a pixel of the picture shows.
struct Pick {
    std::size_t body = 0;  ///< in Scene::bodies
    geometry::Tag tag;
    geometry::Vec3 point;   ///< ring frame, mm; of the part in its place
    geometry::Vec3 normal;  ///< unit, ring frame, out of the part
};
/// Nothing beside the ring, and where the picture shows the inside of a part that is cut.
std::optional<Pick> pick(const Scene& scene, Size size, double pixelX, double pixelY);

}  // namespace bandwright::scene
