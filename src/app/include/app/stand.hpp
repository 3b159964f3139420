#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "app/session.hpp"
#include "app/theme.hpp"
#include "scene/scene.hpp"

namespace bandwright::render {
class StillPainting;
class TurntablePainting;
}  // namespace bandwright::render

namespace bandwright::app {

/// Turns scenes into textures that ImGui can show.
class Painter {
  public:
    virtual ~Painter() = default;
    /// `moving`: draws quickly, because the scene will change again at once; otherwise each call refines the
    /// picture until it is settled. The texture's rows run from the bottom.
    virtual ImTextureID paint(const scene::Scene& scene, scene::Size size, bool moving) = 0;
    virtual bool settled() const = 0;
    /// Another painter, whose picture this one leaves as it is, until leaveBeside(). What it showed must
    /// not be drawn after that.
    virtual Painter& beside() = 0;
    virtual void leaveBeside() {}
    /// A picture of the scene as the bytes of a PNG file; nothing while it is being refined, so that it is to
    /// be asked for again in the next frame. What paint() returned before is drawn over.
    virtual std::optional<std::string> still(const scene::Scene& scene, scene::Size size) = 0;
    /// Draws a still or a turntable on its way to a file, as far as it goes in one frame; true when it is
    /// there.
    virtual bool advance(render::StillPainting& painting) = 0;
    virtual bool advance(render::TurntablePainting& painting) = 0;
    /// A texture of pixels: sRGB, opaque, 4 bytes each, rows from the top. Good until the next call.
    virtual ImTextureID show(std::span<const std::uint8_t> rgba, scene::Size size) = 0;
    /// Pixels per mm of the screen, as its maker states it; 0 if that is not known.
    virtual double pixelsPerMm() const { return 0; }
};

/// The ring itself in its light tent: dragged round, zoomed, lit or dark, at one of its stages. The picture
/// is drawn again only when something has changed.
class Stand {
  public:
    /// Draws into the current ImGui window and fills it. Returns what was clicked on the ring.
    std::optional<geometry::Tag> draw(Session& session, const Theme& theme, const check::Finding* selected,
                                      Painter& painter);

    /// Turns the ring so that the place faces the eye.
    void turnTo(const geometry::Vec3& ringPoint) { wanted_ = ringPoint; }

    /// Circles round the ring through these corners of a section are drawn over the picture from now on.
    void preview(std::vector<geometry::Vec2> corners) { ghost_ = std::move(corners); }
    const std::vector<geometry::Vec2>& previewed() const { return ghost_; }

    /// The painter has painted something else: the picture is drawn again.
    void repaint() { stale_ = true; }

    /// Whether a half of the ring is taken away.
    bool isCut() const { return view_.cutThrough.has_value(); }

    /// What is said of the place under the pointer; empty beside the ring and while it is turned.
    const std::string& readout() const { return readout_; }

    bool isDark() const { return view_.lightsOut; }

    /// Whether the picture is unfinished, so that another frame is needed.
    bool busy() const { return busy_; }

    const scene::Camera& camera() const { return view_.camera; }
    const scene::Scene& scene() const { return scene_; }

    /// Why the last stage asked for cannot be shown; empty when it can. Asking clears it.
    std::string takeProblem() { return std::exchange(problem_, {}); }

    /// Whether the operations of the stage shown were asked for, or asked away. Asking clears it.
    bool takeWorkAsked() { return std::exchange(workAsked_, false); }
    bool takeBenchAsked() { return std::exchange(benchAsked_, false); }
    /// Where the button that asks for them was drawn: {least x, least y, most x, most y}.
    const std::array<float, 4>& workButton() const { return workButton_; }
    /// Where the buttons over the picture and the words for its sides were drawn, by their text.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    /// Where the picture was drawn: {least x, least y, most x, most y}.
    const std::array<float, 4>& picture() const { return pictureAt_; }
    /// How far below the picture's upper edge the whole ring begins at zoom 1.
    float ringTop() const;

  private:
    struct Drawn {
        std::uint64_t revision = ~std::uint64_t{0};
        bool walls = false, finger = false;
        scene::View view;
        scene::Size size;
        std::string mark;
    };

    /// What a readout was made from.
    struct ReadFrom {
        std::uint64_t revision = ~std::uint64_t{0};
        scene::View view;
        scene::Size size;
        float x = 0, y = 0;

        bool operator==(const ReadFrom&) const = default;
    };

    void updateScene(const Session& session, const check::Finding* selected);
    void cutTo(const Session& session, const check::Measure& measure);
    void ease();
    void turnByKeys();
    enum class Toggle : unsigned char { WallMap, CutAway, Apart, Finger, LightsOut };
    void toggle(Toggle what);
    void picture(Painter& painter, ImVec2 least, ImVec2 most);
    void markLabel(ImVec2 least, scene::Size size) const;
    void sideMarks(ImVec2 least, scene::Size size);
    void ghostLines(ImVec2 least, scene::Size size) const;
    void readOut(const Session& session, ImVec2 pointer);
    std::string described(const Session& session, const scene::Pick& hit) const;
    void legend(ImVec2 bottomLeft) const;
    /// `top`: where the ring begins, above which a row of them has to end.
    void viewButtons(ImVec2 corner, float width, float top);
    /// What can be on or off, by its name.
    struct Switch {
        const char* name;
        bool isOn;
        Toggle toggle;
    };
    using Switches = std::array<Switch, 4>;
    bool viewButton(const char* text, bool isOn = false);
    bool listed(const char* text, bool isOn = false);
    void notePlace(const char* text);
    void viewList(const Switches& toggles);
    void lookFrom(double azimuth, double elevation);
    void lightList();
    void trueSize();
    void route(Session& session, ImVec2 corner, float width);
    void routeButtons(ImVec2 corner, float width);

    const Theme* theme_ = nullptr;
    scene::View view_;
    scene::Camera target_;
    double screenPixelsPerMm_ = 0;
    bool showsWalls_ = false, showsFinger_ = false;
    bool cutByItself_ = false;
    bool easing_ = false;
    double wantedSpread_ = 0;  ///< the spread that the view moves towards
    double cutAngle_ = 0;      ///< degrees round the ring: through the first stone
    double cutSide_ = 0;       ///< 0 or 180 degrees: which half a cut keeps
    std::optional<geometry::Vec3> wanted_;
    scene::Scene scene_;
    Drawn drawn_;
    ImTextureID texture_ = nullptr;
    bool stale_ = true, busy_ = true;
    std::string problem_;
    std::vector<geometry::Vec2> ghost_;
    bool workAsked_ = false, benchAsked_ = false;
    std::array<float, 4> workButton_{};
    std::map<std::string, std::array<float, 4>> places_;
    std::array<float, 4> pictureAt_{};
    ReadFrom readFrom_;
    std::string readout_;
};

}  // namespace bandwright::app
