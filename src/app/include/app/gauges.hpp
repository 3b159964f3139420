#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>

#include "app/mender.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"
#include "app/worst_cases.hpp"
#include "check/figures.hpp"
#include "check/rule_list.hpp"

namespace bandwright::app {

/// Identifies a finding even after the design, and so its place in the report, has changed.
struct FindingId {
    std::string rule, measure;
    design::Stage stage = design::Stage::Finished;

    bool operator==(const FindingId&) const = default;
};

FindingId idOf(const check::Report& report, const check::Finding& finding);
/// The finding in the report; nullptr if the report no longer has it.
const check::Finding* find(const check::Report& report, const FindingId& id);

/// "at least 0.50 mm"; of a fit both sides; of what is so or not, what it has to be.
std::string limitInWords(const check::Finding& finding, const std::string& unit,
                         const check::Figures& figures);

/// Where the pointer stands on a gauge, 0..1: the limit always at kLimitPlace and the comfortable value at
/// kComfortablePlace, so that the zones of all gauges line up; linear up to there, slower beyond.
double gaugePlace(double value, double limit, double comfortable);
inline constexpr double kLimitPlace = 0.36;
inline constexpr double kComfortablePlace = 0.56;

/// The verdict, every finding as a gauge, in groups and the worst first, and the masses; findings that are go
/// fold into one line with their count, which opens. Draws into the current ImGui window.
class Gauges {
  public:
    /// A limit in place of the one in force, or taken away again.
    struct LimitAsked {
        trade::OwnLimit own;  ///< by its rule and metal
        bool takesAway = false;
    };

    /// What the person asked for in this frame.
    struct Asked {
        bool turn = false;                     ///< a finding was selected: show its place
        std::optional<check::Remedy> remedy;   ///< to be carried out
        std::optional<check::Remedy> looked;   ///< its button is under the pointer or has the keyboard
        std::optional<design::Design> mended;  ///< to be taken instead
        std::optional<LimitAsked> limit;       ///< of the maker's own
    };

    /// A click selects a finding; a click on the selected one deselects it. `kept`: the workshop's limits,
    /// which can be changed here.
    Asked draw(const Session& session, const std::vector<trade::OwnLimit>& kept, const Theme& theme,
               std::optional<FindingId>& selected);

    /// Where the button of each remedy was drawn, by its finding's rule and measure, with " 2" and " 3" for
    /// the further ones: {least x, least y, most x, most y}.
    const std::map<std::string, std::array<float, 4>>& remedyPlaces() const { return remedyPlaces_; }

    /// Whether it is among the gauges of the stages chosen.
    bool isShown(const check::Finding& finding) const;

    /// Where the head of each gauge was drawn, by its rule and measure.
    const std::map<std::string, std::array<float, 4>>& gaugePlaces() const { return gaugePlaces_; }

    /// Where the limit of each gauge was drawn, by its rule and measure; the field for another as "field",
    /// and with "book " before them the keys that go back to the book's.
    const std::map<std::string, std::array<float, 4>>& limitPlaces() const { return limitPlaces_; }
    /// Why what was typed is no limit; empty if it is.
    const std::string& limitRefusal() const { return refusal_; }

    /// Whether changes are being sought, so that another frame is needed.
    bool busy() const { return mender_.busy(); }
    /// Seconds until another frame is needed because tolerances are added up; infinity if they are not.
    double rest() const { return worst_.rest(); }

    /// Where the band from the needle of each gauge to its worst case was drawn, by its rule and measure.
    const std::map<std::string, std::array<float, 4>>& bandPlaces() const { return bandPlaces_; }
    const WorstCases& worstCases() const { return worst_; }

    /// Where the buttons for the gauges of every stage, and of the strip's stage alone, were drawn.
    const std::array<float, 4>& allPlace() const { return allPlace_; }
    const std::array<float, 4>& stagePlace() const { return stagePlace_; }
    /// Where the buttons that seek and make the changes that mend all were drawn; empty when there is none.
    const std::array<float, 4>& mendPlace() const { return mendPlace_; }
    const std::array<float, 4>& makePlace() const { return makePlace_; }

    /// Whether findings that are go are shown.
    bool showsGo() const { return showsGo_; }
    /// Where the line that opens and closes them was drawn; empty when there is none.
    std::array<float, 4> foldPlace() const { return foldPlace_; }

  private:
    void verdict(const check::Report& report);
    bool choice(const std::string& text, bool isOn, std::array<float, 4>& place);
    void stageChooser(design::Stage stage);
    void mendTheRest(const Session& session, Asked& asked);
    void valueLine(const check::Finding& finding, const check::Measure& measure,
                   const check::Figures& figures);
    void findings(const check::Report& report, bool go, std::optional<FindingId>& selected, Asked& asked);
    void fold(std::ptrdiff_t count);
    void remedies(const check::Measure& measure, const check::Finding& finding, Asked& asked);
    void remedy(const std::string& id, const char* label, const check::Remedy& remedy, Asked& asked);
    void heading(const std::string& text);
    bool gauge(const check::Report& report, const check::Finding& finding, const std::string& name,
               bool selected, Asked& asked);
    void scale(const check::Finding& finding, const check::Measure& measure, const check::Figures& figures,
               ImVec2 at, float width, std::optional<double> worst);
    const trade::OwnLimit* ownLimit(const check::Finding& finding) const;
    bool canSetLimit(const check::Finding& finding, const check::Figures& figures) const;
    void limitWords(const check::Finding& finding, const check::Measure& measure,
                    const check::Figures& figures, ImVec2 at, const std::string& words);
    void limitRow(const check::Finding& finding, const check::Measure& measure, const check::Figures& figures,
                  Asked& asked);
    void limitField(const check::Finding& finding, const check::Measure& measure,
                    const check::BookLimit& book, const trade::OwnLimit* own, float left, Asked& asked);
    void sentence(const char* label, const std::string& text);
    void masses(const Session& session);
    void heed(const Session& session);

    const Theme* theme_ = nullptr;
    const Session* session_ = nullptr;
    const std::vector<trade::OwnLimit>* kept_ = nullptr;
    std::string typing_, typed_, refusal_;  ///< whose limit is typed, what, and why it is none
    bool begins_ = false, wasActive_ = false;
    float width_ = 0;
    bool showsGo_ = false;
    std::map<std::string, std::array<float, 4>> remedyPlaces_, gaugePlaces_, limitPlaces_, bandPlaces_;
    std::array<float, 4> foldPlace_{}, allPlace_{}, stagePlace_{}, mendPlace_{}, makePlace_{};
    std::optional<design::Stage> onlyStage_;
    Mender mender_;
    WorstCases worst_;
};

}  // namespace bandwright::app
