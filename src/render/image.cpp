#include "render/image.hpp"

#include <png.h>

#include <stdexcept>
#include <string>

#include "platform/atomic_file.hpp"

namespace bandwright::render {

namespace {

std::string encoded(const Image& image) {
    png_image header{};
    header.version = PNG_IMAGE_VERSION;
    header.width = static_cast<png_uint_32>(image.size.width);
    header.height = static_cast<png_uint_32>(image.size.height);
    header.format = PNG_FORMAT_RGBA;
    png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(header);
    std::string bytes(size, '\0');
    if (png_image_write_to_memory(&header, bytes.data(), &size, 0, image.rgba.data(), 0, nullptr) == 0) {
        throw std::runtime_error("The picture cannot be encoded as PNG: " + std::string(header.message) +
                                 ".");
    }
    bytes.resize(size);
    return bytes;
}

}  // namespace

void writePng(const Image& image, const std::filesystem::path& file) {
    platform::writeFileAtomically(file, encoded(image));
}

std::string pngOf(const Image& image) {
    return encoded(image);
}

}  // namespace bandwright::render
