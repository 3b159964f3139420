#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bandwright::app {

/// A folder that is gone when the test is over.
class ScratchFolder {
  public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;

    std::filesystem::path operator/(std::string_view name) const { return path_ / name; }
    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

struct Outcome {
    int code = -1;  ///< exit code; -1 = it did not end by itself
    std::string out, err;
};

/// An environment variable; an empty value removes it.
using Variables = std::vector<std::pair<std::string, std::string>>;

/// Runs a program to its end.
Outcome runProgram(const std::vector<std::string>& command, const Variables& variables = {});

/// Runs bandwright.
Outcome run(std::vector<std::string> arguments, const Variables& variables = {});

/// A wrong call must end with code 2, nothing on standard output, one line on standard error.
void expectRefused(const Outcome& outcome, const std::string& mentions);

std::string readFile(const std::filesystem::path& file);
void writeFile(const std::filesystem::path& file, std::string_view text);

/// A sample design's path.
std::string sample(std::string_view name);

/// The sample with one piece of its text replaced, written to the folder.
std::string changedSample(const ScratchFolder& folder, std::string_view name, std::string_view from,
                          std::string_view to);

}  // namespace bandwright::app
