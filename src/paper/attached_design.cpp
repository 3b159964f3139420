#include "base/input_error.hpp"
#include "paper/write.hpp"
#include "qpdf_document.hpp"

namespace bandwright::paper {

namespace {

constexpr std::string_view kEnding = ".ring.json";
/// Name trees are a few levels deep; a damaged one may lead round in circles.
constexpr int kDeepest = 16;

std::optional<std::string> designOf(const PdfObject& file) {
    std::string name = file["/UF"].text();
    if (name.empty()) name = file["/F"].text();
    if (!name.ends_with(kEnding)) return std::nullopt;
    const PdfObject unicode = file["/EF"]["/UF"];
    return (unicode.isStream() ? unicode : file["/EF"]["/F"]).bytes();
}

/// The first design in a name tree (ISO 32000-1, 7.9.6).
std::optional<std::string> designIn(const PdfObject& tree, int depth = 0) {
    const PdfObject names = tree["/Names"], kids = tree["/Kids"];
    for (int i = 1; i < names.items(); i += 2) {
        if (std::optional<std::string> found = designOf(names[i])) return found;
    }
    for (int i = 0; depth < kDeepest && i < kids.items(); ++i) {
        if (std::optional<std::string> found = designIn(kids[i], depth + 1)) return found;
    }
    return std::nullopt;
}

}  // namespace

bool isPdf(std::string_view bytes) {
    return bytes.starts_with("%PDF-");
}

std::optional<std::string> attachedDesign(std::string_view pdfBytes) {
    try {
        return designIn(QpdfDocument(pdfBytes).catalogue()["/Names"]["/EmbeddedFiles"]);
    } catch (const std::runtime_error&) {
        throw base::InputError("this PDF cannot be read: it is damaged or asks for a password");
    }
}

}  // namespace bandwright::paper
