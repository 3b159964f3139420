#pragma once

#include <functional>
#include <string>
#include <vector>

/// A command over many designs: a JSON line for each, in the order of the files. Private to the room.
namespace bandwright::app {

struct Answer {
    int code = 0;      ///< as the program would end with for this design alone
    std::string line;  ///< one JSON object without a newline, whose "file" is the design's
};

/// Works on all processors and hands each line on as soon as those before it are there. With `into` the lines
/// are appended to that file; those already there, of the same files in the same order, are not worked out
/// again, and half a line that a crash left is cut off. Work may not throw. Returns the largest code. Throws
/// Stopped when the person asked to stop, after the lines that are done, and InputError when `into` holds
/// lines of other files.
int overMany(const std::vector<std::string>& files, const std::function<Answer(const std::string&)>& work,
             const std::string& into, const std::function<void(const std::string&)>& print);

}  // namespace bandwright::app
