// What a browser has of the services of a system, and Node.js.
#include <emscripten/html5.h>

#include <stdexcept>

#include "platform/concurrently.hpp"
#include "platform/interrupt.hpp"
#include "platform/memory.hpp"
#include "platform/module.hpp"
#include "platform/notice.hpp"
#include "platform/offscreen_context.hpp"
#include "platform/terminal.hpp"

namespace bandwright::platform {

// Threads need headers of a server, and a page from a disk has none.
void concurrently(const std::function<void()>& first, const std::function<void()>& second) {
    first();
    second();
}

InterruptNoted::InterruptNoted() = default;
InterruptNoted::~InterruptNoted() = default;

bool interrupted() {
    return false;
}

void keepFreedMemory() {}

void* functionIn(const char* /*library*/, const char* /*function*/) {
    return nullptr;
}

bool showNotice(const std::string& /*title*/, const std::string& /*text*/) {
    return false;
}

struct OffscreenContext::State {
    EMSCRIPTEN_WEBGL_CONTEXT_HANDLE before = emscripten_webgl_get_current_context();
    EMSCRIPTEN_WEBGL_CONTEXT_HANDLE own = 0;
};

OffscreenContext::OffscreenContext(const Options& /*options*/) : state_(std::make_unique<State>()) {
    EmscriptenWebGLContextAttributes wanted;
    emscripten_webgl_init_context_attributes(&wanted);
    wanted.majorVersion = 2;
    wanted.antialias = EM_FALSE;
    if (state_->before != 0) state_->own = emscripten_webgl_create_context("#offscreen", &wanted);
    if (state_->own <= 0)
        throw std::runtime_error("No picture can be drawn here: that needs a browser's window with WebGL 2.");
    emscripten_webgl_make_context_current(state_->own);
}

OffscreenContext::~OffscreenContext() {
    emscripten_webgl_destroy_context(state_->own);
    emscripten_webgl_make_context_current(state_->before);
}

GlLoader OffscreenContext::loader() const {
    return nullptr;
}

void drawInSoftware() {}

bool isTerminal(int /*stream*/) {
    return false;
}

int terminalColumns() {
    return 0;
}

void closeOwnTerminal() {}

StandardErrorDropped::StandardErrorDropped() = default;
StandardErrorDropped::~StandardErrorDropped() {
    kept_ = -1;  // there is no such stream
}

}  // namespace bandwright::platform
