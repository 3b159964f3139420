#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "paper/page.hpp"

/// Pages as files. The same pages give the same bytes each time.
namespace bandwright::paper {

/// A tagged PDF: title, language, bookmarks, words in the order of the elements, alternatives of figures,
/// fonts embedded, and the design as an associated file of the document (ISO 32000-2, 14.13). The title is
/// what a reader shows. Throws InputError where a picture is no PNG.
std::string pdf(const Document& document);

/// One page with its text as outlines; user units are hundredths of a mm.
std::string svg(const Page& page, std::string_view title);

/// One page with white behind it, true to scale at so many dots per inch, which the file tells.
std::string png(const Page& page, double dotsPerInch);

/// Pixels of sRGB, 8 bits each, opaque, rows from the top.
struct Raster {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba{};  ///< 4 * width * height
};

/// One page with white behind it, as it is shown on a screen, at so many pixels to the mm (at least one
/// pixel).
Raster raster(const Page& page, double pixelsPerMm);

/// The design that a PDF carries: the bytes of its first associated file with the ending .ring.json; nothing
/// where it carries none. Throws InputError, without the file's name, where the bytes are no PDF that can be
/// read.
std::optional<std::string> attachedDesign(std::string_view pdfBytes);

/// Whether the bytes begin as those of a PDF do.
bool isPdf(std::string_view bytes);

}  // namespace bandwright::paper
