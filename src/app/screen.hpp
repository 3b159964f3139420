#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "app/input_queue.hpp"
#include "platform/gl_loader.hpp"

/// The window's place on the system's screen. Private to the room. GLFW provides it on a desktop, a canvas in
/// a browser.
namespace bandwright::app {

constexpr int kSettlingFrames = 3;  ///< frames after an event until ImGui's layout has come to rest

/// What has come from the person since it was last looked at.
struct Arrivals {
    InputQueue queue;
    std::filesystem::path dropped;  ///< a file to open
    bool closeAsked = false;
    int framesDue = kSettlingFrames;
};

struct ScreenSize {
    int width = 0, height = 0;  ///< in the units of the pointer's place
    int pixelsAcross = 0, pixelsDown = 0;
};

/// One window, with a context of OpenGL 4.1 or WebGL 2 current, ImGui's clipboard, and its cursor's shape.
class Screen {
  public:
    /// The version that shaders name in their first line.
    static const char* shaderVersion();

    /// Fills `arrivals`, which must live as long. Throws std::runtime_error where there is no display or no
    /// such context; the message says how to work without one.
    Screen(int width, int height, Arrivals& arrivals);
    ~Screen();
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;

    /// Arrivals come from now on, and ImGui's clipboard is the system's. With an ImGui context current.
    void begin();

    platform::GlLoader loader() const;
    ScreenSize size() const;
    /// How much larger than usual the system wants things, beyond what it enlarges itself.
    float scale() const;
    /// Framebuffer pixels per mm of the screen under the window's middle; 0 if its size is not known.
    double pixelsPerMm() const;

    /// Shows what was drawn, with ImGui's cursor.
    void show();
    void setTitle(const std::string& title);

    /// Lets arrivals come in, and waits for one, but for no more than so many seconds. A browser does not
    /// wait.
    void wait(double seconds);

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace bandwright::app
