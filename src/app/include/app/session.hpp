#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/state_folder.hpp"
#include "check/check.hpp"
#include "design/design.hpp"
#include "design/history.hpp"
#include "formats/stone_model.hpp"
#include "geometry/part.hpp"
#include "geometry/ring.hpp"
#include "scene/scene.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::app {

/// Everything that follows from a design and is shown beside it.
struct Derived {
    design::Design made;                             ///< the ring as measured so far, which all else is of
    check::Report report;                            ///< of every stage
    std::vector<geometry::Part> parts;               ///< at the stage shown
    std::vector<geometry::SolidPart> bodies;         ///< at the stage shown
    geometry::RingSections plain;                    ///< at the stage shown
    std::vector<geometry::SettingSection> settings;  ///< one for each setting, at the stage shown
};

/// Throws InputError when no ring can be made from the design or a material is unknown.
Derived derive(const design::Design& design, const trade::Catalogue& catalogue, design::Stage stage,
               const check::CheckOptions& options = {});

/// The wall in mm at each vertex of the band, as makeScene takes it; the other parts have none.
std::vector<std::vector<float>> wallsOf(const std::vector<geometry::Part>& parts,
                                        const design::Design& design, design::Stage stage);

/// The design with its surfaces at a stage: as turned until they are polished.
design::Design asLeftBy(design::Design design, design::Stage stage);

/// The scale from the least wall that the band's metal allows to the band's whole thickness.
scene::WallScale wallScale(const design::Design& design, const trade::Catalogue& catalogue);

/// The design being worked on, its history, its file and its results. A change to a design that cannot be
/// made is refused, and everything stays as it was.
class Session {
  public:
    /// Begins with a new design.
    explicit Session(trade::Catalogue catalogue);
    /// Without `remedies` none are sought: where nobody looks at them they take most of the time.
    Session(trade::Catalogue catalogue, design::Design start, bool remedies = true);

    const design::Design& design() const { return history_.current(); }
    const trade::Catalogue& catalogue() const { return catalogue_; }
    const Derived& derived() const { return derived_; }

    /// Grows with every change of the design or of the stage shown.
    std::uint64_t revision() const { return revision_; }

    /// Makes `next` the design. Changes with the same `drag` name become one step of undo (see
    /// History::push); remedies are then left to settle(). Returns the sentence that says why it was
    /// refused, or nothing when it was taken.
    std::optional<std::string> change(design::Design next, std::string_view drag = {});
    /// Searches for the remedies that were left out during a drag.
    void settle();
    bool seeksRemedies() const { return seeksRemedies_; }
    /// While a number is held, settle() leaves the remedies alone.
    void hold(bool isHeld) { isHeld_ = isHeld; }
    void endDrag() { history_.endDrag(); }

    /// The same ring judged by another catalogue. Throws InputError and leaves the session as it was.
    void use(trade::Catalogue catalogue);

    const design::History& history() const { return history_; }
    bool canUndo() const { return history_.canUndo(); }
    bool canRedo() const { return history_.canRedo(); }
    void undo();
    void redo();
    /// To the step at this place of the history.
    void goTo(std::size_t place);

    design::Stage stage() const { return stage_; }
    /// Shows another stage of this ring. Returns a sentence that says why it cannot be shown, or nothing.
    std::optional<std::string> show(design::Stage stage);

    /// A new design of its own history, without a file.
    void startNew();
    /// Reads the file. A design from a PDF has no file of its own yet. Throws InputError, or ModelOutside,
    /// and leaves the session as it was.
    void open(const std::filesystem::path& file, formats::Outside outside = formats::Outside::Refused);
    /// A design of its own history, without a file, as in this one. Throws InputError and leaves the session
    /// as it was.
    void beginWith(const std::filesystem::path& sample);
    /// The design as text for recover; it does not depend on the folder the program is started in.
    std::string recoverableText() const;
    /// The last kMostRecoverable steps round the current one likewise, so that undo survives, too.
    KeptSteps recoverableSteps() const;
    /// Continues with a design whose last state is not in its file, and with its steps where these can all be
    /// read. Throws InputError and leaves the session as it was.
    void recover(std::string_view text, const std::filesystem::path& file, const KeptSteps& steps = {});
    /// Writes the file whole or not at all. Throws InputError and leaves the session as it was.
    void save(const std::filesystem::path& file);

    /// An absolute path; empty while the design has no file.
    const std::filesystem::path& file() const { return file_; }
    /// The name of a file made of this ring: the design's file without its endings, or its title.
    std::string fileStem() const;
    /// The design as it is in its file, or as it began; none = in no file.
    const std::optional<design::Design>& saved() const { return saved_; }
    bool unsaved() const { return !saved_ || design() != *saved_; }

  private:
    std::string recoverable(design::Design design) const;
    /// The folder to which paths in the design are relative.
    std::filesystem::path folder() const { return file_.parent_path(); }
    design::Stage shownOf(const design::Design& design) const;
    void begin(design::Design design, std::optional<design::Design> saved, const std::filesystem::path& file);
    /// What follows from the design, where it is another ring than before.
    void refresh(const design::Design& before);

    trade::Catalogue catalogue_;
    design::History history_;
    std::optional<design::Design> saved_;  ///< as it is in the file; none = not in a file
    std::filesystem::path file_;
    design::Stage stage_ = design::Stage::Finished;
    Derived derived_;
    bool seeksRemedies_;
    bool lacksRemedies_ = false;
    bool isHeld_ = false;
    std::uint64_t revision_ = 0;
};

}  // namespace bandwright::app
