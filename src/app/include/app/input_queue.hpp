#pragma once

#include <cstddef>
#include <deque>

struct ImGuiIO;

namespace bandwright::app {

/// One thing the person did at mouse or keyboard, in the order it was done.
struct InputEvent {
    enum class Kind : unsigned char { MouseMove, MouseLeave, MouseButton, Wheel, Key, Character };
    Kind kind = Kind::MouseMove;
    float x = 0, y = 0;  ///< pixels from the window's top left corner; notches for Wheel
    int code = 0;        ///< button (0 left, 1 right, 2 middle), Key, or Unicode code point
    bool down = false;   ///< MouseButton, Key
    int modifiers = 0;   ///< sum of Modifiers
};

/// Hands events to Dear ImGui so that each frame sees at most one change of a button or a key. ImGui 1.86
/// looks at the state of buttons once a frame, so a click that begins and ends within one slow frame would be
/// lost.
class InputQueue {
  public:
    void push(const InputEvent& event) { events_.push_back(event); }

    /// Applies the events that may share the coming frame, in order, and keeps the others for the frames
    /// after it.
    void feed(ImGuiIO& io);

    bool empty() const { return events_.empty(); }

  private:
    std::deque<InputEvent> events_;
};

}  // namespace bandwright::app
