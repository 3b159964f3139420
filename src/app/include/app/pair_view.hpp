#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <filesystem>
#include <future>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/differences.hpp"
#include "app/file_panel.hpp"
#include "app/session.hpp"
#include "app/stand.hpp"
#include "app/theme.hpp"
#include "trade/workshop.hpp"

namespace bandwright::app {

/// Two rings, or two moments of one, under one light and one turn, and what differs between them; over the
/// whole window. They stand side by side, or flicker: one after the other in the same place, by itself or by
/// a key. What takes long is done beside the frames.
class PairView {
  public:
    enum Side : std::uint8_t { kLeft, kRight };

    /// A ring to be shown.
    struct Moment {
        enum class Kind : std::uint8_t { Now, Saved, Step, File };
        Kind kind = Kind::Now;
        std::size_t step = 0;        ///< of the session's history
        std::filesystem::path file;  ///< of another ring

        bool operator==(const Moment&) const = default;
    };

    bool shown() const { return shown_; }
    /// The ring as it is now on the right. On the left the file chosen last; else the ring as it was saved,
    /// or before its last change.
    void open(const Session& session);
    /// A file was given for the side last asked about.
    void take(const std::filesystem::path& file);

    /// Draws over the whole window.
    void draw(const Session& session, const trade::Workshop& workshop,
              const std::vector<std::filesystem::path>& recent, const Theme& theme, Painter& painter);

    /// Whether another frame is needed at once.
    bool busy() const;
    /// Seconds until the other ring is to be shown; infinity unless they flicker.
    double rest() const;

    bool flickers() const { return flickers_; }
    /// Whether they are in one place, and which is to be seen there.
    bool inOnePlace() const { return onePlace_; }
    Side seen() const { return seen_; }
    /// What is shown on a side; where it cannot be, the problem says why.
    const Moment& moment(Side side) const { return sides_[side].moment; }
    const std::string& problem(Side side) const { return sides_[side].ring.problem; }
    const scene::Scene& scene(Side side) const { return sides_[side].ring.scene; }
    const std::vector<Differences>& told() const { return told_; }

    /// Where keys and pictures were drawn, by their names: {least x, least y, most x, most y}.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }

  private:
    using Clock = std::chrono::steady_clock;

    struct Ring {
        RingInFigures figures;
        scene::Scene scene;
        std::string problem;
    };
    struct Shown {
        Moment moment;  ///< that is wanted
        Moment made;    ///< that the ring, or the one to come, is of
        std::future<Ring> coming;
        Ring ring;
        bool isThere = false;
        scene::View view;  ///< drawn last
        scene::Size size;
        ImTextureID texture = nullptr;
        bool isStale = true, isSettled = false;
    };

    void follow(const Session& session, const trade::Workshop& workshop);
    static Ring worked(const std::optional<design::Design>& design, const std::filesystem::path& file,
                       const trade::Catalogue& catalogue, const trade::Workshop& workshop);
    bool busyWorking() const;
    void keys();
    void leave();
    void flickerOn(bool isOn);
    void swap();
    void bar();
    void choosers(const Session& session, float width);
    void chooser(const Session& session, Side side);
    void moments(const Session& session);
    void pictures(ImVec2 size, Painter& painter);
    void picture(Side side, const char* name, ImVec2 size);
    void paint(Side side, ImVec2 size, Painter& painter);
    void list(ImVec2 size);
    scene::Camera cameraOf(Side side, scene::Size size) const;
    bool key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen = false);

    const Theme* theme_ = nullptr;
    std::array<Shown, 2> sides_;
    std::vector<Differences> told_;
    bool isTold_ = false;
    float toldHeight_ = 0;  ///< that the whole list takes, pixels
    std::vector<std::string> stepNames_;
    FilePanel files_;
    std::vector<std::filesystem::path> recent_;
    Side asked_ = kLeft;  ///< whose ring was asked about last
    bool asksMoment_ = false, lists_ = false;
    scene::Camera camera_, target_;
    bool easing_ = false, lightsOut_ = false;
    bool onePlace_ = false, flickers_ = false;
    Side seen_ = kRight;
    Clock::time_point next_;  ///< when the other is shown
    std::map<std::string, std::array<float, 4>> places_;
    bool shown_ = false, leaves_ = false;
};

}  // namespace bandwright::app
