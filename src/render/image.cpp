#include "render/image.hpp"

#include <png.h>
#include <unistd.h>

#include <cstdio>
#include <memory>
#include <stdexcept>
#include <string>
#include <system_error>

namespace bandwright::render {

namespace {

std::vector<std::uint8_t> encoded(const Image& image) {
    png_image header{};
    header.version = PNG_IMAGE_VERSION;
    header.width = static_cast<png_uint_32>(image.size.width);
    header.height = static_cast<png_uint_32>(image.size.height);
    header.format = PNG_FORMAT_RGBA;
    png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(header);
    std::vector<std::uint8_t> bytes(size);
    if (png_image_write_to_memory(&header, bytes.data(), &size, 0, image.rgba.data(), 0, nullptr) == 0) {
        throw std::runtime_error("The picture cannot be encoded as PNG: " + std::string(header.message) +
                                 ".");
    }
    bytes.resize(size);
    return bytes;
}

bool written(const std::vector<std::uint8_t>& bytes, const std::filesystem::path& file) {
    std::FILE* out = std::fopen(file.c_str(), "wb");
    if (out == nullptr) return false;
    const bool whole = std::fwrite(bytes.data(), 1, bytes.size(), out) == bytes.size() &&
                       std::fflush(out) == 0 && fsync(fileno(out)) == 0;
    return std::fclose(out) == 0 && whole;
}

}  // namespace

void writePng(const Image& image, const std::filesystem::path& file) {
    const std::vector<std::uint8_t> bytes = encoded(image);
    const std::filesystem::path beside = file.string() + ".part";
    std::error_code problem;
    if (written(bytes, beside))
        std::filesystem::rename(beside, file, problem);
    else
        problem = std::make_error_code(std::errc::io_error);
    if (!problem) return;
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    throw std::runtime_error("Cannot write the picture " + file.string() + ".");
}

}  // namespace bandwright::render
