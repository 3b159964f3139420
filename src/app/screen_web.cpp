#include <emscripten/emscripten.h>
#include <emscripten/html5.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "app/keys.hpp"
#include "app/window.hpp"
#include "screen.hpp"

// What web/library.js provides.
extern "C" {
/// Width and height of the canvas, pixels.
void bandwright_size(int* two);
/// Pixels to the page's unit of length.
double bandwright_scale();
void bandwright_cursor(int shape);
void bandwright_title(const char* text);
void bandwright_copy(const char* text);
/// What was pasted last, as far as there is room for it; the room it needs.
int bandwright_pasted(char* into, int room);
/// Whether a field waits for text, so that a phone shows its keyboard.
void bandwright_typing(int wanted);
/// Nothing more is drawn, and this is why.
void bandwright_ended(const char* why);
/// The picture is on the screen.
void bandwright_shown();
}

namespace bandwright::app {

namespace {

using Kind = InputEvent::Kind;

Arrivals* here = nullptr;  // of the one canvas

void push(const InputEvent& event) {
    if (here == nullptr) return;
    here->framesDue = kSettlingFrames;
    here->queue.push(event);
}

/// UI Events KeyboardEvent code Values (W3C).
Key keyOfCode(std::string_view code) {
    constexpr std::array<std::pair<std::string_view, Key>, 30> kNamed = {{
        {"Space", Key::Space},
        {"Quote", Key::Apostrophe},
        {"Comma", Key::Comma},
        {"Minus", Key::Minus},
        {"Period", Key::Period},
        {"Slash", Key::Slash},
        {"Semicolon", Key::Semicolon},
        {"Equal", Key::Equal},
        {"BracketLeft", Key::LeftBracket},
        {"Backslash", Key::Backslash},
        {"BracketRight", Key::RightBracket},
        {"Backquote", Key::Grave},
        {"Escape", Key::Escape},
        {"Enter", Key::Enter},
        {"Tab", Key::Tab},
        {"Backspace", Key::Backspace},
        {"Insert", Key::Insert},
        {"Delete", Key::Delete},
        {"ArrowRight", Key::Right},
        {"ArrowLeft", Key::Left},
        {"ArrowDown", Key::Down},
        {"ArrowUp", Key::Up},
        {"PageUp", Key::PageUp},
        {"PageDown", Key::PageDown},
        {"Home", Key::Home},
        {"End", Key::End},
        {"F1", Key::F1},
        {"NumpadAdd", Key::KeypadAdd},
        {"NumpadSubtract", Key::KeypadSubtract},
        {"NumpadEnter", Key::KeypadEnter},
    }};
    const auto after = [](Key first, char from, char to) {
        return static_cast<Key>(static_cast<int>(first) + to - from);
    };
    if (code.size() == 4 && code.starts_with("Key")) return after(Key::A, 'A', code[3]);
    if (code.size() == 6 && code.starts_with("Digit")) return after(Key::Digit0, '0', code[5]);
    const auto* const found =
        std::find_if(kNamed.begin(), kNamed.end(), [code](const auto& named) { return named.first == code; });
    return found == kNamed.end() ? Key::Other : found->second;
}

}  // namespace

struct Screen::State {
    EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = 0;
    int cursorShown = ImGuiMouseCursor_Arrow;
    bool typing = false;
};

Screen::Screen(int /*width*/, int /*height*/, Arrivals& arrivals) : state_(std::make_unique<State>()) {
    EmscriptenWebGLContextAttributes wanted;
    emscripten_webgl_init_context_attributes(&wanted);
    wanted.majorVersion = 2;
    wanted.alpha = EM_FALSE;
    wanted.antialias = EM_FALSE;
    wanted.depth = EM_FALSE;
    state_->context = emscripten_webgl_create_context("#canvas", &wanted);
    if (state_->context <= 0)
        throw std::runtime_error("This browser does not offer WebGL 2, which the window needs.");
    emscripten_webgl_make_context_current(state_->context);
    here = &arrivals;
}

Screen::~Screen() {
    here = nullptr;
    emscripten_webgl_destroy_context(state_->context);
}

const char* Screen::shaderVersion() {
    return "#version 300 es";
}

void Screen::begin() {
    ImGuiIO& io = ImGui::GetIO();
    io.SetClipboardTextFn = [](void* /*unused*/, const char* text) { bandwright_copy(text); };
    io.GetClipboardTextFn = [](void* /*unused*/) -> const char* {
        static std::string text;
        char nothing = 0;
        text.resize(static_cast<std::size_t>(bandwright_pasted(&nothing, 1)));
        bandwright_pasted(text.data(), static_cast<int>(text.size()));
        return text.c_str();
    };
}

platform::GlLoader Screen::loader() const {
    return nullptr;
}

ScreenSize Screen::size() const {
    std::array<int, 2> two{};
    bandwright_size(two.data());
    return {two[0], two[1], two[0], two[1]};
}

float Screen::scale() const {
    return static_cast<float>(bandwright_scale());
}

double Screen::pixelsPerMm() const {
    return 0;  // no browser tells
}

void Screen::show() {
    bandwright_shown();
    const ImGuiIO& io = ImGui::GetIO();
    if (std::exchange(state_->typing, io.WantTextInput) != io.WantTextInput)
        bandwright_typing(io.WantTextInput ? 1 : 0);
    const int wanted = ImGui::GetMouseCursor();
    if (std::exchange(state_->cursorShown, wanted) != wanted) bandwright_cursor(wanted);
}

void Screen::setTitle(const std::string& title) {
    bandwright_title(title.c_str());
}

void Screen::wait(double /*seconds*/) {}

namespace {

std::unique_ptr<WindowLoop> opened;
double drawnAt = 0;  // ms

void drawNext() {
    const double now = emscripten_get_now();
    if (!opened || now - drawnAt < 1000 * opened->rest()) return;
    drawnAt = now;
    try {
        if (opened->frame()) return;
        bandwright_ended("The page can be closed.");
    } catch (const std::exception& error) {
        bandwright_ended(error.what());
    }
    emscripten_cancel_main_loop();
    opened.reset();
}

}  // namespace

void runWindow(const WindowOptions& options, trade::Catalogue catalogue) {
    opened = std::make_unique<WindowLoop>(options, std::move(catalogue));
    emscripten_set_main_loop(drawNext, 0, 0);
}

}  // namespace bandwright::app

