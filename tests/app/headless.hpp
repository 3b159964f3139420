#pragma once

#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <functional>
#include <string>
#include <thread>

#include "app/bench.hpp"
#include "app/input_queue.hpp"
#include "app/keys.hpp"
#include "design/design_file.hpp"
#include "program.hpp"

namespace bandwright::app {

/// Returns at once and paints nothing. The texture is passed on but never shown.
class NoPainter : public Painter {
  public:
    ImTextureID paint(const scene::Scene&, scene::Size, bool) override { return this; }
    bool settled() const override { return true; }
    Painter& beside() override { return *this; }
    std::optional<std::string> still(const scene::Scene&, scene::Size) override { return std::string(); }
    bool advance(render::StillPainting&) override { return true; }
    bool advance(render::TurntablePainting& painting) override { return !turn || turn(painting); }
    ImTextureID show(std::span<const std::uint8_t> rgba, scene::Size size) override {
        shown = size;
        hasBlack = std::memchr(rgba.data(), 0, rgba.size()) != nullptr;
        return this;
    }

    std::function<bool(render::TurntablePainting&)> turn;  ///< paints one; empty = nothing is painted
    scene::Size shown{};                                   ///< of the last pixels
    bool hasBlack = false;
};

/// Whether remedies are sought, which takes most of the time.
enum class Remedies { Unsought, Sought };

/// The whole interface without a window and without OpenGL, worked by mouse and keyboard events.
class Headless {
  public:
    explicit Headless(design::Design design = {}, const std::filesystem::path& folder = {},
                      Remedies remedies = Remedies::Unsought)
        : context_(ImGui::CreateContext()),
          bench_(Session(trade::builtInCatalogue(), std::move(design), remedies == Remedies::Sought),
                 folder.empty() ? Settings() : readSettings(folder), folder, {{}, {}},
                 [](const trade::Workshop& workshop) {
                     return trade::withWorkshop(trade::builtInCatalogue(), workshop);
                 }) {
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        io.DisplaySize = {1500, 4200};  // so tall that every row of the job card is in sight
        io.DeltaTime = 1.0F / 60;
        mapKeys(io);
        theme_ = makeTheme(1);
        frames(4);
    }
    ~Headless() { ImGui::DestroyContext(context_); }
    Headless(const Headless&) = delete;
    Headless& operator=(const Headless&) = delete;

    Bench& bench() { return bench_; }
    NoPainter& painter() { return painter_; }
    const design::Design& design() const { return bench_.session().design(); }
    const CardRows& fields() const { return bench_.jobCard().rows(); }

    void setScale(float scale) { theme_ = makeTheme(scale); }

    void frames(int count) {
        for (int i = 0; i < count; ++i) {
            queue_.feed(ImGui::GetIO());
            ImGui::NewFrame();
            bench_.frame(theme_, painter_);
            ImGui::Render();
        }
    }

    /// Processes all events that were pushed.
    void settle() {
        while (!queue_.empty())
            frames(1);
        frames(4);
    }

    void moveTo(float x, float y) { queue_.push({InputEvent::Kind::MouseMove, x, y}); }
    void wheel(float notches) { queue_.push({InputEvent::Kind::Wheel, 0, notches}); }
    void button(bool down) { queue_.push({InputEvent::Kind::MouseButton, 0, 0, 0, down}); }

    /// The middle of a row's box, thimble or button; fails the test when it was not drawn.
    ImVec2 middle(const std::string& place) {
        const auto found = fields().places().find(place);
        EXPECT_NE(found, fields().places().end()) << place << " is not there";
        if (found == fields().places().end()) return {-1, -1};
        const auto& box = found->second;
        EXPECT_LT(box[3], ImGui::GetIO().DisplaySize.y) << place << " is out of sight";
        return {(box[0] + box[2]) / 2, (box[1] + box[3]) / 2};
    }

    void clickAt(const std::array<float, 4>& box) {
        moveTo((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
        button(true);
        button(false);
        settle();
    }

    void click(const std::string& place) {
        const ImVec2 at = middle(place);
        moveTo(at.x, at.y);
        button(true);
        button(false);
        settle();
    }

    /// Drags a thimble by this many pixels, a few at a time.
    void drag(const std::string& place, int pixels) {
        const ImVec2 at = middle(place);
        moveTo(at.x, at.y);
        button(true);
        settle();
        for (int moved = 0; moved != pixels;) {
            moved += std::clamp(pixels - moved, -5, 5);
            moveTo(at.x + static_cast<float>(moved), at.y);
            frames(1);
        }
        button(false);
        settle();
    }

    void press(Key key, int modifiers = 0) {
        const int code = static_cast<int>(key);
        queue_.push({InputEvent::Kind::Key, 0, 0, code, true, modifiers});
        queue_.push({InputEvent::Kind::Key, 0, 0, code, false, 0});
        settle();
    }

    void type(const std::string& text) {
        for (const char c : text)
            queue_.push({InputEvent::Kind::Character, 0, 0, c, true});
        settle();
    }

    /// Until the plan of the work is there.
    void awaitPlan() {
        do {
            frames(1);
            std::this_thread::yield();
        } while (bench_.planner().busy());
        frames(1);
    }

    /// Clicks into a row, types over what is there, and confirms.
    void enter(const std::string& key, const std::string& text) {
        click(key);
        type(text);
        press(Key::Enter);
    }

  private:
    ImGuiContext* context_;
    Bench bench_;
    Theme theme_;
    NoPainter painter_;
    InputQueue queue_;
};

inline design::Design harbour() {
    return design::readDesign(sample("harbour"));
}

}  // namespace bandwright::app
