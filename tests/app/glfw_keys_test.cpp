#include "glfw_keys.hpp"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <gtest/gtest.h>

#include <set>
#include <utility>
#include <vector>

namespace bandwright::app {
namespace {

TEST(GlfwKeys, AreWhatIsPrintedOnThem) {
    const std::vector<std::pair<int, Key>> known = {{GLFW_KEY_SPACE, Key::Space},
                                                    {GLFW_KEY_0, Key::Digit0},
                                                    {GLFW_KEY_4, Key::Digit4},
                                                    {GLFW_KEY_9, Key::Digit9},
                                                    {GLFW_KEY_A, Key::A},
                                                    {GLFW_KEY_L, Key::L},
                                                    {GLFW_KEY_W, Key::W},
                                                    {GLFW_KEY_Z, Key::Z},
                                                    {GLFW_KEY_COMMA, Key::Comma},
                                                    {GLFW_KEY_PERIOD, Key::Period},
                                                    {GLFW_KEY_EQUAL, Key::Equal},
                                                    {GLFW_KEY_MINUS, Key::Minus},
                                                    {GLFW_KEY_ESCAPE, Key::Escape},
                                                    {GLFW_KEY_ENTER, Key::Enter},
                                                    {GLFW_KEY_TAB, Key::Tab},
                                                    {GLFW_KEY_BACKSPACE, Key::Backspace},
                                                    {GLFW_KEY_INSERT, Key::Insert},
                                                    {GLFW_KEY_DELETE, Key::Delete},
                                                    {GLFW_KEY_RIGHT, Key::Right},
                                                    {GLFW_KEY_LEFT, Key::Left},
                                                    {GLFW_KEY_DOWN, Key::Down},
                                                    {GLFW_KEY_UP, Key::Up},
                                                    {GLFW_KEY_PAGE_UP, Key::PageUp},
                                                    {GLFW_KEY_PAGE_DOWN, Key::PageDown},
                                                    {GLFW_KEY_HOME, Key::Home},
                                                    {GLFW_KEY_END, Key::End},
                                                    {GLFW_KEY_F1, Key::F1},
                                                    {GLFW_KEY_KP_ADD, Key::KeypadAdd},
                                                    {GLFW_KEY_KP_ENTER, Key::KeypadEnter},
                                                    {GLFW_KEY_KP_SUBTRACT, Key::KeypadSubtract},
                                                    {GLFW_KEY_F2, Key::Other},
                                                    {GLFW_KEY_LEFT_SHIFT, Key::Other},
                                                    {GLFW_KEY_UNKNOWN, Key::Other}};
    for (const auto& [glfw, key] : known)
        EXPECT_EQ(keyOfGlfw(glfw), key) << glfw;
}

TEST(GlfwKeys, AreEachAnother) {
    std::set<Key> seen;
    for (int glfw = GLFW_KEY_UNKNOWN; glfw <= GLFW_KEY_LAST; ++glfw) {
        const Key key = keyOfGlfw(glfw);
        const bool known = key != Key::Other;
        EXPECT_EQ(seen.insert(key).second && known, known) << glfw;
    }
    seen.erase(Key::Other);
    EXPECT_EQ(seen.size(), static_cast<std::size_t>(Key::Other)) << "a key that nobody can press";
}

TEST(GlfwKeys, KeepTheModifiersApart) {
    EXPECT_EQ(modifiersOfGlfw(0), kNoModifier);
    EXPECT_EQ(modifiersOfGlfw(GLFW_MOD_CONTROL | GLFW_MOD_SHIFT), kCtrl | kShift);
    EXPECT_EQ(modifiersOfGlfw(GLFW_MOD_ALT | GLFW_MOD_SUPER | GLFW_MOD_CAPS_LOCK), kAlt | kSuper);
}

}  // namespace
}  // namespace bandwright::app
