#pragma once

namespace bandwright {

/// Runs the program: the window, or one of the commands. Results go to standard output, complaints to
/// standard error. Returns the exit code: 0 done (for `check`: nothing is no-go), 1 `check` found a no-go, 2
/// the input or the call was wrong and nothing was written.
int runCommandLine(int argc, const char* const* argv);

}  // namespace bandwright
