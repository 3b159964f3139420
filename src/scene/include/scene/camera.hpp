#pragma once

#include <array>
#include <optional>

#include "geometry/vector.hpp"

/// Where the picture is seen from. Two frames: the ring's own (axis z, mm) and the stage's, in which the ring
/// stands on the floor of the light tent: y up, the ring's axis along z, the origin in the ring's middle, mm.
namespace bandwright::scene {

/// The size of a picture, in pixels.
struct Size {
    int width = 0, height = 0;

    bool operator==(const Size&) const = default;
};

/// An orbit round the ring's middle. Angles in degrees.
struct Camera {
    double azimuth = 52;      ///< 0 looks along the ring's axis into the bore, 90 at the outside
    double elevation = 30;    ///< above the floor, -89..89
    double zoom = 1;          ///< 1 fits the ring into the picture with a margin; 2 shows it twice as large
    double fieldOfView = 20;  ///< the whole angle seen over the smaller side of the picture
    std::array<double, 2>
        pan{};  ///< shift of the picture, in shares of its smaller side, to the right and up

    bool operator==(const Camera&) const = default;
};

/// What a picture must hold, in the stage's frame: the smallest upright cylinder round the ring's axis.
struct Extent {
    double radius = 11;     ///< mm from the axis
    double halfWidth = 4;   ///< mm along the axis from the middle
    double boreRadius = 9;  ///< mm, the least distance of the band from the axis
    double floor = -11;     ///< mm, the height of the floor the ring stands on, below its middle

    bool operator==(const Extent&) const = default;
};

/// Column-major, for column vectors, as OpenGL takes it.
using Matrix4 = std::array<float, 16>;

/// A camera set up for one picture.
struct Viewpoint {
    geometry::Vec3 eye;                  ///< mm, stage frame
    geometry::Vec3 right, up, backward;  ///< unit, stage frame; backward points from the ring to the eye
    Matrix4 view;                        ///< stage -> eye
    Matrix4 projection;                  ///< eye -> clip, OpenGL's cube
    double pixelsPerMm = 1;              ///< at the ring's middle
};

Viewpoint viewpoint(const Camera& camera, const Extent& extent, Size size);

/// Where a point of the stage lies in the picture, in pixels from its top left corner; nothing when it is
/// behind the eye.
std::optional<std::array<double, 2>> project(const Viewpoint& view, Size size, geometry::Vec3 stagePoint);

/// A half-line from the eye through a pixel of the picture.
struct Ray {
    geometry::Vec3 from, direction;  ///< stage frame; direction is unit
};
Ray rayThrough(const Viewpoint& view, Size size, double pixelX, double pixelY);

/// Turns a point of the ring into the stage's frame and back, when the place `top` degrees round the ring
/// stands uppermost.
geometry::Vec3 toStage(geometry::Vec3 ringPoint, double top);
geometry::Vec3 toRing(geometry::Vec3 stagePoint, double top);

}  // namespace bandwright::scene
