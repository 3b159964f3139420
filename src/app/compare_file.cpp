#include "compare_file.hpp"

#include <algorithm>
#include <optional>

#include "base/input_error.hpp"
#include "command_parts.hpp"
#include "formats/body.hpp"
#include "formats/model.hpp"
#include "platform/interrupt.hpp"

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

}  // namespace

void requireCompare(const CompareCall& call) {
    constexpr double kLeast = 0.001, kMost = 1;
    compare::lengthUnit(call.unit);
    requireRange(call.beyond, kLeast, kMost, "--beyond");
}

Compared compareBody(const CompareCall& call, const design::Design& design, design::Stage stage) {
    const compare::LengthUnit& unit = compare::lengthUnit(call.unit);
    formats::ModelOptions options;
    options.stage = stage;
    options.build = {compare::kNominalChord};
    options.parts = call.parts;
    std::optional<Progress> progress;
    progress.emplace("Reading the body");
    const geometry::Triangles body = formats::readBody(call.body);
    stopIfAsked();
    const compare::Designed designed(formats::chosenParts(design, options),
                                     formats::chosenBoundaries(design, options));
    compare::requireUnit(body, unit, designed, call.body);
    stopIfAsked();

    Compared result;
    result.triangles = body.triangles.size();
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
    return result;
}

}  // namespace bandwright::app
