// What Windows has of the services of a system.
#include <windows.h>

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <fcntl.h>
#include <io.h>

#include <array>
#include <atomic>
#include <cstdio>
#include <stdexcept>

#include "hidden_window.hpp"
#include "platform/interrupt.hpp"
#include "platform/memory.hpp"
#include "platform/module.hpp"
#include "platform/notice.hpp"
#include "platform/offscreen_context.hpp"
#include "platform/terminal.hpp"
#include "windows_text.hpp"

namespace bandwright::platform {

namespace {

std::atomic<bool> asked = false;

/// The second time the system does what it does by itself: it ends the program.
BOOL WINAPI note(DWORD event) {
    return (event == CTRL_C_EVENT || event == CTRL_BREAK_EVENT) && !asked.exchange(true) ? TRUE : FALSE;
}

}  // namespace

InterruptNoted::InterruptNoted() {
    asked = false;
    SetConsoleCtrlHandler(note, TRUE);
}

InterruptNoted::~InterruptNoted() {
    SetConsoleCtrlHandler(note, FALSE);
}

bool interrupted() {
    return asked;
}

void keepFreedMemory() {}

void* functionIn(const char* /*library*/, const char* /*function*/) {
    return nullptr;
}

bool showNotice(const std::string& title, const std::string& text) {
    return MessageBoxW(nullptr, wide(text).c_str(), wide(title).c_str(), MB_OK | MB_ICONINFORMATION) != 0;
}

struct OffscreenContext::State {
    GLFWwindow* window = nullptr;
};

OffscreenContext::OffscreenContext(const Options& options) : state_(std::make_unique<State>()) {
    const StandardErrorDropped withoutDriversWords;
    state_->window = hiddenWindow(options.debug);
    if (state_->window == nullptr)
        throw std::runtime_error(
            "No picture can be drawn here: this system's graphics do not offer OpenGL 4.1.");
}

OffscreenContext::~OffscreenContext() {
    if (state_->window != nullptr) glfwDestroyWindow(state_->window);
}

GlLoader OffscreenContext::loader() const {
    return glfwGetProcAddress;
}

void drawInSoftware() {}

bool isTerminal(int stream) {
    DWORD mode = 0;
    return GetConsoleMode(reinterpret_cast<HANDLE>(_get_osfhandle(stream)), &mode) != 0;
}

int terminalColumns() {
    CONSOLE_SCREEN_BUFFER_INFO info{};
    return GetConsoleScreenBufferInfo(GetStdHandle(STD_OUTPUT_HANDLE), &info) == 0
               ? 0
               : info.srWindow.Right - info.srWindow.Left + 1;
}

void closeOwnTerminal() {
    std::array<DWORD, 2> programs{};
    if (GetConsoleProcessList(programs.data(), programs.size()) == 1) FreeConsole();
}

StandardErrorDropped::StandardErrorDropped() {
    std::fflush(stderr);
    const int nowhere = _open("NUL", _O_WRONLY | _O_NOINHERIT);
    if (nowhere < 0) return;
    kept_ = _dup(kStandardError);
    if (kept_ >= 0) _dup2(nowhere, kStandardError);
    _close(nowhere);
}

StandardErrorDropped::~StandardErrorDropped() {
    if (kept_ < 0) return;
    std::fflush(stderr);
    _dup2(kept_, kStandardError);
    _close(kept_);
}

}  // namespace bandwright::platform
