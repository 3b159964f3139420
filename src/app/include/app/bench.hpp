#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/bench_card.hpp"
#include "app/file_panel.hpp"
#include "app/finder.hpp"
#include "app/gauges.hpp"
#include "app/hand_over.hpp"
#include "app/job_card.hpp"
#include "app/pair_view.hpp"
#include "app/paper_view.hpp"
#include "app/planner.hpp"
#include "app/section_view.hpp"
#include "app/session.hpp"
#include "app/stand.hpp"
#include "app/start_screen.hpp"
#include "app/state_folder.hpp"
#include "app/step_list.hpp"
#include "app/theme.hpp"
#include "app/workshop_card.hpp"

namespace bandwright::app {

/// The whole window as ImGui sees it: job card, stand, section and gauges, the bar above them and the
/// questions that cover them. Knows neither GLFW's windows nor OpenGL.
class Bench {
  public:
    /// `folder` is where settings and unsaved work are kept; empty = nowhere.
    /// `catalogueIn` gives the catalogue once the workshop has changed.
    Bench(Session session, Settings settings, std::filesystem::path folder, WorkshopCard workshop = {{}, {}},
          std::function<trade::Catalogue(const trade::Workshop&)> catalogueIn = {});

    /// One frame, between ImGui::NewFrame and ImGui::Render.
    void frame(const Theme& theme, Painter& painter);

    /// Opens the file, after asking what to do with unsaved changes.
    void open(const std::filesystem::path& file);
    /// Shows how a ring is begun; the one that is open stays until another is chosen.
    void begin();
    /// The person wants to leave: asks what to do with unsaved changes; after that done() is true.
    void close();
    bool done() const { return done_; }

    /// Whether another frame is needed even without input.
    bool busy() const {
        return (!isCovered() && (stand_.busy() || gauges_.busy())) || planner_.busy() || papers_.busy() ||
               handOver_.busy() || pair_.busy() || start_.busy() || framesToDecision_ > 0;
    }
    /// Seconds until a frame is needed though nothing happens and it is not busy(); infinity if none is.
    double rest() const { return isCovered() ? pair_.rest() : gauges_.rest(); }

    /// Stores unsaved work for the next start if it has changed since the last call, and removes it once the
    /// work is saved.
    void keepSafe();
    /// Whether keepSafe has something to do.
    bool hasUnkeptWork() const {
        return keptRevision_ != session_.revision() && (session_.unsaved() || keptIn_);
    }

    const Session& session() const { return session_; }
    const JobCard& jobCard() const { return card_; }
    const Gauges& gauges() const { return gauges_; }
    const Stand& stand() const { return stand_; }
    const Preview& preview() const { return preview_; }
    const SectionView& section() const { return section_; }
    const BenchCard& benchCard() const { return atBench_; }
    const PaperView& papers() const { return papers_; }
    const StartScreen& start() const { return start_; }
    const Finder& finder() const { return finder_; }
    const StepList& steps() const { return steps_; }
    const PairView& pair() const { return pair_; }
    const HandOver& handOver() const { return handOver_; }
    const WorkshopCard& workshopCard() const { return shop_; }
    const Planner& planner() const { return planner_; }
    /// Why the unsaved work in question could not be taken up; empty until somebody tries.
    const std::string& refusal() const { return refusal_; }
    Settings& settings() { return settings_; }
    /// What the system's title bar says.
    std::string windowTitle() const;

  private:
    enum class Intent : unsigned char { None, New, Begin, BeginSample, AskOpen, OpenFile, Save, Leave };

    static constexpr float kBarHeight = 54;  ///< at scale 1

    struct Layout;

