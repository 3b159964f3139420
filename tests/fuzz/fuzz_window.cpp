// Random input to the whole interface, without a window and without OpenGL (`./dev fuzz MINUTES window`):
// each three bytes are one thing a person does. It works on a sample in a folder of its own.

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "geometry/measured.hpp"
#include "geometry/ring.hpp"
#include "headless.hpp"

namespace {

using namespace bandwright;

void doOne(app::Headless& desk, std::uint8_t what, std::uint8_t a, std::uint8_t b) {
    const auto share = [](std::uint8_t byte, float of) { return static_cast<float>(byte) / 255 * of; };
    switch (what % 8) {
        case 0:
        case 1:
            desk.moveTo(share(a, 1500), share(b, 1500));
            desk.frames(1);
            return;
        case 2:
            desk.button(true);
            desk.frames(1);
            return;
        case 3:
            desk.button(false);
            desk.frames(1);
            return;
        case 4: {  // a click on a row of the card
            const auto& places = desk.fields().places();
            if (places.empty()) return;
            auto place = places.begin();
            std::advance(place, a % places.size());
            desk.clickAt(place->second);
            return;
        }
        case 5:
            // Without a slash, so that nothing is written outside the folder.
            if (const char c = static_cast<char>(' ' + a % 95); c != '/') desk.type(std::string(1, c));
            return;
        default:
            desk.press(static_cast<app::Key>(a % (static_cast<int>(app::Key::F1) + 1)), b % 4);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const bool isAside = [] {
        const char* folder = std::getenv("TMPDIR");
        std::filesystem::current_path(folder == nullptr ? "/tmp" : folder);
        return true;
    }();
    static_cast<void>(isAside);
    app::Headless desk(app::harbour());
    for (std::size_t i = 0; i + 2 < size && !desk.bench().done(); i += 3)
        doOne(desk, data[i], data[i + 1], data[i + 2]);
    desk.settle();
    // Whatever was typed, what is on the bench can be built and is a file that can be written.
    geometry::requireBuildable(geometry::asMeasured(desk.design()));
    static_cast<void>(design::formatDesign(desk.design()));
    return 0;
}
