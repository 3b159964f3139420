#include "png_rows.hpp"

#include <png.h>

#include <cmath>
#include <csetjmp>
#include <stdexcept>
#include <string>

namespace bandwright::render {

// No exception may pass through libpng's stack frames, so it is kept and thrown again after the jump.
void PngRows::give(png_structp png, png_bytep data, png_size_t size) {
    auto& self = *static_cast<PngRows*>(png_get_io_ptr(png));
    try {
        self.bytes_({reinterpret_cast<const char*>(data), size});
    } catch (...) {
        self.problem_ = std::current_exception();
    }
    if (self.problem_) png_longjmp(png, 1);
}

void PngRows::refuse(png_structp png, png_const_charp words) {
    auto& self = *static_cast<PngRows*>(png_get_error_ptr(png));
    self.problem_ = std::make_exception_ptr(
        std::runtime_error("The picture cannot be encoded as PNG: " + std::string(words) + "."));
    png_longjmp(png, 1);
}

template <class Call>
void PngRows::guarded(const Call& call) {
    if (setjmp(png_jmpbuf(png_)) == 0) {  // NOLINT(cert-err52-cpp): libpng's way out
        call();
        return;
    }
    std::rethrow_exception(problem_);
}

PngRows::PngRows(scene::Size size, std::function<void(std::string_view)> bytes, double dotsPerInch)
    : bytes_(std::move(bytes)), stride_(4 * static_cast<std::size_t>(size.width)) {
    png_ = png_create_write_struct(PNG_LIBPNG_VER_STRING, this, refuse, [](png_structp, png_const_charp) {});
    if (png_ == nullptr) throw std::runtime_error("The picture cannot be encoded as PNG.");
    info_ = png_create_info_struct(png_);
    png_set_write_fn(png_, this, give, [](png_structp) {});
    guarded([&] {
        png_set_IHDR(png_, info_, static_cast<png_uint_32>(size.width), static_cast<png_uint_32>(size.height),
                     8, PNG_COLOR_TYPE_RGBA, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                     PNG_FILTER_TYPE_DEFAULT);
        // The filter by the left neighbour packs a picture with fine grain best. This level takes a quarter
        // of the default's time for a tenth more bytes.
        png_set_filter(png_, PNG_FILTER_TYPE_BASE, PNG_FILTER_SUB);
        png_set_compression_level(png_, 3);
        png_set_sRGB(png_, info_, PNG_sRGB_INTENT_PERCEPTUAL);
        if (dotsPerInch > 0) {
            constexpr double kInchesPerMetre = 1 / 0.0254;
            const auto perMetre = static_cast<png_uint_32>(std::lround(dotsPerInch * kInchesPerMetre));
            png_set_pHYs(png_, info_, perMetre, perMetre, PNG_RESOLUTION_METER);
        }
        png_write_info(png_, info_);
    });
}

PngRows::~PngRows() {
    png_destroy_write_struct(&png_, &info_);
}

void PngRows::write(const std::vector<std::uint8_t>& rgba) {
    guarded([&] {
        for (std::size_t at = 0; at + stride_ <= rgba.size(); at += stride_)
            png_write_row(png_, &rgba[at]);
    });
}

void PngRows::finish() {
    guarded([&] { png_write_end(png_, info_); });
}

}  // namespace bandwright::render
