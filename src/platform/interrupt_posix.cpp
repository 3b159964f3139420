#include <csignal>

#include "platform/interrupt.hpp"

namespace bandwright::platform {

namespace {

volatile std::sig_atomic_t asked = 0;

void note(int) {
    asked = 1;
}

void handle(int signal, void (*handler)(int)) {
    struct sigaction action {};
    action.sa_handler = handler;
    // The handler goes after its first use, so that a second request ends the program.
    action.sa_flags = static_cast<int>(handler == SIG_DFL ? 0U : SA_RESETHAND | SA_RESTART);
    sigaction(signal, &action, nullptr);
}

}  // namespace

InterruptNoted::InterruptNoted() {
    asked = 0;
    handle(SIGINT, note);
    handle(SIGTERM, note);
}

InterruptNoted::~InterruptNoted() {
    handle(SIGINT, SIG_DFL);
    handle(SIGTERM, SIG_DFL);
}

bool interrupted() {
    return asked != 0;
}

}  // namespace bandwright::platform
