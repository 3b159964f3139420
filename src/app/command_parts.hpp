#pragma once

#include <stdexcept>
#include <string>

/// What the commands of the command line share. Private to the room.
namespace bandwright::app {

/// One line on the terminal while something takes long, with its progress in percent if that is known. It is
/// removed at the end. If stderr is not a terminal, nothing is written.
class Progress {
  public:
    explicit Progress(const char* what);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    void show(double share) const;

  private:
    const char* what_;
    bool shown_;
};

/// The person asked to stop; nothing half-done is left.
struct Stopped : std::runtime_error {
    Stopped() : std::runtime_error("stopped as asked; the file that was being written is as it was before") {}
};

/// The ending of a file's name with its point, in lower case.
std::string formatEnding(const std::string& file);

/// Throws InputError, which names the option, for a value outside the range.
void requireRange(double value, double least, double most, const char* option);

}  // namespace bandwright::app
