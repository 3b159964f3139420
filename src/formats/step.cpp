#include <stdexcept>

#include "base/input_error.hpp"
#include "model_source.hpp"
#include "platform/module.hpp"
#include "step_bodies.hpp"

/// STEP (ISO 10303, AP242): exact planes, cylinders, cones, tori and spheres, an assembly of the parts.
namespace bandwright::formats {

Written writeStep(const ModelSource& source, const std::filesystem::path& file) {
    void* const function = platform::functionIn(kStepModule, kStepFunction);
    if (function == nullptr)
        throw base::InputError(file.string() +
                               ": this Bandwright was built without OpenCASCADE, which STEP needs; another "
                               "format such as .3mf is written without it.");
    const std::vector<geometry::Boundary> bodies = source.boundaries();
    StepRing ring{oneLine(source.design.title), {}, source.options.factor, geometry::pointAt};
    for (const geometry::Boundary& body : bodies) {
        const std::string name = geometry::name(body.part);
        const PartMaterial material = materialOf(body.part, source.catalogue);
        ring.bodies.push_back({&body, name, material.name, material.colour, material.density});
    }
    if (source.options.progress) source.options.progress(0);
    std::string text;
    reinterpret_cast<StepText>(function)(ring, text);
    if (source.options.progress) source.options.progress(1);
    platform::writeFileAtomically(file, text);
    return {file};
}

}  // namespace bandwright::formats
