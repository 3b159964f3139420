#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/ring.hpp"
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
    double dotsPerInch = 0;  ///< the ring at its own size where the picture is shown so; 0 = as the zoom says
};

/// What may be asked to be seen, and under what light.
std::vector<std::string> viewNames();
std::vector<std::string> studioNames();

/// Throws InputError for what cannot be drawn, before anything is built.
void requireDrawable(const PictureCall& call);

/// Shows how far it is on stderr where that is a terminal. Throws InputError, or std::runtime_error without
/// OpenGL.
void writePicture(const PictureCall& call, const design::Design& design, const trade::Catalogue& catalogue,
                  design::Stage stage);

}  // namespace bandwright::app
