#pragma once

#include <future>
#include <optional>
#include <string>
#include <vector>

#include "app/card_rows.hpp"
#include "app/theme.hpp"
#include "check/addition.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::app {

/// Five questions at the start of a ring: finger, metal, width, fill, stone. The answer is worked out beside
/// the frames, and only a ring that is go is begun with.
class FirstQuestions {
  public:
    /// Draws them into the current ImGui window, `width` pixels wide. Returns the ring to begin with, once.
    std::optional<design::Design> draw(const trade::Catalogue& catalogue, const Theme& theme, float width);
    /// Whether the ring is being worked out, so that another frame is needed.
    bool busy() const { return coming_.valid(); }
    /// The ring for the answers so far; nothing while it is worked out.
    const std::optional<check::Added>& answer() const { return answer_; }

    /// Rows "finger", "metal", "width", "filler", "gem", buttons "begin" and "plain".
    const CardRows& rows() const { return rows_; }

  private:
    void readOptions(const trade::Catalogue& catalogue);
    void follow(const trade::Catalogue& catalogue);
    void told(const Theme& theme, float width);

    check::Wishes wishes_;
    bool isCurrent_ = false;  ///< whether answer_ is, or is about to be, that of the wishes
    std::future<check::Added> coming_;
    std::optional<check::Added> answer_;
    CardRows rows_;
    std::vector<Option> metals_, fillers_, gems_;
};

}  // namespace bandwright::app
