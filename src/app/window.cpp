#include "app/window.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <bit>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "app/bench.hpp"
#include "app/input_queue.hpp"
#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "glfw_keys.hpp"
#include "platform/gl_loader.hpp"
#include "platform/paths.hpp"
#include "platform/terminal.hpp"
#include "render/image.hpp"
#include "render/renderer.hpp"
#include "render/still.hpp"

namespace bandwright::app {

namespace {

using Clock = std::chrono::steady_clock;

/// Seconds between two stores of unsaved work: what is lost with the program is less than a second old.
constexpr double kKeepSafeEvery = 0.5;
constexpr int kSettlingFrames = 3;  ///< frames after an event until ImGui's layout has come to rest

/// The data that GLFW's callbacks use.
struct Arrivals {
    InputQueue queue;
    std::filesystem::path dropped;
    bool closeAsked = false;
    int framesDue = kSettlingFrames;
};

Arrivals& arrivals(GLFWwindow* window) {
    auto& found = *static_cast<Arrivals*>(glfwGetWindowUserPointer(window));
    found.framesDue = kSettlingFrames;
    return found;
}

void installCallbacks(GLFWwindow* window) {
    using Kind = InputEvent::Kind;
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
        arrivals(w).queue.push({Kind::MouseMove, static_cast<float>(x), static_cast<float>(y)});
    });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
        if (entered == GLFW_FALSE) arrivals(w).queue.push({Kind::MouseLeave});
    });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int modifiers) {
        arrivals(w).queue.push(
            {Kind::MouseButton, 0, 0, button, action == GLFW_PRESS, modifiersOfGlfw(modifiers)});
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
        arrivals(w).queue.push({Kind::Wheel, static_cast<float>(x), static_cast<float>(y)});
    });
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int, int action, int modifiers) {
        Arrivals& found = arrivals(w);
        if (action == GLFW_REPEAT) return;  // ImGui repeats held keys itself; waking it up is enough
        found.queue.push({Kind::Key, 0, 0, static_cast<int>(keyOfGlfw(key)), action == GLFW_PRESS,
                          modifiersOfGlfw(modifiers)});
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned point) {
        arrivals(w).queue.push({Kind::Character, 0, 0, static_cast<int>(point), true});
    });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { arrivals(w); });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { arrivals(w); });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
        arrivals(w);
        ImGui::GetIO().AddFocusEvent(focused == GLFW_TRUE);
    });
    glfwSetDropCallback(window, [](GLFWwindow* w, int count, const char** paths) {
        if (count > 0) arrivals(w).dropped = paths[0];
    });
    glfwSetWindowCloseCallback(window, [](GLFWwindow* w) {
        arrivals(w).closeAsked = true;
        glfwSetWindowShouldClose(w, GLFW_FALSE);
    });
}

/// GLFW and its one window, with an OpenGL 4.1 context current.
class Screen {
  public:
    Screen(int width, int height) {
        const platform::StandardErrorDropped withoutDriversWords;
        if (glfwInit() == GLFW_FALSE) fail("There is no display to open a window on");
        window_ = opened(width, height);
        if (window_ == nullptr) {  // the card or its driver is too old: slower, but all is there
            glfwTerminate();
            platform::drawInSoftware();
            if (glfwInit() == GLFW_TRUE) window_ = opened(width, height);
        }
        if (window_ == nullptr) {
            glfwTerminate();
            fail(
                "This display cannot show OpenGL 4.1, which Debian's libgl1-mesa-dri draws without a "
                "graphics card, too");
        }
        glfwSetWindowSizeLimits(window_, 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
        glfwMakeContextCurrent(window_);
        glfwSwapInterval(1);
    }
    ~Screen() {
        glfwDestroyWindow(window_);
        glfwTerminate();
    }
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;

    GLFWwindow* window() const { return window_; }

  private:
    /// Null where there is no OpenGL 4.1. EGL draws on this machine where the display is another's, as over a
    /// network, or has no GLX.
    static GLFWwindow* opened(int width, int height) {
        for (const int way : {GLFW_NATIVE_CONTEXT_API, GLFW_EGL_CONTEXT_API}) {
            glfwWindowHint(GLFW_CONTEXT_CREATION_API, way);
            glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 4);
            glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 1);
            glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
            glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
            if (GLFWwindow* window = glfwCreateWindow(width, height, "Bandwright", nullptr, nullptr))
                return window;
        }
        return nullptr;
    }
    [[noreturn]] static void fail(const std::string& what) {
        throw std::runtime_error(
            what +
            "; without one, work with: bandwright check FILE, bandwright export FILE -o OUT.obj, "
            "bandwright picture FILE -o OUT.png");
    }
    GLFWwindow* window_ = nullptr;
};

/// ImGui with its OpenGL backend, for as long as the screen's context is current.
class Interface {
  public:
    Interface() {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        io.ConfigInputTextCursorBlink = false;  // so that an idle window need not wake up
        io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
        mapKeys(io);
        ImGui_ImplOpenGL3_Init("#version 410 core");
    }
    ~Interface() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui::DestroyContext();
    }
    Interface(const Interface&) = delete;
    Interface& operator=(const Interface&) = delete;
};

