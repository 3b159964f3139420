#pragma once

#include <optional>

#include "app/gauges.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"

namespace bandwright {

struct Sheet;

/// The cross-section drawn to scale: the plain one, or through the middle of a setting's hole, with its
/// dimensions. Cut material is hatched as drawings do (ISO 128-3), each body at its own angle.
class SectionView {
  public:
    /// Draws into the current ImGui window and fills it. Returns the tag of the outline that was clicked.
    std::optional<Tag> draw(const Session& session, const Theme& theme, const Finding* selected);

  private:
    /// Shows the section in which a newly selected finding lies.
    void follow(const Report& report, const Finding* selected);
    void chooser(std::size_t settings);
    void bodies(Sheet& sheet, const Session& session) const;
    void plainDimensions(Sheet& sheet, const Session& session) const;
    void settingDimensions(Sheet& sheet, const Session& session) const;
    std::optional<Tag> hovered(Sheet& sheet, const Session& session) const;
    void witness(Sheet& sheet, const Measure& measure) const;

    const Theme* theme_ = nullptr;
    std::optional<FindingId> followed_;
    int shown_ = 0;  ///< 0 = plain, n = through setting n - 1
};

}  // namespace bandwright
