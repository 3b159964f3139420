#pragma once

#include <filesystem>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "call.hpp"

/// What every command does that takes one design or many: of many, each is told in a JSON line. Private to
/// the room.
namespace bandwright::app {

using LineJson = nlohmann::json;

/// How the program ends.
inline constexpr int kDone = 0, kNoGo = 1, kWrong = 2, kFault = 3;
inline constexpr int kStopped = 130;  // as shells say of what Ctrl-C ended

/// To standard output, at once. Throws InputError.
void print(const std::string& text);

bool isOfMany(const Call& call);

/// Whether the call writes a file for each of its designs, with the design's name in place of {}. Throws
/// InputError where {} is missing or two designs have the same name.
bool writesOfEach(const Call& call, const std::string& out);

/// The name of the call's design in place of {}.
void placeName(std::string& out, const Call& call);

/// The line of a design of which these files were written.
LineJson writtenLine(const std::vector<std::filesystem::path>& files);

/// An error is told in the line of its design, and the others go on.
int runOverMany(const Call& call, const std::function<LineJson(const Call&)>& work);

/// A command that tells of each design by itself: many as JSON lines only.
int tell(Call call, const char* command, const std::function<std::string(const Call&)>& told);

/// Draws the file that `out` names in the call; of many designs one after the other, because OpenGL and fonts
/// serve one thread. `doing` is told on a terminal while it takes; null where the drawing tells itself.
int draw(Call call, std::string& (*out)(Call&), const char* doing,
         const std::function<void(const Call&)>& drawn);

}  // namespace bandwright::app