// What the page calls.
extern "C" {

EMSCRIPTEN_KEEPALIVE void bandwright_move(float x, float y) {
    bandwright::app::push({bandwright::app::Kind::MouseMove, x, y});
}
EMSCRIPTEN_KEEPALIVE void bandwright_leave() {
    bandwright::app::push({bandwright::app::Kind::MouseLeave});
}
EMSCRIPTEN_KEEPALIVE void bandwright_button(int button, int down, int modifiers) {
    bandwright::app::push({bandwright::app::Kind::MouseButton, 0, 0, button, down != 0, modifiers});
}
EMSCRIPTEN_KEEPALIVE void bandwright_wheel(float x, float y) {
    bandwright::app::push({bandwright::app::Kind::Wheel, x, y});
}
EMSCRIPTEN_KEEPALIVE void bandwright_key(const char* code, int down, int modifiers) {
    bandwright::app::push({bandwright::app::Kind::Key, 0, 0,
                           static_cast<int>(bandwright::app::keyOfCode(code)), down != 0, modifiers});
}
EMSCRIPTEN_KEEPALIVE void bandwright_character(int point) {
    bandwright::app::push({bandwright::app::Kind::Character, 0, 0, point, true});
}
EMSCRIPTEN_KEEPALIVE void bandwright_focus(int focused) {
    if (bandwright::app::here == nullptr) return;
    bandwright::app::here->framesDue = bandwright::app::kSettlingFrames;
    ImGui::GetIO().AddFocusEvent(focused != 0);
}
EMSCRIPTEN_KEEPALIVE void bandwright_open(const char* path) {
    if (bandwright::app::here == nullptr) return;
    bandwright::app::here->framesDue = bandwright::app::kSettlingFrames;
    bandwright::app::here->dropped = path;
}
/// Something that is shown may have changed, such as the page's size.
EMSCRIPTEN_KEEPALIVE void bandwright_wake() {
    if (bandwright::app::here != nullptr) bandwright::app::here->framesDue = bandwright::app::kSettlingFrames;
}
}
