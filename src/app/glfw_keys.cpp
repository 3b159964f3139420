#include "glfw_keys.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

namespace bandwright::app {

namespace {

/// The key at the same distance from `first` as GLFW's key from GLFW's `first`.
Key sameWayFrom(Key first, int glfwFirst, int glfw) {
    return static_cast<Key>(static_cast<int>(first) + glfw - glfwFirst);
}

Key writingKey(int key) {
    if (key >= GLFW_KEY_0 && key <= GLFW_KEY_9) return sameWayFrom(Key::Digit0, GLFW_KEY_0, key);
    if (key >= GLFW_KEY_A && key <= GLFW_KEY_Z) return sameWayFrom(Key::A, GLFW_KEY_A, key);
    switch (key) {
        case GLFW_KEY_SPACE:
            return Key::Space;
        case GLFW_KEY_APOSTROPHE:
            return Key::Apostrophe;
        case GLFW_KEY_COMMA:
            return Key::Comma;
        case GLFW_KEY_MINUS:
            return Key::Minus;
        case GLFW_KEY_PERIOD:
            return Key::Period;
        case GLFW_KEY_SLASH:
            return Key::Slash;
        case GLFW_KEY_SEMICOLON:
            return Key::Semicolon;
        case GLFW_KEY_EQUAL:
            return Key::Equal;
        case GLFW_KEY_LEFT_BRACKET:
            return Key::LeftBracket;
        case GLFW_KEY_BACKSLASH:
            return Key::Backslash;
        case GLFW_KEY_RIGHT_BRACKET:
            return Key::RightBracket;
        case GLFW_KEY_GRAVE_ACCENT:
            return Key::Grave;
        default:
            return Key::Other;
    }
}

}  // namespace

Key keyOfGlfw(int key) {
    // GLFW has them in this order, beginning with Escape.
    if (key >= GLFW_KEY_ESCAPE && key <= GLFW_KEY_END) return sameWayFrom(Key::Escape, GLFW_KEY_ESCAPE, key);
    switch (key) {
        case GLFW_KEY_F1:
            return Key::F1;
        case GLFW_KEY_KP_ADD:
            return Key::KeypadAdd;
        case GLFW_KEY_KP_SUBTRACT:
            return Key::KeypadSubtract;
        case GLFW_KEY_KP_ENTER:
            return Key::KeypadEnter;
        default:
            return writingKey(key);
    }
}

int modifiersOfGlfw(int modifiers) {
    const auto has = [modifiers](int bit) { return (modifiers & bit) != 0; };
    return (has(GLFW_MOD_SHIFT) ? kShift : 0) + (has(GLFW_MOD_CONTROL) ? kCtrl : 0) +
           (has(GLFW_MOD_ALT) ? kAlt : 0) + (has(GLFW_MOD_SUPER) ? kSuper : 0);
}

}  // namespace bandwright::app
