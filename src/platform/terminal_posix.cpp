#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cstdio>

#include "platform/terminal.hpp"

namespace bandwright::platform {

bool isTerminal(int stream) {
    return isatty(stream) != 0;
}

int terminalColumns() {
    winsize window{};
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0 ? window.ws_col : 0;
}

void closeOwnTerminal() {}

StandardErrorDropped::StandardErrorDropped() {
    std::fflush(stderr);
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere < 0) return;
    kept_ = ::fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 0);
    if (kept_ >= 0) ::dup2(nowhere, STDERR_FILENO);
    ::close(nowhere);
}

StandardErrorDropped::~StandardErrorDropped() {
    if (kept_ < 0) return;
    std::fflush(stderr);
    ::dup2(kept_, STDERR_FILENO);
    ::close(kept_);
}

}  // namespace bandwright::platform
