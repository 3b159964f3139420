#include "render/image.hpp"

#include <string>

#include "platform/atomic_file.hpp"
#include "png_rows.hpp"

namespace bandwright::render {

void writePng(const Image& image, const std::filesystem::path& file) {
    platform::writeFileAtomically(file, pngOf(image));
}

std::string pngOf(const Image& image) {
    std::string bytes;
    PngRows rows(image.size, [&](std::string_view more) { bytes += more; });
    rows.write(image.rgba);
    rows.finish();
    return bytes;
}

std::optional<Image> imageOf(std::string_view png) {
    return readRows(png);
}

}  // namespace bandwright::render
