#include "design_source.hpp"

#include <fstream>
#include <iterator>
#include <optional>

#include "base/input_error.hpp"
#include "base/whole_text.hpp"
#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "paper/write.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

std::string firstBytes(const fs::path& file, std::size_t count) {
    std::ifstream in(file, std::ios::binary);
    std::string bytes(count, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(count));
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    return bytes;
}

std::string designInPdf(const fs::path& file) {
    std::error_code error;
    if (fs::file_size(file, error) > kLargestPdf)
        throw base::InputError(file.string() +
                               ": the PDF is larger than 256 MB, which is the most that is read");
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    std::optional<std::string> found;
    try {
        found = paper::attachedDesign(bytes);
    } catch (const base::InputError& error_) {
        throw base::InputError(file.string() + ": " + error_.what());
    }
    if (!found)
        throw base::InputError(
            file.string() +
            ": this PDF carries no design; the drawings and sheets that Bandwright writes do");
    return *found;
}

}  // namespace

bool isPdfFile(const fs::path& file) {
    std::error_code error;
    return fs::is_regular_file(file, error) && paper::isPdf(firstBytes(file, 5));
}

std::string designTextIn(const fs::path& file) {
    return isPdfFile(file) ? designInPdf(file) : base::wholeText(file, "a design");
}

design::Design designIn(const fs::path& file, formats::Outside outside) {
    design::Design design =
        isPdfFile(file) ? design::parseDesign(designInPdf(file), file.string()) : design::readDesign(file);
    formats::readStoneModels(design, file.parent_path(), outside);
    return design;
}

}  // namespace bandwright::app
