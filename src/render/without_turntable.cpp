#include "base/input_error.hpp"
#include "render/still.hpp"

namespace bandwright::render {

// WebP's encoder is left out, to keep the page small.
std::string webpOf(const Image& /*image*/, float /*quality*/) {
    throw base::InputError("A picture as .webp is not written in a browser.");
}

void writeTurntable(const scene::Scene& /*scene*/, scene::Size /*size*/, const Turntable& /*turntable*/,
                    const std::filesystem::path& /*file*/, const ProgressReport& /*progress*/) {
    throw base::InputError(
        "A turntable as .webp is not written in a browser; the program for the desktop writes it.");
}

}  // namespace bandwright::render
