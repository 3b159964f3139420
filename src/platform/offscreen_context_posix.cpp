#include "platform/offscreen_context.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <array>
#include <cstring>
#include <stdexcept>
#include <vector>

#include "hidden_window.hpp"
#include "platform/terminal.hpp"

namespace bandwright::platform {

struct OffscreenContext::State {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;
    GLFWwindow* window = nullptr;
    GlLoader loader = nullptr;
};

namespace {

bool offers(const char* extensions, const char* name) {
    return extensions != nullptr && std::strstr(extensions, name) != nullptr;
}

// Displays of graphics processors, which need no screen; a driver that draws in software is left out.
std::vector<EGLDisplay> deviceDisplays(const char* extensions) {
    if (!offers(extensions, "EGL_EXT_device_base") && !offers(extensions, "EGL_EXT_device_enumeration"))
        return {};
    const auto queryDevices =
        reinterpret_cast<PFNEGLQUERYDEVICESEXTPROC>(eglGetProcAddress("eglQueryDevicesEXT"));
    const auto queryString =
        reinterpret_cast<PFNEGLQUERYDEVICESTRINGEXTPROC>(eglGetProcAddress("eglQueryDeviceStringEXT"));
    EGLint count = 0;
    if (queryDevices == nullptr || queryString == nullptr || queryDevices(0, nullptr, &count) == EGL_FALSE)
        return {};
    std::vector<EGLDeviceEXT> devices(static_cast<std::size_t>(count));
    if (queryDevices(count, devices.data(), &count) == EGL_FALSE) return {};
    devices.resize(static_cast<std::size_t>(count));
    std::vector<EGLDisplay> displays;
    for (EGLDeviceEXT device : devices) {
        if (!offers(queryString(device, EGL_EXTENSIONS), "EGL_MESA_device_software"))
            displays.push_back(eglGetPlatformDisplay(EGL_PLATFORM_DEVICE_EXT, device, nullptr));
    }
    return displays;
}

// Where to draw without a surface, the best first.
std::vector<EGLDisplay> surfacelessDisplays() {
    const char* extensions = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
    std::vector<EGLDisplay> displays = deviceDisplays(extensions);
    if (offers(extensions, "EGL_MESA_platform_surfaceless"))
        displays.push_back(eglGetPlatformDisplay(EGL_PLATFORM_SURFACELESS_MESA, nullptr, nullptr));
    displays.push_back(eglGetDisplay(EGL_DEFAULT_DISPLAY));
    return displays;
}

// A current context, or EGL_NO_CONTEXT.
EGLContext surfacelessContext(EGLDisplay display, bool debug) {
    if (display == EGL_NO_DISPLAY || eglInitialize(display, nullptr, nullptr) == EGL_FALSE)
        return EGL_NO_CONTEXT;
    if (eglBindAPI(EGL_OPENGL_API) == EGL_FALSE) return EGL_NO_CONTEXT;
    const std::array<EGLint, 5> wanted = {EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
    const std::array<EGLint, 9> version = {EGL_CONTEXT_MAJOR_VERSION,
                                           4,
                                           EGL_CONTEXT_MINOR_VERSION,
                                           1,
                                           EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                           EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                           EGL_CONTEXT_OPENGL_DEBUG,
                                           debug ? EGL_TRUE : EGL_FALSE,
                                           EGL_NONE};
    EGLConfig config = nullptr;
    EGLint found = 0;
    if (eglChooseConfig(display, wanted.data(), &config, 1, &found) == EGL_FALSE || found == 0)
        return EGL_NO_CONTEXT;
    const EGLContext context = eglCreateContext(display, config, EGL_NO_CONTEXT, version.data());
    if (context == EGL_NO_CONTEXT) return EGL_NO_CONTEXT;
    if (eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context) == EGL_FALSE) {
        eglDestroyContext(display, context);
        return EGL_NO_CONTEXT;
    }
    return context;
}

}  // namespace

OffscreenContext::OffscreenContext(const Options& options) : state_(std::make_unique<State>()) {
    const StandardErrorDropped withoutDriversWords;
    for (EGLDisplay display : surfacelessDisplays()) {
        state_->display = display;
        state_->context = surfacelessContext(display, options.debug);
        if (state_->context == EGL_NO_CONTEXT) continue;
        state_->loader = reinterpret_cast<GlLoader>(eglGetProcAddress);
        return;
    }
    state_->window = hiddenWindow(options.debug);
    if (state_->window == nullptr) {
        throw std::runtime_error(
            "No picture can be drawn here: OpenGL 4.1 is offered neither by EGL nor by a display.");
    }
    state_->loader = reinterpret_cast<GlLoader>(glfwGetProcAddress);
}

OffscreenContext::~OffscreenContext() {
    if (state_->context != EGL_NO_CONTEXT) {
        eglMakeCurrent(state_->display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        eglDestroyContext(state_->display, state_->context);
    }
    if (state_->window != nullptr) glfwDestroyWindow(state_->window);
}

GlLoader OffscreenContext::loader() const {
    return state_->loader;
}

void drawInSoftware() {
    setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);  // Mesa's; NOLINT(concurrency-mt-unsafe): before any thread is
}

}  // namespace bandwright::platform
