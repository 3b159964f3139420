#include "app/input_queue.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <cfloat>

namespace bandwright {

namespace {

/// What has changed so far in the frame being fed.
struct FrameChanges {
    bool button = false, key = false, wheel = false;
};

/// A key that only writes while a text is being typed: its going down and up need not be seen apart.
bool onlyWrites(const ImGuiIO& io, const InputEvent& event) {
    constexpr int kCommand = GLFW_MOD_CONTROL | GLFW_MOD_ALT | GLFW_MOD_SUPER;
    return io.WantTextInput && event.code >= GLFW_KEY_SPACE && event.code <= GLFW_KEY_GRAVE_ACCENT &&
           (event.modifiers & kCommand) == 0;
}

bool mustWait(const InputEvent& event, const FrameChanges& changes) {
    switch (event.kind) {
        case InputEvent::Kind::MouseMove:
        case InputEvent::Kind::MouseLeave:
            return changes.button || changes.wheel;  // a click belongs to the place where it was made
        case InputEvent::Kind::MouseButton:
            return changes.button || changes.key;
        case InputEvent::Kind::Wheel:
            return changes.button;
        case InputEvent::Kind::Key:
            return changes.button || changes.key;
        case InputEvent::Kind::Character:
            return changes.key;
    }
    return false;
}

void setModifiers(ImGuiIO& io, int modifiers) {
    io.KeyCtrl = (modifiers & GLFW_MOD_CONTROL) != 0;
    io.KeyShift = (modifiers & GLFW_MOD_SHIFT) != 0;
    io.KeyAlt = (modifiers & GLFW_MOD_ALT) != 0;
    io.KeySuper = (modifiers & GLFW_MOD_SUPER) != 0;
}

void apply(ImGuiIO& io, const InputEvent& event, FrameChanges& changes) {
    switch (event.kind) {
        case InputEvent::Kind::MouseMove:
            io.MousePos = {event.x, event.y};
            return;
        case InputEvent::Kind::MouseLeave:
            io.MousePos = {-FLT_MAX, -FLT_MAX};
            return;
        case InputEvent::Kind::MouseButton:
            if (event.code >= 0 && event.code < 5) io.MouseDown[event.code] = event.down;
            setModifiers(io, event.modifiers);
            changes.button = true;
            return;
        case InputEvent::Kind::Wheel:
            io.MouseWheelH += event.x;
            io.MouseWheel += event.y;
            changes.wheel = true;
            return;
        case InputEvent::Kind::Key:
            if (event.code >= 0 && event.code < IM_ARRAYSIZE(io.KeysDown))
                io.KeysDown[event.code] = event.down;
            setModifiers(io, event.modifiers);
            changes.key = changes.key || !onlyWrites(io, event);
            return;
        case InputEvent::Kind::Character:
            io.AddInputCharacter(static_cast<unsigned>(event.code));
            return;
    }
}

}  // namespace

void InputQueue::feed(ImGuiIO& io) {
    FrameChanges changes;
    while (!events_.empty() && !mustWait(events_.front(), changes)) {
        apply(io, events_.front(), changes);
        events_.pop_front();
    }
}

void mapKeys(ImGuiIO& io) {
    io.KeyMap[ImGuiKey_Tab] = GLFW_KEY_TAB;
    io.KeyMap[ImGuiKey_LeftArrow] = GLFW_KEY_LEFT;
    io.KeyMap[ImGuiKey_RightArrow] = GLFW_KEY_RIGHT;
    io.KeyMap[ImGuiKey_UpArrow] = GLFW_KEY_UP;
    io.KeyMap[ImGuiKey_DownArrow] = GLFW_KEY_DOWN;
    io.KeyMap[ImGuiKey_PageUp] = GLFW_KEY_PAGE_UP;
    io.KeyMap[ImGuiKey_PageDown] = GLFW_KEY_PAGE_DOWN;
    io.KeyMap[ImGuiKey_Home] = GLFW_KEY_HOME;
    io.KeyMap[ImGuiKey_End] = GLFW_KEY_END;
    io.KeyMap[ImGuiKey_Insert] = GLFW_KEY_INSERT;
    io.KeyMap[ImGuiKey_Delete] = GLFW_KEY_DELETE;
    io.KeyMap[ImGuiKey_Backspace] = GLFW_KEY_BACKSPACE;
    io.KeyMap[ImGuiKey_Space] = GLFW_KEY_SPACE;
    io.KeyMap[ImGuiKey_Enter] = GLFW_KEY_ENTER;
    io.KeyMap[ImGuiKey_Escape] = GLFW_KEY_ESCAPE;
    io.KeyMap[ImGuiKey_KeyPadEnter] = GLFW_KEY_KP_ENTER;
    io.KeyMap[ImGuiKey_A] = GLFW_KEY_A;
    io.KeyMap[ImGuiKey_C] = GLFW_KEY_C;
    io.KeyMap[ImGuiKey_V] = GLFW_KEY_V;
    io.KeyMap[ImGuiKey_X] = GLFW_KEY_X;
    io.KeyMap[ImGuiKey_Y] = GLFW_KEY_Y;
    io.KeyMap[ImGuiKey_Z] = GLFW_KEY_Z;
}

}  // namespace bandwright
