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

#include "app/bench.hpp"
#include "app/input_queue.hpp"
#include "base/input_error.hpp"
#include "render/renderer.hpp"

namespace bandwright {

namespace {

using Clock = std::chrono::steady_clock;

constexpr double kKeepSafeEvery = 20;  ///< seconds between two stores of unsaved work
constexpr int kSettlingFrames = 3;     ///< frames after an event until ImGui's layout has come to rest

/// What GLFW's callbacks reach.
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
        arrivals(w).queue.push({Kind::MouseButton, 0, 0, button, action == GLFW_PRESS, modifiers});
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
        arrivals(w).queue.push({Kind::Wheel, static_cast<float>(x), static_cast<float>(y)});
    });
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int, int action, int modifiers) {
        Arrivals& found = arrivals(w);
        if (action == GLFW_REPEAT) return;  // ImGui repeats held keys itself; waking it up is enough
        found.queue.push({Kind::Key, 0, 0, key, action == GLFW_PRESS, modifiers});
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
        if (glfwInit() == GLFW_FALSE) fail("There is no display to open a window on");
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 4);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 1);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
        window_ = glfwCreateWindow(width, height, "Bandwright", nullptr, nullptr);
        if (window_ == nullptr) {
            glfwTerminate();
            fail("This display cannot show OpenGL 4.1");
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

/// Framebuffer pixels a mm of the screen that the window's middle lies on; 0 where its size is not known.
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
    ImTextureID paint(const Scene& scene, Size size, bool moving) override {
        // Refining can wait while the person's hands are ahead of the picture.
        if (moving || waiting_.empty())
            texture_ = renderer_.draw(scene, size, moving ? Quality::Moving : Quality::Still);
        return std::bit_cast<ImTextureID>(std::uintptr_t{texture_});
    }
    bool settled() const override { return renderer_.settled(); }
    double pixelsPerMm() const override { return screenPixelsPerMm(window_); }

  private:
    GLFWwindow* window_;
    const InputQueue& waiting_;
    Renderer renderer_;
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

/// One window's life, frame by frame.
class Frames {
  public:
    Frames(GLFWwindow* window, Bench& bench) : window_(window), bench_(bench) {
        glfwSetWindowUserPointer(window, &arrivals_);
        installCallbacks(window);
        ImGuiIO& io = ImGui::GetIO();
        io.ClipboardUserData = window;
        io.SetClipboardTextFn = [](void* w, const char* text) {
            glfwSetClipboardString(static_cast<GLFWwindow*>(w), text);
        };
        io.GetClipboardTextFn = [](void* w) { return glfwGetClipboardString(static_cast<GLFWwindow*>(w)); };
    }

    void run(bool closeWhenSettled) {
        int frames = 0;
        while (!bench_.done()) {
            wait();
            takeArrivals();
            draw();
            ++frames;
            if (closeWhenSettled && frames > kSettlingFrames && !bench_.busy()) return;
        }
    }

  private:
    void wait() {
        if (arrivals_.framesDue > 0 || bench_.busy() || !arrivals_.queue.empty()) {
            glfwPollEvents();
        } else if (bench_.hasUnkeptWork()) {
            glfwWaitEventsTimeout(kKeepSafeEvery);
        } else {
            glfwWaitEvents();
        }
        arrivals_.framesDue = std::max(0, arrivals_.framesDue - 1);
        const Clock::time_point now = Clock::now();
        if (std::chrono::duration<double>(now - lastKept_).count() >= kKeepSafeEvery) {
            bench_.keepSafe();
            lastKept_ = now;
        }
    }

    void takeArrivals() {
        if (std::exchange(arrivals_.closeAsked, false)) bench_.close();
        if (!arrivals_.dropped.empty()) bench_.open(std::exchange(arrivals_.dropped, {}));
    }

    void draw() {
        ImGuiIO& io = ImGui::GetIO();
        const float scale = scaleFor(window_, bench_.settings());
        if (scale != theme_.scale || theme_.body == nullptr) {
            theme_ = makeTheme(scale);
            ImGui_ImplOpenGL3_DestroyFontsTexture();
        }
        int width = 0, height = 0, pixelsAcross = 0, pixelsDown = 0;
        glfwGetWindowSize(window_, &width, &height);
        glfwGetFramebufferSize(window_, &pixelsAcross, &pixelsDown);
        if (width == 0 || height == 0) return;
        io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
        io.DisplayFramebufferScale = {static_cast<float>(pixelsAcross) / static_cast<float>(width),
                                      static_cast<float>(pixelsDown) / static_cast<float>(height)};
        const Clock::time_point now = Clock::now();
        io.DeltaTime = std::clamp(std::chrono::duration<float>(now - lastFrame_).count(), 1e-4F, 0.1F);
        lastFrame_ = now;
        arrivals_.queue.feed(io);
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
        bench_.frame(theme_, painter_);
        ImGui::Render();
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        glfwSwapBuffers(window_);
        cursors_.show(window_);
        if (const std::string title = bench_.windowTitle(); title != title_) {
            title_ = title;
            glfwSetWindowTitle(window_, title.c_str());
        }
        bench_.settings().width = width;
        bench_.settings().height = height;
    }

    GLFWwindow* window_;
    Bench& bench_;
    Arrivals arrivals_;
    Theme theme_;
    GlPainter painter_{window_, arrivals_.queue};
    Cursors cursors_;
    std::string title_;
    Clock::time_point lastFrame_ = Clock::now(), lastKept_ = Clock::now();
};

}  // namespace

void runWindow(const WindowOptions& options, Catalogue catalogue) {
    const std::filesystem::path folder = options.closeWhenSettled ? std::filesystem::path() : stateFolder();
    Settings settings = readSettings(folder);
    Session session(std::move(catalogue));
    if (!options.file.empty()) {
        session.open(options.file);
        remember(settings, std::filesystem::absolute(options.file).lexically_normal());
    }
    const Screen screen(settings.width, settings.height);
    const Interface interface;
    Bench bench(std::move(session), std::move(settings), folder);
    Frames(screen.window(), bench).run(options.closeWhenSettled);
    if (folder.empty()) return;
    try {
        saveSettings(folder, bench.settings());
    } catch (const InputError&) {
        // Where nothing can be kept, the next start begins as this one did.
    }
}

}  // namespace bandwright
