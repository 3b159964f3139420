#include "app/input_queue.hpp"

#include <imgui.h>

#include <cfloat>

#include "app/keys.hpp"

namespace bandwright::app {

namespace {

/// What has changed so far in the frame being fed.
struct FrameChanges {
    bool button = false, key = false, wheel = false;
};

/// While a text is being typed, this key only writes, so a frame may see it go down and up at once.
bool onlyWrites(const ImGuiIO& io, const InputEvent& event) {
    constexpr int kCommand = kCtrl | kAlt | kSuper;
    return io.WantTextInput && event.code <= static_cast<int>(Key::Grave) &&
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
    io.KeyCtrl = (modifiers & kCtrl) != 0;
    io.KeyShift = (modifiers & kShift) != 0;
    io.KeyAlt = (modifiers & kAlt) != 0;
    io.KeySuper = (modifiers & kSuper) != 0;
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

}  // namespace bandwright::app
