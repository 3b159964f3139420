#pragma once

#include <chrono>
#include <filesystem>
#include <string>

#include "paper/page.hpp"

/// When a paper is issued, and what the design in it is called. Private to the room.
namespace bandwright::app {

/// The day, in UTC, on which the file was last changed, yyyy-mm-dd; empty where that is not known.
std::string dayOfChange(const std::filesystem::path& file);

/// The day where the maker is.
std::chrono::year_month_day today();

/// The name of the design's file: that of the file itself, or of the PDF that carries it.
std::string designName(const std::string& file);

/// The design as it travels in a PDF, from the name and the text of its file.
paper::Attachment attachedAs(std::string name, std::string text);

}  // namespace bandwright::app
