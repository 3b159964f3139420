#pragma once

#include <string>
#include <vector>

#include "geometry/boundary.hpp"
#include "trade/linear_rgb.hpp"

/// What the module that writes STEP is handed. It is loaded when it is needed, since its libraries take
/// longer to load than most commands run. Private to the room.
namespace bandwright::formats {

struct StepBody {
    const geometry::Boundary* body = nullptr;
    std::string name, material;
    trade::LinearRgb colour{};
    double density = 0;  ///< g/cm3
};

struct StepRing {
    std::string title;
    std::vector<StepBody> bodies;
    double factor = 1;
    geometry::Vec3 (*pointAt)(const geometry::Boundary&, std::uint32_t, double) = nullptr;
};

/// The module's one function: the text of the file. Throws std::runtime_error naming the body that cannot be
/// drawn.
using StepText = void (*)(const StepRing& ring, std::string& text);
inline constexpr const char* kStepFunction = "bandwrightStepText";
inline constexpr const char* kStepModule = "libbandwright_step.so";

}  // namespace bandwright::formats
