#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "app/papers.hpp"
#include "compare_file.hpp"
#include "export_file.hpp"
#include "picture.hpp"
#include "section_file.hpp"

/// What the command line accepts. Private to the room.
namespace bandwright::app {

/// Everything that can be given, whatever the command.
struct Call {
    std::string file, materials, limits, workshop, out, stage, size, at = "nominal";
    std::vector<std::string> files;  ///< of commands that take many
    std::string into;
    std::vector<std::string> lock, free, vary;
    bool json = false, all = false, tolerances = false, closeWhenShown = false, allowOutside = false,
         internal = false, manPage = false, bashCompletion = false;
    ExportCall exporting;
    CompareCall comparing;
    std::optional<int> remedy;  ///< as the report numbers them
    PictureCall picture;
    SectionCall section;
    PaperCall paper;
};

/// Adds every command to the program, with its options and its help; what is given goes into the call, which
/// must live as long.
void describeCommands(CLI::App& program, Call& call);

}  // namespace bandwright::app
