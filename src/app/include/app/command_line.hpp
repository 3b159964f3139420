#pragma once

#include <exception>
#include <string>
#include <string_view>

namespace bandwright::app {

/// Runs the program: the window, or one of the commands. Results go to standard output, errors to standard
/// error. Returns the exit code: 0 done (for `check`: nothing is no-go), 1 `check` found a no-go, 2 the input
/// or the call was wrong and nothing was written, 3 a fault of the program itself.
int runCommandLine(int argc, const char* const* argv);

/// How a command that failed ends.
struct Ending {
    int code = 0;
    std::string line;  ///< for standard error, without its end
};

/// 2 and what is wrong for an InputError, any other std::runtime_error, such as a missing display, and too
/// little memory. 3 for everything else, a fault of the program itself, with what to report. `call` is what
/// was typed after the program's name.
Ending endingOf(const std::exception& error, std::string_view call);

/// Tells of the exception that nobody caught, as one thrown on a thread, and ends with its exit code. For
/// std::set_terminate.
[[noreturn]] void endAtOnce() noexcept;

}  // namespace bandwright::app
