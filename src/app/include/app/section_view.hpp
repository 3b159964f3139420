#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "app/gauges.hpp"
#include "app/ghost.hpp"
#include "app/line_grip.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"
#include "drawing/section_drawing.hpp"

namespace bandwright::app {

struct Paper;

/// The drawing of the cross-section, as large as the window allows or closer: the plain section, or the one
/// through the middle of a setting's hole. Numbers that are fields of the design are typed over in it, and
/// lines that a number moves are pulled.
class SectionView {
  public:
    /// Draws into the current ImGui window and fills it; what was typed on a dimension changes the session.
    /// Returns the path of the field that decides what was clicked and is not typed here.
    std::optional<std::string> draw(Session& session, const Theme& theme, const check::Finding* selected,
                                    const Preview& preview);

    /// Why the number typed last was not taken; empty when it was. Asking clears it.
    std::string takeProblem() { return std::exchange(problem_, {}); }

    /// 0 = the plain section, n = through setting n - 1.
    int shown() const { return shown_; }
    /// How much larger than the whole section in the window, 1 or more.
    double zoom() const { return zoom_; }
    /// The place of the half-plane in the middle of the window, mm of the ring.
    geometry::Vec2 centre() const { return centre_; }

    /// Where the number of each field was drawn, the buttons "#closer" and "#whole", and those of the
    /// sections, "#0" for the plain one, or the list of them, "#through": {least x, least y,
    /// most x, most y}.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    /// The number whose line is held; nothing for none.
    const std::optional<LineGrip>& grip() const { return grip_; }
    /// Where a place of the ring's half-plane, mm, is drawn.
    std::array<float, 2> at(geometry::Vec2 place) const;
    /// The field typed on; empty for none.
    const std::string& typing() const { return typing_; }

  private:
    /// Shows the section in which a newly selected finding lies.
    void follow(const check::Report& report, const check::Finding* selected);
    void chooser(std::size_t settings, float width);
    void closerButtons(ImVec2 corner, float width);
    void update(const Session& session, ImVec2 room, const check::Finding* selected);
    Paper paperIn(ImVec2 least, ImVec2 most) const;
    void zoomByWheel(ImVec2 least, ImVec2 most);
    void moveByMouse();
    void zoomByKeys();
    /// Closer by this factor, with this place of the ring where it is.
    void zoomBy(double factor, geometry::Vec2 fixed);
    void showWhole() { zoom_ = 1; }
    void showPointedOut();
    std::optional<std::string> numbers(Session& session, const Paper& paper);
    void ghost(const geometry::Section& outline, const Paper& paper, ImU32 colour) const;
    void typeOn(Session& session, const std::array<float, 4>& place);
    const geometry::Segment* hovered(const Session& session, const Paper& paper);
    void takeHold(const Session& session, const Paper& paper);
    void pull(Session& session);
    void letGo(Session& session);
    void showHeld(const Session& session, const Paper& paper) const;

    /// The drawing shown, and the data it was made from.
    struct Drawn {
        std::uint64_t revision = 0;
        int shown = 0;
        float width = 0, height = 0, themeScale = 0;
        double zoom = 1;
        std::optional<drawing::PointedOut> pointed;
        drawing::Drawing drawing;
        double wholeScale = 0;  ///< at which the whole section fits
        geometry::Vec2 middle;  ///< of the whole drawing, mm of the ring

        bool fitsLike(const Drawn& other) const {
            return revision == other.revision && shown == other.shown && width == other.width &&
                   height == other.height && themeScale == other.themeScale;
        }
        bool isOf(const Drawn& other) const {
            return fitsLike(other) && zoom == other.zoom && pointed == other.pointed;
        }
    };

    const Theme* theme_ = nullptr;
    std::optional<FindingId> followed_;
    int shown_ = 0;  ///< 0 = plain, n = through setting n - 1
    double zoom_ = 1;
    geometry::Vec2 centre_;
    Drawn drawn_;
    std::string typing_, buffer_, problem_;
    bool startsTyping_ = false;  ///< the box has still to get the keyboard
    std::map<std::string, std::array<float, 4>> places_;
    std::optional<LineGrip> grip_;
    geometry::Tag gripTag_;
    ImVec2 heldAt_, sheetLeast_, sheetMost_;
    double heldScale_ = 1;  ///< pixels to one mm of the ring when it was taken hold of
    std::string refusal_;   ///< of what was pulled last
    /// The line under the pointer last, and what moves it.
    struct Hovered {
        std::uint64_t revision = ~std::uint64_t{0};
        int shown = 0;
        geometry::Tag tag;
        std::optional<LineGrip> grip;
    };
    Hovered hovered_;
};

}  // namespace bandwright::app
