// Where there is no library to set and paint pages: what needs one is refused in one sentence.
#include "base/input_error.hpp"
#include "paper/typeset.hpp"
#include "paper/write.hpp"

namespace bandwright::paper {

namespace {

[[noreturn]] void refuse() {
    throw base::InputError(
        "Sheets as PDF, SVG and PNG are not written by this program; the one for Debian writes them.");
}

}  // namespace

double textWidth(std::string_view /*words*/, const TextStyle& /*style*/) {
    refuse();
}

std::vector<std::string> wrapped(std::string_view /*words*/, const TextStyle& /*style*/, double /*width*/) {
    refuse();
}

double capitalHeight() {
    refuse();
}

double emOfCapitals(double /*height*/) {
    refuse();
}

std::string pdf(const Document& /*document*/) {
    refuse();
}

std::string svg(const Page& /*page*/, std::string_view /*title*/) {
    refuse();
}

std::string png(const Page& /*page*/, double /*dotsPerInch*/) {
    refuse();
}

Raster raster(const Page& /*page*/, double /*pixelsPerMm*/) {
    refuse();
}

bool isPdf(std::string_view bytes) {
    return bytes.starts_with("%PDF-");
}

std::optional<std::string> attachedDesign(std::string_view /*pdfBytes*/) {
    throw base::InputError(
        "a design within a PDF is not read by this program; open the file of the design itself");
}

}  // namespace bandwright::paper