    /// Whether something lies over all panes.
    bool isCovered() const {
        return atBench_.shown() || papers_.shown() || handOver_.shown() || pair_.shown() || shop_.shown() ||
               start_.shown();
    }
    void shortcuts(const Theme& theme);
    bool overTheWindow(const Theme& theme, Painter& painter);
    void began(StartScreen::Begun begun);
    void useWorkshop();
    bool useLimits(std::vector<trade::OwnLimit> limits);
    void takeLimit(const Gauges::LimitAsked& asked);
    /// Whether the next undo, or redo, is of a limit.
    bool undoesLimit() const;
    bool redoesLimit() const;
    void undo();
    void redo();
    void goTo(std::size_t step);
    std::string hintFor(const Command& command) const;
    void barTitle(const Theme& theme, float end);
    /// Those of the bar, in its order.
    std::vector<Command> barCommands();
    /// All that can be asked for by name: the bar's, the others, and the job card's numbers.
    std::vector<Command> allCommands(const Theme& theme);
    void bar(const Theme& theme);
    static Layout layout(const Theme& theme, float top);
    void panes(const Theme& theme, Painter& painter);
    void sidePanes(const Theme& theme, const Layout& at);
    void rememberFile();
    void keepSettings();
    void changeColours();
    void lowerPanes(const Theme& theme, const Layout& at, const check::Finding* finding);
    void carryOut(const check::Remedy& remedy);
    void turnToSelected();
    void turnToLastSetting();
    void leftPaneChooser(const Theme& theme);
    /// Returns the height it takes.
    float message(const Theme& theme, float top);
    void questions(const Theme& theme);
    void unsavedQuestion(const Theme& theme);
    void workshopQuestion(const Theme& theme);
    void recoveryQuestion(const Theme& theme);
    void outsideQuestion(const Theme& theme);
    void keysSheet(const Theme& theme);
    void want(Intent intent);
    void decide();
    void leaveOrAsk();
    void carryOut();
    void save();
    void askWhereToSave();
    void load(const std::filesystem::path& file, formats::Outside outside = formats::Outside::Refused);
    void loadSample();
    void write(const std::filesystem::path& file);
    void clickedOn(const std::optional<geometry::Tag>& tag);
    /// Puts the keyboard on a field's row of the job card.
    void toField(const std::string& path);
    void scaleBy(double steps, const Theme& theme);
    void takeUp(Recovery& recovery);
    void forgetKept();

    Session session_;
    Settings settings_;
    std::filesystem::path folder_;
    JobCard card_;
    Stand stand_;
    SectionView section_;
    Gauges gauges_;
    Preview preview_;
    Planner planner_;
    BenchCard atBench_;
    PaperView papers_;
    HandOver handOver_;
    PairView pair_;
    StartScreen start_;
    Finder finder_;
    StepList steps_;
    WorkshopCard shop_;
    struct LimitStep {
        std::size_t place;  ///< of the ring's history
        std::vector<trade::OwnLimit> before, after;
    };
    std::vector<LimitStep> limitsPast_, limitsFuture_;
    std::function<trade::Catalogue(const trade::Workshop&)> catalogueIn_;
    bool showsWork_ = false;  ///< the operations of the step shown
    FilePanel files_;
    std::optional<FindingId> selected_;
    std::vector<Recovery> recoveries_;     ///< still to ask about, the last first
    std::string refusal_;                  ///< why the one in question cannot be taken up
    std::optional<RecoveryPlace> keptIn_;  ///< where this session's unsaved work is stored, if it is
    std::filesystem::path wantedFile_;
    design::Design wantedRing_;           ///< to begin with
    std::filesystem::path outsideModel_;  ///< which the wanted file asks for, until the person has answered
    Intent intent_ = Intent::None;
    int framesToDecision_ = 0;
    bool asksAboutChanges_ = false, asksAboutWorkshop_ = false, showsKeys_ = false, done_ = false;
    bool gaugesInCard_ =
        false;  ///< in a narrow window the left column shows the gauges instead of the job card
    std::string message_;
    std::string paneToFocus_;
    std::uint64_t keptRevision_ = 0;
};

}  // namespace bandwright::app
