#pragma once

#include <cstdint>
#include <exception>
#include <functional>
#include <string_view>
#include <vector>

#include "scene/camera.hpp"

struct png_struct_def;
struct png_info_def;

namespace bandwright::render {

/// Encodes rows of sRGB with straight alpha as PNG, from the top, and passes the bytes on as they come.
/// Throws what their receiver throws, and std::runtime_error when libpng refuses.
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
    static void give(png_struct_def* png, unsigned char* data, std::size_t size);
    static void refuse(png_struct_def* png, const char* words);
    /// Calls into libpng, which leaves by a long jump when something fails.
    template <class Call>
    void guarded(const Call& call);

    std::function<void(std::string_view)> bytes_;
    std::exception_ptr problem_;
    std::size_t stride_;
    png_struct_def* png_ = nullptr;
    png_info_def* info_ = nullptr;
};

}  // namespace bandwright::render
