#include "hidden_window.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

namespace bandwright::platform {

GLFWwindow* hiddenWindow(bool debug) {
    if (glfwInit() == GLFW_FALSE) return nullptr;
    glfwWindowHint(GLFW_VISIBLE, GLFW_FALSE);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 4);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 1);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_OPENGL_DEBUG_CONTEXT, debug ? GLFW_TRUE : GLFW_FALSE);
    GLFWwindow* window = glfwCreateWindow(16, 16, "", nullptr, nullptr);
    glfwDefaultWindowHints();
    if (window != nullptr) glfwMakeContextCurrent(window);
    return window;
}

}  // namespace bandwright::platform