/// Framebuffer pixels per mm of the screen under the window's middle; 0 if its size is not known.
double screenPixelsPerMm(GLFWwindow* window) {
    int x = 0, y = 0, width = 0, height = 0, across = 0, down = 0, count = 0;
    glfwGetWindowPos(window, &x, &y);
    glfwGetWindowSize(window, &width, &height);
    glfwGetFramebufferSize(window, &across, &down);
    GLFWmonitor** monitors = glfwGetMonitors(&count);
    for (int i = 0; i < count; ++i) {
        int left = 0, top = 0, wide = 0, high = 0;
        glfwGetMonitorPos(monitors[i], &left, &top);
        glfwGetMonitorPhysicalSize(monitors[i], &wide, &high);
        const GLFWvidmode* mode = glfwGetVideoMode(monitors[i]);
        const int middleX = x + width / 2, middleY = y + height / 2;
        if (mode == nullptr || wide <= 0 || width <= 0) continue;
        if (middleX < left || middleX >= left + mode->width || middleY < top || middleY >= top + mode->height)
            continue;
        return static_cast<double>(mode->width) / wide * across / width;
    }
    return 0;
}

class GlPainter : public Painter {
  public:
    GlPainter(GLFWwindow* window, const InputQueue& waiting)
        : window_(window), waiting_(waiting), renderer_(glfwGetProcAddress) {}
    ImTextureID paint(const scene::Scene& scene, scene::Size size, bool moving) override {
        // Refining can wait while the person's hands are ahead of the picture.
        if (moving || waiting_.empty())
            texture_ = renderer_.draw(scene, size, moving ? render::Quality::Moving : render::Quality::Still);
        return std::bit_cast<ImTextureID>(std::uintptr_t{texture_});
    }
    bool settled() const override { return renderer_.settled(); }
    std::optional<std::string> still(const scene::Scene& scene, scene::Size size) override {
        renderer_.draw(scene, size, render::Quality::Still);
        if (!renderer_.settled()) return std::nullopt;
        return render::pngOf(renderer_.read());
    }
    bool advance(render::StillPainting& painting) override { return painting.advance(renderer_); }
    ImTextureID show(std::span<const std::uint8_t> rgba, scene::Size size) override {
        return std::bit_cast<ImTextureID>(std::uintptr_t{renderer_.textureOf(rgba, size)});
    }
    double pixelsPerMm() const override { return screenPixelsPerMm(window_); }

  private:
    GLFWwindow* window_;
    const InputQueue& waiting_;
    render::Renderer renderer_;
    unsigned texture_ = 0;
};

class Cursors {
  public:
    Cursors() {
        shapes_[ImGuiMouseCursor_TextInput] = glfwCreateStandardCursor(GLFW_IBEAM_CURSOR);
        shapes_[ImGuiMouseCursor_ResizeEW] = glfwCreateStandardCursor(GLFW_HRESIZE_CURSOR);
        shapes_[ImGuiMouseCursor_ResizeNS] = glfwCreateStandardCursor(GLFW_VRESIZE_CURSOR);
        shapes_[ImGuiMouseCursor_Hand] = glfwCreateStandardCursor(GLFW_HAND_CURSOR);
    }
    void show(GLFWwindow* window) {
        const int wanted = ImGui::GetMouseCursor();
        if (wanted == shown_ || wanted < 0) return;
        shown_ = wanted;
        glfwSetCursor(window, shapes_[static_cast<std::size_t>(wanted)]);
    }

  private:
    std::array<GLFWcursor*, ImGuiMouseCursor_COUNT> shapes_{};  ///< GLFW destroys them when it ends
    int shown_ = ImGuiMouseCursor_Arrow;
};

/// The interface's scale: the person's choice, or what the screen reports.
float scaleFor(GLFWwindow* window, const Settings& settings) {
    if (settings.uiScale > 0) return static_cast<float>(settings.uiScale);
    float x = 1, y = 1;
    glfwGetWindowContentScale(window, &x, &y);
    int points = 0, pixels = 0, ignored = 0;
    glfwGetWindowSize(window, &points, &ignored);
    glfwGetFramebufferSize(window, &pixels, &ignored);
    // Where the system scales the window itself, pixels outnumber points and there is nothing left to do.
    const float bySystem = points > 0 ? static_cast<float>(pixels) / static_cast<float>(points) : 1;
    return std::clamp(x / bySystem, 0.75F, 3.0F);
}

Bench workBegun(const WindowOptions& options, trade::Catalogue catalogue, const std::filesystem::path& folder,
                bool& asks) {
    Settings settings = readSettings(folder);
    Session session(std::move(catalogue));
    if (!options.file.empty()) {
        try {
            session.open(options.file, options.outside);
        } catch (const formats::ModelOutside&) {
            asks = true;
        }
    }
    return {std::move(session), std::move(settings), folder,
            WorkshopCard(options.workshop, options.workshopFile), options.catalogueIn};
}

}  // namespace

