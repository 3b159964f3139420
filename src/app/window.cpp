#include "app/window.hpp"

#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <bit>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <limits>
#include <memory>
#include <string>
#include <utility>

#include "app/bench.hpp"
#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "platform/paths.hpp"
#include "render/image.hpp"
#include "render/renderer.hpp"
#include "render/still.hpp"
#include "screen.hpp"

namespace bandwright::app {

namespace {

using Clock = std::chrono::steady_clock;

/// Seconds between two stores of unsaved work: what is lost with the program is less than a second old.
constexpr double kKeepSafeEvery = 0.5;

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
        ImGui_ImplOpenGL3_Init(Screen::shaderVersion());
    }
    ~Interface() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui::DestroyContext();
    }
    Interface(const Interface&) = delete;
    Interface& operator=(const Interface&) = delete;
};

class GlPainter : public Painter {
  public:
    GlPainter(const Screen& screen, const InputQueue& waiting)
        : screen_(screen), waiting_(waiting), renderer_(screen.loader()) {}
    ImTextureID paint(const scene::Scene& scene, scene::Size size, bool moving) override {
        // Refining can wait while the person's hands are ahead of the picture.
        if (moving || waiting_.empty())
            texture_ = renderer_.draw(scene, size, moving ? render::Quality::Moving : render::Quality::Still);
        return std::bit_cast<ImTextureID>(std::uintptr_t{texture_});
    }
    bool settled() const override { return renderer_.settled(); }
    Painter& beside() override {
        if (!beside_) beside_ = std::make_unique<GlPainter>(screen_, waiting_);
        return *beside_;
    }
    void leaveBeside() override { beside_.reset(); }
    std::optional<std::string> still(const scene::Scene& scene, scene::Size size) override {
        renderer_.draw(scene, size, render::Quality::Still);
        if (!renderer_.settled()) return std::nullopt;
        return render::pngOf(renderer_.read());
    }
    bool advance(render::StillPainting& painting) override { return painting.advance(renderer_); }
    bool advance(render::TurntablePainting& painting) override { return painting.advance(renderer_); }
    ImTextureID show(std::span<const std::uint8_t> rgba, scene::Size size) override {
        return std::bit_cast<ImTextureID>(std::uintptr_t{renderer_.textureOf(rgba, size)});
    }
    double pixelsPerMm() const override { return screen_.pixelsPerMm(); }

  private:
    const Screen& screen_;
    const InputQueue& waiting_;
    render::Renderer renderer_;
    std::unique_ptr<GlPainter> beside_;
    unsigned texture_ = 0;
};

/// The interface's scale: the person's choice, or what the screen reports.
float scaleFor(const Screen& screen, const Settings& settings) {
    if (settings.uiScale > 0) return static_cast<float>(settings.uiScale);
    return std::clamp(screen.scale(), 0.75F, 3.0F);
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
          screen(bench.settings().width, bench.settings().height, arrivals) {
        if (asksAboutModel) bench.open(options.file);
        if (options.file.empty() && !closeWhenSettled && !platform::samplesFolder().empty()) bench.begin();
        screen.begin();
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
    Arrivals arrivals;
    Screen screen;
    Interface interface;
    Theme theme;
    GlPainter painter{screen, arrivals.queue};
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
    const float scale = scaleFor(screen, bench.settings());
    if (scale == theme.scale && theme.body != nullptr) return;
    const bool isFirst = theme.body == nullptr;
    theme = makeTheme(scale);
    if (isFirst) return;  // ImGui's backend makes the texture of the first fonts by itself
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
}

void WindowLoop::State::draw() {
    const auto [width, height, pixelsAcross, pixelsDown] = screen.size();
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
    screen.show();
    if (std::string said = bench.windowTitle(); said != title) {
        title = std::move(said);
        screen.setTitle(title);
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

double WindowLoop::rest() const {
    if (due()) return 0;
    const double next = state_->bench.rest();
    return state_->bench.hasUnkeptWork() ? std::min(kKeepSafeEvery, next) : next;
}

void WindowLoop::wait() {
    state_->screen.wait(rest());
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

}  // namespace bandwright::app
