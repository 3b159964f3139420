#include "base/input_error.hpp"
#include "render/still.hpp"

namespace bandwright::render {

namespace {

[[noreturn]] void refuse() {
    throw base::InputError(
        "A turntable as .webp is not written in a browser; the program for the desktop writes it.");
}

}  // namespace

// WebP's encoder is left out, to keep the page small.
std::string webpOf(const Image& /*image*/, float /*quality*/) {
    throw base::InputError("A picture as .webp is not written in a browser.");
}

struct TurntablePainting::State {};

TurntablePainting::TurntablePainting(scene::Scene /*scene*/, scene::Size /*size*/,
                                     const Turntable& /*turntable*/) {
    refuse();
}
TurntablePainting::~TurntablePainting() = default;
TurntablePainting::TurntablePainting(TurntablePainting&&) noexcept = default;
TurntablePainting& TurntablePainting::operator=(TurntablePainting&&) noexcept = default;

bool TurntablePainting::advance(Renderer& /*renderer*/) {
    refuse();
}

double TurntablePainting::share() const {
    return 0;
}

std::string TurntablePainting::take() {
    return {};
}

void writeTurntable(TurntablePainting /*painting*/, const std::filesystem::path& /*file*/,
                    const ProgressReport& /*progress*/) {
    refuse();
}

}  // namespace bandwright::render
