#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "app/window.hpp"
#include "glfw_keys.hpp"
#include "platform/terminal.hpp"
#include "screen.hpp"

namespace bandwright::app {

namespace {

Arrivals& arrivalsOf(GLFWwindow* window) {
    auto& found = *static_cast<Arrivals*>(glfwGetWindowUserPointer(window));
    found.framesDue = kSettlingFrames;
    return found;
}

void installCallbacks(GLFWwindow* window) {
    using Kind = InputEvent::Kind;
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
        arrivalsOf(w).queue.push({Kind::MouseMove, static_cast<float>(x), static_cast<float>(y)});
    });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
        if (entered == GLFW_FALSE) arrivalsOf(w).queue.push({Kind::MouseLeave});
    });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int modifiers) {
        arrivalsOf(w).queue.push(
            {Kind::MouseButton, 0, 0, button, action == GLFW_PRESS, modifiersOfGlfw(modifiers)});
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
        arrivalsOf(w).queue.push({Kind::Wheel, static_cast<float>(x), static_cast<float>(y)});
    });
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int, int action, int modifiers) {
        Arrivals& found = arrivalsOf(w);
        if (action == GLFW_REPEAT) return;  // ImGui repeats held keys itself; waking it up is enough
        found.queue.push({Kind::Key, 0, 0, static_cast<int>(keyOfGlfw(key)), action == GLFW_PRESS,
                          modifiersOfGlfw(modifiers)});
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned point) {
        arrivalsOf(w).queue.push({Kind::Character, 0, 0, static_cast<int>(point), true});
    });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { arrivalsOf(w); });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { arrivalsOf(w); });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
        arrivalsOf(w);
        ImGui::GetIO().AddFocusEvent(focused == GLFW_TRUE);
    });
    glfwSetDropCallback(window, [](GLFWwindow* w, int count, const char** paths) {
        if (count > 0) arrivalsOf(w).dropped = paths[0];
    });
    glfwSetWindowCloseCallback(window, [](GLFWwindow* w) {
        arrivalsOf(w).closeAsked = true;
        glfwSetWindowShouldClose(w, GLFW_FALSE);
    });
}

/// Null where there is no OpenGL 4.1. EGL draws on this machine where the display is another's, as over a
/// network, or has no GLX.
GLFWwindow* opened(int width, int height) {
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

#ifdef _WIN32
constexpr const char* kNoOpenGl =
    "The driver of the graphics card does not offer OpenGL 4.1; a newer one from the card's maker may";
#else
constexpr const char* kNoOpenGl =
    "This display cannot show OpenGL 4.1, which Debian's libgl1-mesa-dri draws without a graphics card, too";
#endif

[[noreturn]] void fail(const std::string& what) {
    throw std::runtime_error(
        what +
        "; without one, work with: bandwright check FILE, bandwright export FILE -o OUT.obj, "
        "bandwright picture FILE -o OUT.png");
}

}  // namespace

struct Screen::State {
    GLFWwindow* window = nullptr;
    std::array<GLFWcursor*, ImGuiMouseCursor_COUNT> cursors{};  ///< GLFW destroys them when it ends
    int cursorShown = ImGuiMouseCursor_Arrow;
};

