#include "compare_file.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/input_error.hpp"
#include "command_parts.hpp"
#include "formats/body.hpp"
#include "formats/model.hpp"
#include "platform/interrupt.hpp"
#include "render/still.hpp"
#include "scene/scene.hpp"
#include "trade/linear_rgb.hpp"

namespace bandwright::app {

namespace {

void stopIfAsked() {
    if (platform::interrupted()) throw Stopped();
}

/// Shows a share of the work and lets the person stop it.
std::function<void(double)> shown(const Progress& progress) {
    return [&progress](double share) {
        stopIfAsked();
        progress.show(share);
    };
}

/// From as much missing to as much extra metal as 95 % of the surface has, or as is asked for, rounded up to
/// 1, 2 or 5 of a decimal.
scene::WallScale scaleOf(const CompareCall& call, const compare::Deviation& deviation) {
    const double wanted = std::max(call.beyond, deviation.whole.size95);
    const double decade = std::pow(10.0, std::floor(std::log10(wanted)));
    double most = 10 * decade;
    for (const double step : {5.0, 2.0, 1.0})
        if (wanted <= step * decade * (1 + 1e-9)) most = step * decade;
    return {.least = -most, .most = most, .legend = true, .twoSided = true};
}

/// The ring from the front and from behind, and both again upside down, so that each place is seen.
void writePicture(const std::string& out, const Compared& compared, const scene::WallScale& scale,
                  const design::Design& design, const trade::Catalogue& catalogue) {
    constexpr scene::Size kEach{900, 900};
    constexpr double kHalfTurn = 180;
    scene::View view;
    view.wallMap = scale;
    const scene::Scene plain =
        scene::bodyScene(design, compared.body, compared.deviation.ofPoint, catalogue, view);
    std::vector<scene::Scene> scenes;
    for (const double top : {0.0, kHalfTurn}) {
        for (const double azimuth : {0.0, kHalfTurn}) {
            scene::Scene& scene = scenes.emplace_back(plain);
            scene.top += top;
            scene.view.camera.azimuth += azimuth;
            scene.view.wallMap->legend = scenes.size() == 1;
        }
    }
    render::writeStill(render::stillOf(std::move(scenes), kEach), out);
}

void writePly(const std::string& out, const Compared& compared, const scene::WallScale& scale) {
    std::vector<formats::PointValue> values;
    values.reserve(compared.deviation.ofPoint.size());
    for (const double deviation : compared.deviation.ofPoint) {
        const trade::LinearRgb c =
            scene::scaleColour(scale, (deviation - scale.least) / (scale.most - scale.least));
        formats::PointValue value{static_cast<float>(deviation), {}};
        for (std::size_t i = 0; i < 3; ++i)
            value.colour[i] = static_cast<unsigned char>(std::lround(255 * trade::srgbEncoded(c[i])));
        values.push_back(value);
    }
    formats::writeBody(out, compared.body, values, "deviation");
}

}  // namespace

void requireCompare(const CompareCall& call) {
    constexpr double kLeast = 0.001, kMost = 1;
    compare::lengthUnit(call.unit);
    requireRange(call.beyond, kLeast, kMost, "--beyond");
    for (const std::string& out : call.out) {
        const std::string ending = formatEnding(out);
        if (ending != ".png" && ending != ".ply")
            throw base::InputError("-o " + out + ": the ending says the format; known is .png, .ply.");
    }
}

Compared compareBody(const CompareCall& call, const design::Design& design, design::Stage stage,
                     const trade::Catalogue& catalogue) {
    const compare::LengthUnit& unit = compare::lengthUnit(call.unit);
    formats::ModelOptions options;
    options.stage = stage;
    options.build = {compare::kNominalChord};
    options.parts = call.parts;
    std::optional<Progress> progress;
    progress.emplace("Reading the body");
    geometry::Triangles body = formats::readBody(call.body);
    stopIfAsked();
    const compare::Designed designed(formats::chosenParts(design, options),
                                     formats::chosenBoundaries(design, options));
    compare::requireUnit(body, unit, designed, call.body);
    stopIfAsked();

    Compared result;
    for (const geometry::Part& part : designed.parts())
        result.parts.push_back(geometry::name(part));
    progress.reset();
    progress.emplace("Fitting the body");
    result.fit = compare::fit(
        designed, body,
        {.mmPerUnit = unit.mm, .scale = call.scale, .holdAxis = call.holdAxis, .progress = shown(*progress)});
    progress.reset();
    progress.emplace("Measuring the body");
    result.deviation = compare::deviation(designed, body, result.fit.pose,
                                          {.beyond = call.beyond, .progress = shown(*progress)});
    progress.reset();
    progress.emplace("Measuring the body's walls");
    check::CheckOptions judging{.remedies = false};
    if (stage != design::Stage::Finished) judging.stage = stage;
    result.report = check::check(design, catalogue, judging);
    result.walls = compare::bodyWalls(result.deviation, body, result.report, shown(*progress));
    progress.reset();
    result.body = {result.deviation.points, std::move(body.triangles)};
    for (const std::string& out : call.out) {
        stopIfAsked();
        const Progress writing("Writing what was found");
        if (formatEnding(out) == ".png") {
            writePicture(out, result, scaleOf(call, result.deviation), design, catalogue);
        } else {
            writePly(out, result, scaleOf(call, result.deviation));
        }
    }
    return result;
}

}  // namespace bandwright::app
