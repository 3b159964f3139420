#pragma once

namespace bandwright::platform {

/// While one lives, the person's wish to stop (Ctrl-C, or the system's polite request to end) is noted
/// instead of ending the program at once; asked a second time, the program ends. A platform without such
/// requests does nothing.
class InterruptNoted {
  public:
    InterruptNoted();
    ~InterruptNoted();
    InterruptNoted(const InterruptNoted&) = delete;
    InterruptNoted& operator=(const InterruptNoted&) = delete;
};

/// Whether the person has asked to stop.
bool interrupted();

}  // namespace bandwright::platform
