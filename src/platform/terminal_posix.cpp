#include <sys/ioctl.h>
#include <unistd.h>

#include "platform/terminal.hpp"

namespace bandwright::platform {

bool isTerminal(int stream) {
    return isatty(stream) != 0;
}

int terminalColumns() {
    winsize window{};
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0 ? window.ws_col : 0;
}

}  // namespace bandwright::platform
