#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

/// The command `export`, and the models that the window hands over. Private to the room.
namespace bandwright::app {

struct ExportCall {
    std::string out;
    std::vector<std::string> parts;
    std::string shrink;  ///< a percentage, or "metal" for what the catalogue tells
    double chord = 10;   ///< micrometres
    bool oneBody = false;
    bool plain = false;  ///< no textures
};

/// Refuses what no design could make right, before one is read.
void requireExport(const ExportCall& call);

/// Writes the files and returns them. `note` is what the person should know, a line or empty. `progress` is
/// told the finished share now and then; what it throws ends the writing, and nothing half-done is left.
struct Exported {
    std::vector<std::filesystem::path> files;
    std::string note;
};
Exported exportFiles(const ExportCall& call, const design::Design& design, design::Stage stage,
                     const trade::Catalogue& catalogue, const std::function<void(double)>& progress);

/// The table of formats, for the help.
std::string formatsText();

}  // namespace bandwright::app
