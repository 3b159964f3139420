#pragma once

#include <filesystem>
#include <functional>
#include <vector>

#include "scene/scene.hpp"

/// Pictures to keep: large stills of one view or several, turntables. No display is needed. All throw
/// std::runtime_error when there is no OpenGL, InputError when the file cannot be written; the file is whole
/// or the old one.
namespace bandwright::render {

/// One view of a still.
struct Panel {
    scene::Scene scene;
    int x = 0, y = 0;  ///< pixels from the still's top left corner
    scene::Size size;
};

struct Still {
    scene::Size size;
    std::vector<Panel> panels;  ///< none over another; what none covers stays clear
    double dotsPerInch = 0;     ///< at which it is meant to be shown, told in the file; 0 = not told
};

/// The scenes side by side, in rows as even as can be, each of the size given.
Still stillOf(std::vector<scene::Scene> scenes, scene::Size each);

/// Called with the share that is done, 0..1.
using ProgressReport = std::function<void(double)>;

/// Draws it in tiles and writes it as PNG, band by band: the memory needed grows with its width alone.
void writeStill(const Still& still, const std::filesystem::path& file, const ProgressReport& progress = {});

struct Turntable {
    int frames = 72;        ///< one whole turn
    int milliseconds = 50;  ///< each is shown
    float quality = 85;     ///< of WebP, 0..100
};

/// The ring turned once round, as an animated WebP that starts again at its end.
void writeTurntable(const scene::Scene& scene, scene::Size size, const Turntable& turntable,
                    const std::filesystem::path& file, const ProgressReport& progress = {});

}  // namespace bandwright::render
