#pragma once

#include <cstdint>

struct ImGuiIO;

namespace bandwright::app {

/// The keys the program knows, named as on a US keyboard, the same on every system. ImGui gets these numbers
/// too. Keys up to Grave write text, which arrives as characters.
enum class Key : std::uint8_t {
    Space,
    Apostrophe,
    Comma,
    Minus,
    Period,
    Slash,
    Digit0,
    Digit1,
    Digit2,
    Digit3,
    Digit4,
    Digit5,
    Digit6,
    Digit7,
    Digit8,
    Digit9,
    Semicolon,
    Equal,
    A,
    B,
    C,
    D,
    E,
    F,
    G,
    H,
    I,
    J,
    K,
    L,
    M,
    N,
    O,
    P,
    Q,
    R,
    S,
    T,
    U,
    V,
    W,
    X,
    Y,
    Z,
    LeftBracket,
    Backslash,
    RightBracket,
    Grave,
    Escape,
    Enter,
    Tab,
    Backspace,
    Insert,
    Delete,
    Right,
    Left,
    Down,
    Up,
    PageUp,
    PageDown,
    Home,
    End,
    F1,
    KeypadAdd,
    KeypadSubtract,
    KeypadEnter,
    Other,  ///< any other key
};

/// Held together with a key; several add up.
enum Modifier : int { kNoModifier = 0, kShift = 1, kCtrl = 2, kAlt = 4, kSuper = 8 };

/// Tells ImGui which of these are Tab, Enter, the arrows and so on. Once for each context.
void mapKeys(ImGuiIO& io);

/// Whether the key went down in this frame, or its repeat is due.
bool pressed(Key key, bool repeats = false);
bool pressedWithCtrl(Key key);

}  // namespace bandwright::app
