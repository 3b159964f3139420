#pragma once

#include <gtest/gtest.h>
#include <png.h>

#include <filesystem>

#include "render/image.hpp"

namespace bandwright::render {

/// By libpng's own reader; a failed expectation and an empty image when the file is none.
inline Image readPng(const std::filesystem::path& file) {
    png_image header{};
    header.version = PNG_IMAGE_VERSION;
    Image image;
    if (png_image_begin_read_from_file(&header, file.c_str()) == 0) {
        ADD_FAILURE() << file << ": " << header.message;
        return image;
    }
    header.format = PNG_FORMAT_RGBA;
    image.size = {static_cast<int>(header.width), static_cast<int>(header.height)};
    image.rgba.resize(PNG_IMAGE_SIZE(header));
    EXPECT_NE(png_image_finish_read(&header, nullptr, image.rgba.data(), 0, nullptr), 0) << header.message;
    return image;
}

/// Linear light of a byte in sRGB (IEC 61966-2-1).
inline double linear(std::uint8_t byte) {
    const double v = byte / 255.0;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

}  // namespace bandwright::render