/// The order matters: each member needs those before it and is destroyed before them.
struct WindowLoop::State {
    State(const WindowOptions& options, trade::Catalogue catalogue)
        : folder(options.closeWhenSettled ? std::filesystem::path() : platform::stateFolder()),
          closeWhenSettled(options.closeWhenSettled),
          bench(workBegun(options, std::move(catalogue), folder, asksAboutModel)),
          screen(bench.settings().width, bench.settings().height) {
        if (asksAboutModel) bench.open(options.file);
        glfwSetWindowUserPointer(screen.window(), &arrivals);
        installCallbacks(screen.window());
        ImGuiIO& io = ImGui::GetIO();
        io.ClipboardUserData = screen.window();
        io.SetClipboardTextFn = [](void* w, const char* text) {
            glfwSetClipboardString(static_cast<GLFWwindow*>(w), text);
        };
        io.GetClipboardTextFn = [](void* w) { return glfwGetClipboardString(static_cast<GLFWwindow*>(w)); };
    }

    bool due() const { return arrivals.framesDue > 0 || bench.busy() || !arrivals.queue.empty(); }
    void takeArrivals();
    void keepSafe();
    void setScale();
    void draw();
    void keepSettings();

    std::filesystem::path folder;  ///< of settings and unsaved work; empty = nothing is stored
    bool closeWhenSettled;
    bool asksAboutModel = false;  ///< of the file to begin with, which lies outside its folder
    Bench bench;
    Screen screen;
    Interface interface;
    Arrivals arrivals;
    Theme theme;
    GlPainter painter{screen.window(), arrivals.queue};
    Cursors cursors;
    std::string title;
    int frames = 0;
    Clock::time_point lastFrame = Clock::now(), lastKept = Clock::now();
};

void WindowLoop::State::takeArrivals() {
    arrivals.framesDue = std::max(0, arrivals.framesDue - 1);
    if (std::exchange(arrivals.closeAsked, false)) bench.close();
    if (!arrivals.dropped.empty()) bench.open(std::exchange(arrivals.dropped, {}));
}

void WindowLoop::State::keepSafe() {
    const Clock::time_point now = Clock::now();
    if (std::chrono::duration<double>(now - lastKept).count() < kKeepSafeEvery) return;
    bench.keepSafe();
    lastKept = now;
}

void WindowLoop::State::setScale() {
    const float scale = scaleFor(screen.window(), bench.settings());
    if (scale == theme.scale && theme.body != nullptr) return;
    const bool isFirst = theme.body == nullptr;
    theme = makeTheme(scale);
    if (isFirst) return;  // ImGui's backend makes the texture of the first fonts by itself
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

void WindowLoop::State::draw() {
    int width = 0, height = 0, pixelsAcross = 0, pixelsDown = 0;
    glfwGetWindowSize(screen.window(), &width, &height);
    glfwGetFramebufferSize(screen.window(), &pixelsAcross, &pixelsDown);
    if (width == 0 || height == 0) return;
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DisplayFramebufferScale = {static_cast<float>(pixelsAcross) / static_cast<float>(width),
                                  static_cast<float>(pixelsDown) / static_cast<float>(height)};
    const Clock::time_point now = Clock::now();
    io.DeltaTime = std::clamp(std::chrono::duration<float>(now - lastFrame).count(), 1e-4F, 0.1F);
    lastFrame = now;
    arrivals.queue.feed(io);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui::NewFrame();
    bench.frame(theme, painter);
    ImGui::Render();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(screen.window());
    cursors.show(screen.window());
    if (std::string said = bench.windowTitle(); said != title) {
        title = std::move(said);
        glfwSetWindowTitle(screen.window(), title.c_str());
    }
    bench.settings().width = width;
    bench.settings().height = height;
}

void WindowLoop::State::keepSettings() {
    if (folder.empty()) return;
    try {
        saveSettings(folder, bench.settings());
    } catch (const base::InputError&) {
        // If nothing can be stored, the next start is like this one.
    }
}

WindowLoop::WindowLoop(const WindowOptions& options, trade::Catalogue catalogue)
    : state_(std::make_unique<State>(options, std::move(catalogue))) {}

WindowLoop::~WindowLoop() = default;

bool WindowLoop::due() const {
    return state_->due();
}

void WindowLoop::wait() {
    if (due()) {
        glfwPollEvents();
    } else if (state_->bench.hasUnkeptWork()) {
        glfwWaitEventsTimeout(kKeepSafeEvery);
    } else {
        glfwWaitEvents();
    }
}

bool WindowLoop::frame() {
    state_->takeArrivals();
    state_->keepSafe();
    state_->setScale();
    state_->draw();
    ++state_->frames;
    const bool shown = state_->closeWhenSettled && state_->frames > kSettlingFrames && !state_->bench.busy();
    if (!shown && !state_->bench.done()) return true;
    state_->keepSettings();
    return false;
}

void runWindow(const WindowOptions& options, trade::Catalogue catalogue) {
    WindowLoop loop(options, std::move(catalogue));
    do
        loop.wait();
    while (loop.frame());
}

}  // namespace bandwright::app
