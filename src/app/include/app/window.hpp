#pragma once

#include <filesystem>
#include <memory>

#include "trade/catalogue.hpp"

namespace bandwright::app {

struct WindowOptions {
    std::filesystem::path file;  ///< the design to begin with; empty = a new one
    /// Leave after the picture has settled, without a question; for measuring and for the smoke test.
    bool closeWhenSettled = false;
};

/// The window, one frame at a time, so that whoever has a loop can drive it: runWindow below, a browser that
/// calls frame() each time it is ready to show a picture, or a test. One at a time, on the main thread.
class WindowLoop {
  public:
    /// Opens the window. Throws InputError when the file is wrong and std::runtime_error when there is no
    /// display or it cannot show OpenGL 4.1; the message says how to work without one.
    WindowLoop(const WindowOptions& options, trade::Catalogue catalogue);
    ~WindowLoop();
    WindowLoop(const WindowLoop&) = delete;
    WindowLoop& operator=(const WindowLoop&) = delete;

    /// Takes in what has happened since the last frame and draws the next; never waits, but for the display.
    /// False when the person has left; then there is nothing more to draw.
    bool frame();

    /// Whether the next frame would show something new although nothing more happens.
    bool due() const;

    /// Waits until the next frame is due; not at all when it is already. Only for a loop that may stand
    /// still.
    void wait();

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Opens the window and works in it until the person leaves. Throws as WindowLoop does.
void runWindow(const WindowOptions& options, trade::Catalogue catalogue);

}  // namespace bandwright::app