Screen::Screen(int width, int height, Arrivals& arrivals) : state_(std::make_unique<State>()) {
    GLFWwindow*& window = state_->window;
    const platform::StandardErrorDropped withoutDriversWords;
    if (glfwInit() == GLFW_FALSE) fail("There is no display to open a window on");
    window = opened(width, height);
    if (window == nullptr) {  // the card or its driver is too old: slower, but all is there
        glfwTerminate();
        platform::drawInSoftware();
        if (glfwInit() == GLFW_TRUE) window = opened(width, height);
    }
    if (window == nullptr) {
        glfwTerminate();
        fail(kNoOpenGl);
    }
    platform::closeOwnTerminal();
    glfwSetWindowSizeLimits(window, 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwMakeContextCurrent(window);
    glfwSwapInterval(1);
    state_->cursors[ImGuiMouseCursor_TextInput] = glfwCreateStandardCursor(GLFW_IBEAM_CURSOR);
    state_->cursors[ImGuiMouseCursor_ResizeEW] = glfwCreateStandardCursor(GLFW_HRESIZE_CURSOR);
    state_->cursors[ImGuiMouseCursor_ResizeNS] = glfwCreateStandardCursor(GLFW_VRESIZE_CURSOR);
    state_->cursors[ImGuiMouseCursor_Hand] = glfwCreateStandardCursor(GLFW_HAND_CURSOR);
    glfwSetWindowUserPointer(window, &arrivals);
}

Screen::~Screen() {
    glfwDestroyWindow(state_->window);
    glfwTerminate();
}

const char* Screen::shaderVersion() {
    return "#version 410 core";
}

void Screen::begin() {
    installCallbacks(state_->window);
    ImGuiIO& io = ImGui::GetIO();
    io.ClipboardUserData = state_->window;
    io.SetClipboardTextFn = [](void* w, const char* text) {
        glfwSetClipboardString(static_cast<GLFWwindow*>(w), text);
    };
    io.GetClipboardTextFn = [](void* w) { return glfwGetClipboardString(static_cast<GLFWwindow*>(w)); };
}

platform::GlLoader Screen::loader() const {
    return glfwGetProcAddress;
}

ScreenSize Screen::size() const {
    ScreenSize size;
    glfwGetWindowSize(state_->window, &size.width, &size.height);
    glfwGetFramebufferSize(state_->window, &size.pixelsAcross, &size.pixelsDown);
    return size;
}

float Screen::scale() const {
    float x = 1, y = 1;
    glfwGetWindowContentScale(state_->window, &x, &y);
    // Where the system scales the window itself, pixels outnumber points and there is nothing left to do.
    const ScreenSize now = size();
    return now.width > 0 ? x * static_cast<float>(now.width) / static_cast<float>(now.pixelsAcross) : x;
}

double Screen::pixelsPerMm() const {
    int x = 0, y = 0, count = 0;
    glfwGetWindowPos(state_->window, &x, &y);
    const ScreenSize now = size();
    GLFWmonitor** monitors = glfwGetMonitors(&count);
    for (int i = 0; i < count; ++i) {
        int left = 0, top = 0, wide = 0, high = 0;
        glfwGetMonitorPos(monitors[i], &left, &top);
        glfwGetMonitorPhysicalSize(monitors[i], &wide, &high);
        const GLFWvidmode* mode = glfwGetVideoMode(monitors[i]);
        const int middleX = x + now.width / 2, middleY = y + now.height / 2;
        if (mode == nullptr || wide <= 0 || now.width <= 0) continue;
        if (middleX < left || middleX >= left + mode->width || middleY < top || middleY >= top + mode->height)
            continue;
        return static_cast<double>(mode->width) / wide * now.pixelsAcross / now.width;
    }
    return 0;
}

void Screen::show() {
    glfwSwapBuffers(state_->window);
    const int wanted = ImGui::GetMouseCursor();
    if (wanted == state_->cursorShown || wanted < 0) return;
    state_->cursorShown = wanted;
    glfwSetCursor(state_->window, state_->cursors[static_cast<std::size_t>(wanted)]);
}

void Screen::setTitle(const std::string& title) {
    glfwSetWindowTitle(state_->window, title.c_str());
}

void Screen::wait(double seconds) {
    if (seconds <= 0) {
        glfwPollEvents();
    } else if (std::isfinite(seconds)) {
        glfwWaitEventsTimeout(seconds);
    } else {
        glfwWaitEvents();
    }
}

void runWindow(const WindowOptions& options, trade::Catalogue catalogue) {
    WindowLoop loop(options, std::move(catalogue));
    do
        loop.wait();
    while (loop.frame());
}

}  // namespace bandwright::app
