#pragma once

#include <filesystem>
#include <string>

#include "design/design.hpp"
#include "formats/stone_model.hpp"

/// Designs from what a person opens: a file of their own, or a PDF that carries one. Private to the room.
namespace bandwright::app {

/// A file larger than this, in bytes, is not searched for a design.
inline constexpr std::uintmax_t kLargestPdf = std::uintmax_t{1} << 28;

bool isPdfFile(const std::filesystem::path& file);

/// The text of the design, as it stands in the file or in the PDF. Throws InputError, also for a PDF without
/// a design.
std::string designTextIn(const std::filesystem::path& file);

/// The design, with the models of its stones, whose paths begin in the file's folder. Throws InputError, and
/// ModelOutside as readStoneModels does.
design::Design designIn(const std::filesystem::path& file, formats::Outside outside);

}  // namespace bandwright::app
