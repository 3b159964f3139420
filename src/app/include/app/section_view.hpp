#pragma once

#include <cstdint>
#include <optional>

#include "app/gauges.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"
#include "drawing/section_drawing.hpp"

namespace bandwright::app {

struct Paper;

/// The drawing of the cross-section, as large as the window allows: the plain section, or the one through the
/// middle of a setting's hole.
class SectionView {
  public:
    /// Draws into the current ImGui window and fills it. Returns the tag of the outline that was clicked.
    std::optional<geometry::Tag> draw(const Session& session, const Theme& theme,
                                      const check::Finding* selected);

  private:
    /// Shows the section in which a newly selected finding lies.
    void follow(const check::Report& report, const check::Finding* selected);
    void chooser(std::size_t settings);
    void update(const Session& session, ImVec2 room, const check::Finding* selected);
    std::optional<geometry::Tag> hovered(const Paper& paper) const;

    /// The drawing shown, and the data it was made from.
    struct Drawn {
        std::uint64_t revision = 0;
        int shown = 0;
        float width = 0, height = 0, themeScale = 0;
        std::optional<drawing::PointedOut> pointed;
        drawing::Drawing drawing;
        geometry::Vec2 middle;  ///< of its extent, mm of the paper

        bool isOf(const Drawn& other) const {
            return revision == other.revision && shown == other.shown && width == other.width &&
                   height == other.height && themeScale == other.themeScale && pointed == other.pointed;
        }
    };

    const Theme* theme_ = nullptr;
    std::optional<FindingId> followed_;
    int shown_ = 0;  ///< 0 = plain, n = through setting n - 1
    Drawn drawn_;
};

}  // namespace bandwright::app
