#pragma once

#include <cstdint>
#include <optional>

#include "app/gauges.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"
#include "drawing/section_drawing.hpp"

namespace bandwright {

struct Paper;

/// The drawing of the cross-section, as large as its place in the window allows: the plain one, or through
/// the middle of a setting's hole.
class SectionView {
  public:
    /// Draws into the current ImGui window and fills it. Returns the tag of the outline that was clicked.
    std::optional<Tag> draw(const Session& session, const Theme& theme, const Finding* selected);

  private:
    /// Shows the section in which a newly selected finding lies.
    void follow(const Report& report, const Finding* selected);
    void chooser(std::size_t settings);
    void update(const Session& session, ImVec2 room, const Finding* selected);
    std::optional<Tag> hovered(const Paper& paper) const;

    /// What is shown, and of what it was drawn.
    struct Drawn {
        std::uint64_t revision = 0;
        int shown = 0;
        float width = 0, height = 0, themeScale = 0;
        std::optional<PointedOut> pointed;
        Drawing drawing;
        Vec2 middle;  ///< of its extent, mm of the paper

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

}  // namespace bandwright
