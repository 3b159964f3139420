#include "picture.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <utility>

#include "app/session.hpp"
#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "command_parts.hpp"
#include "render/still.hpp"

namespace bandwright::app {

namespace {

constexpr int kLargest = 8192;
constexpr std::size_t kMostViews = 12;

enum class Named { Corner, Bore, Outside, Above, CutAway, Apart, LightsOut, WallMap };
constexpr std::array<std::pair<Named, const char*>, 8> kViews = {{{Named::Corner, "corner"},
                                                                  {Named::Bore, "bore"},
                                                                  {Named::Outside, "outside"},
                                                                  {Named::Above, "above"},
                                                                  {Named::CutAway, "cut-away"},
                                                                  {Named::Apart, "apart"},
                                                                  {Named::LightsOut, "lights-out"},
                                                                  {Named::WallMap, "wall-map"}}};
constexpr std::array<std::pair<scene::Studio, const char*>, 4> kStudios = {
    {{scene::Studio::Tent, "tent"},
     {scene::Studio::Window, "window"},
     {scene::Studio::DarkField, "dark-field"},
     {scene::Studio::Even, "even"}}};

template <class Table>
std::vector<std::string> names(const Table& table) {
    std::vector<std::string> all;
    all.reserve(table.size());
    for (const auto& [value, name] : table)
        all.emplace_back(name);
    return all;
}

template <class Table>
auto named(const Table& table, const std::string& name, const char* option) {
    for (const auto& [value, known] : table)
        if (name == known) return value;
    const std::vector<std::string> all = names(table);
    throw base::InputError(std::string(option) + ": found " + base::inQuotes(name) + "; allowed is " +
                           base::inWords(std::vector<std::string_view>(all.begin(), all.end()), "or") + ".");
}

/// The angle round the ring at which a cut shows most: through the first stone.
double cutAngle(const design::Design& design, double top) {
    const std::vector<double> angles = design.settings.empty()
                                           ? std::vector<double>{}
                                           : design::placedAngles(design.settings.front().placement);
    return angles.empty() ? top : angles.front();
}

void look(scene::Scene& scene, Named what, const design::Design& design) {
    scene::View& view = scene.view;
    const auto from = [&](double azimuth, double elevation) {
        view.camera.azimuth = azimuth;
        view.camera.elevation = elevation;
    };
    switch (what) {
        case Named::Corner:
        case Named::WallMap:
            break;
        case Named::Bore:
            return from(0, 0);
        case Named::Outside:
            return from(90, 0);
        case Named::Above:
            return from(90, 89);
        case Named::CutAway:
            // The half towards the eye is removed.
            view.cutThrough =
                cutAngle(design, scene.top) + (std::remainder(view.camera.azimuth, 360.0) < 0 ? 180 : 0);
            break;
        case Named::Apart:
            view.spread = 1;
            break;
        case Named::LightsOut:
            view.lightsOut = true;
            break;
    }
}

std::vector<scene::Scene> scenesOf(const PictureCall& call, const design::Design& design,
                                   const trade::Catalogue& catalogue, design::Stage stage) {
    scene::View view;
    view.camera = call.camera;
    view.studio = named(kStudios, call.studio, "--studio");
    view.backdrop = call.transparent ? scene::Backdrop::Transparent : scene::Backdrop::Tent;
    view.scaleBar = call.scaleBar;
    view.minutesDark = call.minutesDark;
    std::vector<Named> wanted;
    for (const std::string& name : call.views)
        wanted.push_back(named(kViews, name, "--view"));
    if (wanted.empty()) wanted.push_back(call.wallMap ? Named::WallMap : Named::Corner);
    const bool maps = call.wallMap || std::ranges::find(wanted, Named::WallMap) != wanted.end();

    const std::vector<geometry::Part> parts = geometry::buildParts(design, stage, {.apart = false});
    std::vector<std::vector<float>> walls;
    if (maps) walls = wallsOf(parts, design, stage);
    const scene::Scene plain = scene::makeScene(asLeftBy(design, stage), parts, catalogue, view, walls);
    std::vector<scene::Scene> scenes;
    for (const Named what : wanted) {
        scene::Scene& scene = scenes.emplace_back(plain);
        look(scene, what, design);
        if (call.wallMap || what == Named::WallMap) {
            scene.view.wallMap = wallScale(design, catalogue);
            scene.view.wallMap->legend = true;
        }
    }
    return scenes;
}

/// Larger or smaller until it is true to scale, where that is asked for.
void toScale(const PictureCall& call, scene::Scene& scene, scene::Size size) {
    constexpr double kMmPerInch = 25.4;
    if (call.dotsPerInch > 0)
        scene.view.camera.zoom = scene::zoomForScale(scene, size, call.dotsPerInch / kMmPerInch);
}

}  // namespace

std::vector<std::string> viewNames() {
    return names(kViews);
}

std::vector<std::string> studioNames() {
    return names(kStudios);
}

void requireDrawable(const PictureCall& call) {
    const std::string format = formatEnding(call.out);
    const std::string allowed = call.turntable ? ".webp" : ".png";
    if (format != allowed) {
        throw base::InputError("-o " + call.out + ": the ending says the format; known is " + allowed +
                               (call.turntable ? " for a turntable." : ", and .webp for a turntable."));
    }
    requireRange(call.width, 16, kLargest, "--width");
    requireRange(call.height, 16, kLargest, "--height");
    if (!std::isfinite(call.camera.azimuth)) throw base::InputError("--azimuth: a finite number is needed.");
    requireRange(call.camera.elevation, -89, 89, "--elevation");
    requireRange(call.camera.zoom, 0.1, 50, "--zoom");
    requireRange(call.frames, 2, 720, "--frames");
    requireRange(call.minutesDark, 0, 1440, "--minutes-dark");
    if (call.dotsPerInch != 0) requireRange(call.dotsPerInch, 20, 2400, "--dpi");
    static_cast<void>(named(kStudios, call.studio, "--studio"));
    for (const std::string& view : call.views)
        static_cast<void>(named(kViews, view, "--view"));
    if (call.views.size() > (call.turntable ? 1 : kMostViews)) {
        throw base::InputError(
            "--view: found " + std::to_string(call.views.size()) + " views; allowed is " +
            (call.turntable ? "one for a turntable." : "at most " + std::to_string(kMostViews) + "."));
    }
}

void writePicture(const PictureCall& call, const design::Design& design, const trade::Catalogue& catalogue,
                  design::Stage stage) {
    const Progress progress("Painting the picture");
    const auto report = [&](double share) { progress.show(share); };
    if (!call.turntable)
        return render::writeStill(stillFor(call, design, catalogue, stage), call.out, report);
    render::writeTurntable(turntableFor(call, design, catalogue, stage), call.out, report);
}

render::TurntablePainting turntableFor(const PictureCall& call, const design::Design& design,
                                       const trade::Catalogue& catalogue, design::Stage stage) {
    const scene::Size whole{call.width, call.height};
    scene::Scene scene = scenesOf(call, design, catalogue, stage).front();
    toScale(call, scene, whole);
    return {std::move(scene), whole, {.frames = call.frames}};
}

render::Still stillFor(const PictureCall& call, const design::Design& design,
                       const trade::Catalogue& catalogue, design::Stage stage) {
    std::vector<scene::Scene> scenes = scenesOf(call, design, catalogue, stage);
    const render::Still shape = render::stillOf(scenes, {1, 1});
    const scene::Size each{call.width / shape.size.width, call.height / shape.size.height};
    for (scene::Scene& scene : scenes)
        toScale(call, scene, each);
    render::Still still = render::stillOf(std::move(scenes), each);
    still.dotsPerInch = call.dotsPerInch;
    return still;
}

scene::Scene sceneOf(const design::Design& design, const trade::Catalogue& catalogue,
                     const std::string& view) {
    PictureCall call;
    call.views = {view};
    return scenesOf(call, design, catalogue, design::Stage::Finished).front();
}

}  // namespace bandwright::app
