#pragma once

#include <CLI/CLI.hpp>
#include <string>

/// What the desktop and the shell want to know of the program, made from the commands themselves, so that it
/// says what they do. Private to the room.
namespace bandwright::app {

/// The page for man(1) in section 1, in the macros of man(7). `version` as in "bandwright 0.1.0".
std::string manPage(const CLI::App& program, const std::string& version, const std::string& date);

/// A script for bash to source: commands, options, the words that an option takes, files of designs.
std::string bashCompletion(const CLI::App& program);

}  // namespace bandwright::app
