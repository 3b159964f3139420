#include "app/session.hpp"

#include <algorithm>
#include <exception>
#include <string>
#include <utility>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/measured.hpp"
#include "design_source.hpp"
#include "formats/stone_model.hpp"
#include "geometry/measured.hpp"
#include "geometry/wall.hpp"
#include "platform/concurrently.hpp"
#include "platform/paths.hpp"

namespace bandwright::app {

namespace {

/// A fault of the program must not lose the person's previous design.
template <class Work>
auto guarded(Work work) {
    try {
        return work();
    } catch (const base::InputError&) {
        throw;
    } catch (const std::exception& fault) {
        throw base::InputError(
            std::string("Bandwright cannot work out this ring because of its own fault: ") + fault.what());
    }
}

constexpr std::size_t kMostRecoverable = 100;

/// The parts of the results that the stage's picture needs.
Derived shapes(const design::Design& design, design::Stage stage) {
    Derived derived;
    derived.made = design;
    derived.parts = geometry::buildParts(design, stage, {.apart = false});
    derived.plain = geometry::sections(design, stage);
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        derived.settings.push_back(geometry::sectionThrough(design, i, stage));
    return derived;
}

/// The other results shown for a stage.
Derived withReport(Derived derived, check::Report report, design::Stage stage) {
    derived.bodies = stage == design::Stage::Finished ? report.bodies : geometry::bodies(derived.made, stage);
    derived.report = std::move(report);
    return derived;
}

/// Calls change(path) for each relative path of a stone's model.
template <class Change>
void forEachModel(design::Design& design, Change change) {
    for (design::Setting& setting : design.settings) {
        if (!setting.stone || setting.stone->model.empty()) continue;
        if (std::filesystem::path(setting.stone->model).is_relative()) change(setting.stone->model);
    }
}

/// Keeps the paths of the stones' models correct when the design's file moves to another folder.
void moveModels(design::Design& design, const std::filesystem::path& from, const std::filesystem::path& to) {
    const std::filesystem::path old = platform::absolutePath(from / "x").parent_path();
    const std::filesystem::path target = platform::absolutePath(to / "x").parent_path();
    if (old == target) return;
    forEachModel(design,
                 [&](std::string& model) { model = (old / model).lexically_relative(target).string(); });
}

/// Of the folder of its file, so that it can be saved elsewhere.
void beFree(design::Design& design, const std::filesystem::path& file) {
    forEachModel(design, [&](std::string& model) {
        model = platform::absolutePath(file.parent_path() / model).string();
    });
}

}  // namespace

Derived derive(const design::Design& design, const trade::Catalogue& catalogue, design::Stage stage,
               const check::CheckOptions& options) {
    return guarded([&] {
        design::requireValid(design);
        design::requireMaterials(design, catalogue);
        const design::Design made = geometry::asMeasured(design);
        geometry::requireBuildable(made);
        Derived derived;
        check::Report report;
        platform::concurrently([&] { derived = shapes(made, stage); },
                               [&] { report = check::check(made, catalogue, options); });
        return withReport(std::move(derived), std::move(report), stage);
    });
}

std::vector<std::vector<float>> wallsOf(const std::vector<geometry::Part>& parts,
                                        const design::Design& design, design::Stage stage) {
    std::vector<std::vector<float>> walls;
    walls.reserve(parts.size());
    for (const geometry::Part& part : parts)
        walls.push_back(part.role == geometry::PartRole::Band ? geometry::wallMap(part, design, stage)
                                                              : std::vector<float>());
    return walls;
}

design::Design asLeftBy(design::Design design, design::Stage stage) {
    design::Surface& surface = design.band.surface;
    if (design::isBefore(design.route, stage, design::Stage::Polished))
        surface.outside = surface.edges = surface.bore = design::Finish::Turned;
    return design;
}

scene::WallScale wallScale(const design::Design& design, const trade::Catalogue& catalogue) {
    constexpr double kLeastSpan = 0.2;
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    scene::WallScale scale;
    if (metal != nullptr) scale.least = metal->leastWall.value;
    scale.most = std::max(design.band.thickness, scale.least + kLeastSpan);
    return scale;
}

Session::Session(trade::Catalogue catalogue) : Session(std::move(catalogue), design::Design{}) {}

Session::Session(trade::Catalogue catalogue, design::Design start, bool remedies)
    : catalogue_(std::move(catalogue)),
      history_(start),
      saved_(std::move(start)),
      derived_(derive(design(), catalogue_, stage_, {.remedies = remedies})),
      seeksRemedies_(remedies) {}

std::optional<std::string> Session::change(design::Design next, std::string_view drag) {
    try {
        if (design::differInTicksAlone(design(), next)) {
            derived_.made.done = next.done;
            history_.push(std::move(next), drag);
            ++revision_;
            return std::nullopt;
        }
        const bool seeks = seeksRemedies_ && drag.empty();
        // Whoever types a path here means that file.
        formats::readStoneModels(next, folder(), formats::Outside::Allowed);
        const design::Stage stage = shownOf(next);
        Derived derived = derive(next, catalogue_, stage, {.remedies = seeks});
        history_.push(std::move(next), drag);
        stage_ = stage;
        derived_ = std::move(derived);
        lacksRemedies_ = seeksRemedies_ && !seeks;
        ++revision_;
        return std::nullopt;
    } catch (const base::InputError& error) {
        return error.what();
    }
}

void Session::settle() {
    if (isHeld_ || !std::exchange(lacksRemedies_, false)) return;
    derived_.report = check::check(derived_.made, catalogue_);
}

void Session::use(trade::Catalogue catalogue) {
    derived_ = derive(design(), catalogue, stage_, {.remedies = seeksRemedies_});
    catalogue_ = std::move(catalogue);
    lacksRemedies_ = false;
    ++revision_;
}

void Session::undo() {
    const design::Design before = design();
    history_.undo();
    refresh(before);
}

void Session::redo() {
    const design::Design before = design();
    history_.redo();
    refresh(before);
}

void Session::goTo(std::size_t place) {
    const design::Design before = design();
    history_.goTo(place);
    refresh(before);
}

std::optional<std::string> Session::show(design::Stage stage) {
    if (stage == stage_) return std::nullopt;
    try {
        derived_ = guarded([&] { return withReport(shapes(derived_.made, stage), derived_.report, stage); });
        stage_ = stage;
        ++revision_;
        return std::nullopt;
    } catch (const base::InputError& error) {
        return error.what();
    }
}

void Session::startNew() {
    begin(design::Design{}, design::Design{}, {});
}

void Session::open(const std::filesystem::path& file, formats::Outside outside) {
    design::Design design = designIn(file, outside);
    if (isPdfFile(file)) {
        // Saved it becomes a file of its own; the PDF is left as it is.
        beFree(design, file);
        begin(std::move(design), std::nullopt, {});
        return;
    }
    begin(design, design, platform::absolutePath(file));
}

void Session::beginWith(const std::filesystem::path& sample) {
    design::Design design = designIn(sample, formats::Outside::Refused);
    beFree(design, sample);
    begin(design, design, {});
}

std::string Session::recoverable(design::Design design) const {
    if (file_.empty())
        forEachModel(design, [](std::string& model) { model = platform::absolutePath(model).string(); });
    return design::formatDesign(design);
}

std::string Session::recoverableText() const {
    return recoverable(design());
}

KeptSteps Session::recoverableSteps() const {
    const std::vector<design::Design>& all = history_.designs();
    const std::size_t end = std::min(all.size(), history_.place() + 1 + kMostRecoverable / 2),
                      begin = end - std::min(end, kMostRecoverable);
    KeptSteps steps;
    for (std::size_t i = begin; i < end; ++i)
        steps.designs.push_back(recoverable(all[i]));
    steps.place = history_.place() - begin;
    return steps;
}

void Session::recover(std::string_view text, const std::filesystem::path& file, const KeptSteps& steps) {
    const auto read = [&](std::string_view written) {
        design::Design design = design::parseDesign(written, "the recovered design");
        // It was open before, so the person has been asked.
        formats::readStoneModels(design, file.parent_path(), formats::Outside::Allowed);
        return design;
    };
    begin(read(text), std::nullopt, file.empty() ? file : platform::absolutePath(file));
    try {
        std::vector<design::Design> designs;
        designs.reserve(steps.designs.size());
        for (const std::string& step : steps.designs)
            designs.push_back(read(step));
        if (steps.place < designs.size() && designs[steps.place] == design())
            history_ = design::History(std::move(designs), steps.place);
    } catch (const base::InputError&) {
        // The ring itself is there; its steps were not whole.
    }
}

void Session::save(const std::filesystem::path& file) {
    design::Design saved = design();
    moveModels(saved, folder(), file.parent_path());
    design::saveDesign(saved, file);
    if (saved != design()) history_.push(saved);
    saved_ = std::move(saved);
    file_ = platform::absolutePath(file);
}

std::string Session::fileStem() const {
    std::string name = design().title;
    if (!file_.empty()) {
        name = file_.filename().string();
        name = name.substr(0, name.find('.', 1));
    }
    std::ranges::replace_if(
        name, [](unsigned char c) { return c == '/' || c < 0x20; }, '-');
    return name;
}

/// The stage shown, or the finished ring where a design does not have it.
design::Stage Session::shownOf(const design::Design& design) const {
    const std::vector<design::Stage> known = check::stages(design, catalogue_);
    return std::ranges::find(known, stage_) != known.end() ? stage_ : design::Stage::Finished;
}

void Session::begin(design::Design design, std::optional<design::Design> saved,
                    const std::filesystem::path& file) {
    Derived derived = derive(design, catalogue_, design::Stage::Finished, {.remedies = seeksRemedies_});
    stage_ = design::Stage::Finished;
    history_ = design::History(std::move(design));
    saved_ = std::move(saved);
    file_ = file;
    derived_ = std::move(derived);
    lacksRemedies_ = false;
    ++revision_;
}

void Session::refresh(const design::Design& before) {
    if (design::differInTicksAlone(design(), before)) {
        derived_.made.done = design().done;
        ++revision_;
        return;
    }
    lacksRemedies_ = false;
    stage_ = shownOf(design());
    try {
        derived_ = derive(design(), catalogue_, stage_, {.remedies = seeksRemedies_});
    } catch (const base::InputError&) {
        // It was accepted while another stage was shown. A blank can always be drawn.
        stage_ = design::Stage::Blank;
        derived_ = derive(design(), catalogue_, stage_, {.remedies = seeksRemedies_});
    }
    ++revision_;
}

}  // namespace bandwright::app
