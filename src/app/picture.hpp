#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/ring.hpp"
#include "render/still.hpp"
#include "scene/scene.hpp"
#include "trade/catalogue.hpp"

/// The command `picture`. Private to the room.
namespace bandwright::app {

struct PictureCall {
    std::string out;
    int width = 1600, height = 1200;
    scene::Camera camera;
    std::vector<std::string> views;  ///< names of viewNames(); one for each panel
    std::string studio = "tent";
    bool transparent = false, scaleBar = false, wallMap = false, turntable = false;
    int frames = 72;
    double minutesDark = 0;
    double dotsPerInch = 0;  ///< the ring is true to scale at this resolution; 0 = as the zoom says
};

/// The names of the views and of the lights.
std::vector<std::string> viewNames();
std::vector<std::string> studioNames();

/// Throws InputError before anything is built if the picture cannot be drawn.
void requireDrawable(const PictureCall& call);

/// Shows its progress on stderr if that is a terminal. Throws InputError, or std::runtime_error without
/// OpenGL.
void writePicture(const PictureCall& call, const design::Design& design, const trade::Catalogue& catalogue,
                  design::Stage stage);

/// The picture that writePicture would write, to be drawn by whoever has an OpenGL context. Throws
/// InputError.
render::Still stillFor(const PictureCall& call, const design::Design& design,
                       const trade::Catalogue& catalogue, design::Stage stage);

/// The same of a turntable. Throws InputError.
render::TurntablePainting turntableFor(const PictureCall& call, const design::Design& design,
                                       const trade::Catalogue& catalogue, design::Stage stage);

/// One view of the finished ring in the light tent. Throws InputError where there is none of that name.
scene::Scene sceneOf(const design::Design& design, const trade::Catalogue& catalogue,
                     const std::string& view);

}  // namespace bandwright::app
