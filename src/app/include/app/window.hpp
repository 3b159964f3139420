#pragma once

#include <filesystem>
#include <functional>
#include <memory>

#include "formats/stone_model.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

namespace bandwright::app {

struct WindowOptions {
    std::filesystem::path file;  ///< the design to begin with; empty = a new one
    /// Close without a question once the picture has settled; for measuring and for the smoke test.
    bool closeWhenSettled = false;
    trade::Workshop workshop = {};  ///< in which the work is planned
    std::filesystem::path workshopFile = {};
    /// The catalogue in another workshop; empty = it stays as it is.
    std::function<trade::Catalogue(const trade::Workshop&)> catalogueIn = {};
    /// Whether the design may name models outside its folder; where not, the window asks.
    formats::Outside outside = formats::Outside::Refused;
};

/// The window, one frame at a time, so that any loop can drive it: runWindow below, a browser that calls
/// frame() each time it is ready to show a picture, or a test. One at a time, on the main thread.
class WindowLoop {
  public:
    /// Opens the window. Throws InputError when the file is wrong and std::runtime_error when there is no
    /// display or it cannot show OpenGL 4.1; the message says how to work without one.
    WindowLoop(const WindowOptions& options, trade::Catalogue catalogue);
    ~WindowLoop();
    WindowLoop(const WindowLoop&) = delete;
    WindowLoop& operator=(const WindowLoop&) = delete;

    /// Takes in what has happened since the last frame and draws the next; waits for nothing but the display.
    /// False when the person has left; then there is nothing more to draw.
    bool frame();

    /// Whether the next frame would show something new even without new input.
    bool due() const;

    /// Seconds for which the next frame can wait without new input; infinity where nothing is left to do.
    double rest() const;

    /// Waits until the next frame is due; returns at once if it is due already. Only for a loop that may
    /// block.
    void wait();

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Opens the window and works in it until the person leaves; in a browser, where the page goes on drawing
/// frames, it returns at once. Throws as WindowLoop does.
void runWindow(const WindowOptions& options, trade::Catalogue catalogue);

}  // namespace bandwright::app
