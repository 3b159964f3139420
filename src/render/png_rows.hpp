#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string_view>
#include <vector>

#include "scene/camera.hpp"

struct z_stream_s;

namespace bandwright::render {

/// Encodes rows of sRGB with straight alpha as PNG (W3C, Portable Network Graphics, third edition), from the
/// top, and passes the bytes on as they come. Throws what their receiver throws, and std::runtime_error when
/// there is no memory for zlib.
class PngRows {
  public:
    PngRows(scene::Size size, std::function<void(std::string_view)> bytes, double dotsPerInch = 0);
    ~PngRows();
    PngRows(const PngRows&) = delete;
    PngRows& operator=(const PngRows&) = delete;

    /// Whole rows, RGBA.
    void write(const std::vector<std::uint8_t>& rgba);
    void finish();

  private:
    void chunk(std::string_view type, std::string_view data);
    /// Packs these bytes, and hands over what is packed whenever there is enough of it, or at the end.
    void pack(const std::uint8_t* from, std::size_t count, bool ends);

    std::function<void(std::string_view)> bytes_;
    std::size_t stride_;
    std::vector<std::uint8_t> row_, packed_;
    std::unique_ptr<z_stream_s> stream_;
};

struct Image;

/// What PngRows wrote, read back; nothing for any other bytes.
std::optional<Image> readRows(std::string_view png);

}  // namespace bandwright::render
