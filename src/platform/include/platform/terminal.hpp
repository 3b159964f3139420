#pragma once

namespace bandwright::platform {

/// Whether a person reads what is written to standard output or standard error. A platform without terminals
/// says no.
bool isTerminal(int stream);
inline constexpr int kStandardOutput = 1, kStandardError = 2;

/// Columns of the terminal at standard output; 0 where that is none, or does not say.
int terminalColumns();

/// Closes the terminal that the system opened for this program alone, as Windows does for one that is started
/// from the desktop; a platform that does no such thing does nothing.
void closeOwnTerminal();

/// Drops what is written to standard error while it lives: drivers of graphics write there, and what goes
/// wrong is told in one sentence of ours. Threads that write there meanwhile are not heard either. A platform
/// without such a stream does nothing.
class StandardErrorDropped {
  public:
    StandardErrorDropped();
    ~StandardErrorDropped();
    StandardErrorDropped(const StandardErrorDropped&) = delete;
    StandardErrorDropped& operator=(const StandardErrorDropped&) = delete;

  private:
    int kept_ = -1;
};

}  // namespace bandwright::platform
