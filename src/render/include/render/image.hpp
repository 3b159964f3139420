#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/camera.hpp"

namespace bandwright::render {

/// sRGB with straight alpha, 8 bits each, rows from the top.
struct Image {
    scene::Size size;
    std::vector<std::uint8_t> rgba;  ///< 4 * width * height

    const std::uint8_t* pixel(int x, int y) const {
        return &rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(size.width) +
                          static_cast<std::size_t>(x))];
    }
};

/// Writes the image as PNG, marked as sRGB. Written to a temporary file and renamed, so that the file is
/// either the old or the whole new one. Throws std::runtime_error when the file cannot be written.
void writePng(const Image& image, const std::filesystem::path& file);

/// The same as the bytes of the file.
std::string pngOf(const Image& image);

/// The picture in a PNG that this program wrote; nothing for any other bytes.
std::optional<Image> imageOf(std::string_view png);

}  // namespace bandwright::render
