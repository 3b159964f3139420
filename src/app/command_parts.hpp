#pragma once

/// What the commands of the command line share. Private to the room.
namespace bandwright::app {

/// One line on a terminal while something takes its time, with its share in percent where that is known;
/// taken away when it is over. Where stderr is no terminal nothing is written.
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

/// Throws InputError, which names the option, for what is not in the range.
void requireRange(double value, double least, double most, const char* option);

}  // namespace bandwright::app
