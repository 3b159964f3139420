#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/first_questions.hpp"
#include "app/ring_pictures.hpp"
#include "app/session.hpp"

namespace bandwright::app {

/// How a ring is begun: by five questions, by a ring worked on lately, or by a sample; over the whole window.
/// The ring that is open stays until another is chosen.
class StartScreen {
  public:
    explicit StartScreen(RingPictures pictures) : pictures_(std::move(pictures)) {}

    bool shown() const { return shown_; }
    /// Shows it with these files and those of the folder of samples, which may be empty.
    void open(const std::vector<std::filesystem::path>& recent, const std::filesystem::path& samples,
              const trade::Catalogue& catalogue);

    /// What the person wants to begin with.
    struct Begun {
        std::optional<design::Design> ring = {};  ///< a new one
        std::filesystem::path file = {};          ///< otherwise this one
        bool isSample = false;                    ///< whose file stays as it is
        bool asksForFile = false;                 ///< another file
    };
    /// Draws over the whole window; at an answer it is shown no more.
    std::optional<Begun> draw(const Session& session, const Theme& theme, Painter& painter);

    /// Whether something is worked out or painted, so that another frame is needed.
    bool busy() const { return shown_ && (questions_.busy() || pictures_.busy()); }

    const FirstQuestions& questions() const { return questions_; }
    const RingPictures& pictures() const { return pictures_; }
    /// Where keys were drawn: "lately=0", "sample=harbour", "file", "back".
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }

  private:
    bool tile(const std::string& name, std::size_t ring, float width, Painter& painter);
    std::optional<std::size_t> gallery(Painter& painter);
    std::optional<Begun> questionsAndKeys(const Session& session, float width);

    const Theme* theme_ = nullptr;
    FirstQuestions questions_;
    RingPictures pictures_;
    std::size_t recent_ = 0;  ///< how many of the pictures are of rings worked on lately
    std::map<std::string, std::array<float, 4>> places_;
    bool shown_ = false;
};

}  // namespace bandwright::app
