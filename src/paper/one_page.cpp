#include <cairo-svg.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <map>

#include "base/numbers.hpp"
#include "paint_page.hpp"
#include "paper/write.hpp"

namespace bandwright::paper {

namespace {

constexpr double kMmPerInch = 25.4;
/// Cairo rounds coordinates to 1/256 of a unit of the surface, and outlines of letters to 1/64.
constexpr double kUnitsPerMm = 100;

std::string escaped(std::string_view text) {
    std::string safe;
    for (const char c : text) {
        if (c == '&')
            safe += "&amp;";
        else if (c == '<')
            safe += "&lt;";
        else if (c == '>')
            safe += "&gt;";
        else
            safe += c;
    }
    return safe;
}

std::string sizeInMm(Size size) {
    return "width=\"" + base::shortestNumber(size.width) + "mm\" height=\"" +
           base::shortestNumber(size.height) + "mm\"";
}

/// Cairo gives the width and height in the units of the view box; here they are said to be mm.
void setSize(std::string& svg, Size size) {
    const std::size_t from = svg.find("width=\""), to = svg.find(" viewBox");
    if (from < to && to != std::string::npos) svg.replace(from, to - from, sizeInMm(size));
}

/// Cairo counts surfaces on from one file to the next; here they are counted from 1 in each.
void renumber(std::string& svg, const std::string& prefix) {
    std::map<std::string, std::size_t> numbers;
    for (const std::string& before : {"id=\"" + prefix, "\"#" + prefix, "(#" + prefix}) {
        for (std::size_t at = svg.find(before); at != std::string::npos; at = svg.find(before, at + 1)) {
            const std::size_t from = at + before.size();
            const std::size_t end = svg.find_first_not_of("0123456789", from);
            const std::size_t number =
                numbers.try_emplace(svg.substr(from, end - from), numbers.size() + 1).first->second;
            svg.replace(from, end - from, std::to_string(number));
        }
    }
}

/// Puts the title where a viewer and a screen reader look for it: first in the outermost element.
void addTitle(std::string& svg, std::string_view title) {
    const std::size_t element = svg.find("<svg ");
    const std::size_t end = element == std::string::npos ? element : svg.find('>', element);
    if (end != std::string::npos) svg.insert(end + 1, "\n<title>" + escaped(title) + "</title>");
}

std::string bigEndian(std::uint32_t value) {
    std::string bytes;
    for (int shift = 24; shift >= 0; shift -= 8)
        bytes += static_cast<char>((value >> static_cast<unsigned>(shift)) & 0xFFU);
    return bytes;
}

/// The check sum of PNG (ISO/IEC 15948, annex D).
std::uint32_t checkSum(std::string_view bytes) {
    std::uint32_t sum = 0xFFFFFFFFU;
    for (const char c : bytes) {
        sum ^= static_cast<unsigned char>(c);
        for (int bit = 0; bit < 8; ++bit)
            sum = (sum & 1U) != 0 ? (sum >> 1U) ^ 0xEDB88320U : sum >> 1U;
    }
    return ~sum;
}

/// Tells how many dots there are to a metre, right behind the header (the chunk pHYs).
void addDensity(std::string& png, double dotsPerInch) {
    constexpr std::size_t kBehindHeader = 33;
    const auto perMetre = static_cast<std::uint32_t>(std::lround(dotsPerInch * 1000 / kMmPerInch));
    const std::string body = "pHYs" + bigEndian(perMetre) + bigEndian(perMetre) + '\x01';
    png.insert(kBehindHeader, bigEndian(9) + body + bigEndian(checkSum(body)));
}

/// The page with white behind it, on a surface of 32 bits to the pixel.
SurfacePointer painted(const Page& page, double perMm) {
    const auto pixels = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm * perMm))); };
    SurfacePointer surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(page.size.width), pixels(page.size.height)));
    const CairoPointer cairo(cairo_create(surface.get()));
    cairo_set_source_rgb(cairo.get(), 1, 1, 1);
    cairo_paint(cairo.get());
    cairo_scale(cairo.get(), perMm, perMm);
    paint(page, *cairo, Letters::Outlined);
    return surface;
}

}  // namespace

std::string svg(const Page& page, std::string_view title) {
    std::string bytes;
    {
        const SurfacePointer surface(cairo_svg_surface_create_for_stream(
            append, &bytes, kUnitsPerMm * page.size.width, kUnitsPerMm * page.size.height));
        cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_USER);
        const CairoPointer cairo(cairo_create(surface.get()));
        cairo_scale(cairo.get(), kUnitsPerMm, kUnitsPerMm);
        paint(page, *cairo);
        cairo_surface_finish(surface.get());
        requireDone(cairo_surface_status(surface.get()));
    }
    setSize(bytes, page.size);
    for (const char* counted : {"surface", "image", "pattern", "mask", "clip"})
        renumber(bytes, counted);
    addTitle(bytes, title);
    return bytes;
}

std::string png(const Page& page, double dotsPerInch) {
    const SurfacePointer surface = painted(page, dotsPerInch / kMmPerInch);
    std::string bytes;
    requireDone(cairo_surface_write_to_png_stream(surface.get(), append, &bytes));
    addDensity(bytes, dotsPerInch);
    return bytes;
}

Raster raster(const Page& page, double pixelsPerMm) {
    const SurfacePointer surface = painted(page, pixelsPerMm);
    cairo_surface_flush(surface.get());
    requireDone(cairo_surface_status(surface.get()));
    Raster raster{
        cairo_image_surface_get_width(surface.get()), cairo_image_surface_get_height(surface.get()), {}};
    const auto width = static_cast<std::size_t>(raster.width),
               height = static_cast<std::size_t>(raster.height);
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface.get()));
    const unsigned char* row = cairo_image_surface_get_data(surface.get());
    raster.rgba.assign(4 * width * height, 0xFF);
    std::uint8_t* to = raster.rgba.data();
    for (std::size_t y = 0; y < height; ++y, row += stride) {
        for (std::size_t x = 0; x < width; ++x, to += 4) {
            // Cairo packs a pixel in a word of this machine: red in bits 16..23, blue in bits 0..7.
            std::uint32_t word = 0;
            std::memcpy(&word, row + 4 * x, sizeof word);
            to[0] = static_cast<std::uint8_t>((word >> 16U) & 0xFFU);
            to[1] = static_cast<std::uint8_t>((word >> 8U) & 0xFFU);
            to[2] = static_cast<std::uint8_t>(word & 0xFFU);
        }
    }
    return raster;
}

}  // namespace bandwright::paper
