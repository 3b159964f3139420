#include "app/session.hpp"

#include <algorithm>
#include <exception>
#include <string>
#include <utility>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "geometry/wall.hpp"
#include "platform/concurrently.hpp"
#include "platform/paths.hpp"

namespace bandwright {

namespace {

/// A fault of ours must not cost the person the design that stood before.
template <class Work>
auto guarded(Work work) {
    try {
        return work();
    } catch (const InputError&) {
        throw;
    } catch (const std::exception& fault) {
        throw InputError(std::string("Bandwright cannot work this ring out, by a fault of its own: ") +
                         fault.what());
    }
}

/// What is drawn of a stage.
Derived shapes(const Design& design, Stage stage) {
    Derived derived;
    derived.parts = buildParts(design, stage);
    derived.plain = sections(design, stage);
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        derived.settings.push_back(sectionThrough(design, i, stage));
    return derived;
}

/// The rest of what is shown of a stage.
Derived withReport(Derived derived, Report report, const Design& design, Stage stage) {
    derived.bodies = stage == Stage::Finished ? report.bodies : bodies(design, stage);
    derived.report = std::move(report);
    return derived;
}

/// Calls change(path) for the path of each stone's model that is not from the root on.
template <class Change>
void forEachModel(Design& design, Change change) {
    for (Setting& setting : design.settings) {
        if (!setting.stone || setting.stone->model.empty()) continue;
        if (std::filesystem::path(setting.stone->model).is_relative()) change(setting.stone->model);
    }
}

/// Keeps the paths of the stones' models true when the design's file goes to another folder.
void moveModels(Design& design, const std::filesystem::path& from, const std::filesystem::path& to) {
    const std::filesystem::path old = absolutePath(from / "x").parent_path();
    const std::filesystem::path target = absolutePath(to / "x").parent_path();
    if (old == target) return;
    forEachModel(design,
                 [&](std::string& model) { model = (old / model).lexically_relative(target).string(); });
}

}  // namespace

Derived derive(const Design& design, const Catalogue& catalogue, Stage stage, const CheckOptions& options) {
    return guarded([&] {
        requireValid(design);
        requireMaterials(design, catalogue);
        requireBuildable(design);
        Derived derived;
        Report report;
        concurrently([&] { derived = shapes(design, stage); },
                     [&] { report = check(design, catalogue, options); });
        return withReport(std::move(derived), std::move(report), design, stage);
    });
}

std::vector<std::vector<float>> wallsOf(const std::vector<Part>& parts, const Design& design, Stage stage) {
    std::vector<std::vector<float>> walls;
    walls.reserve(parts.size());
    for (const Part& part : parts)
        walls.push_back(part.role == PartRole::Band ? wallMap(part, design, stage) : std::vector<float>());
    return walls;
}

Design asLeftBy(Design design, Stage stage) {
    Surface& surface = design.band.surface;
    if (isBefore(design.route, stage, Stage::Polished))
        surface.outside = surface.edges = surface.bore = Finish::Turned;
    return design;
}

WallScale wallScale(const Design& design, const Catalogue& catalogue) {
    constexpr double kLeastSpan = 0.2;
    const Metal* metal = catalogue.metal(design.band.metal);
    WallScale scale;
    if (metal != nullptr) scale.least = metal->leastWall.value;
    scale.most = std::max(design.band.thickness, scale.least + kLeastSpan);
    return scale;
}

Session::Session(Catalogue catalogue) : Session(std::move(catalogue), Design{}) {}

Session::Session(Catalogue catalogue, Design start)
    : catalogue_(std::move(catalogue)),
      history_(start),
      saved_(std::move(start)),
      derived_(derive(design(), catalogue_, stage_)) {}

std::optional<std::string> Session::change(Design next, std::string_view drag) {
    try {
        const bool dragged = !drag.empty();
        readStoneModels(next, folder());
        const Stage stage = shownOf(next);
        Derived derived = derive(next, catalogue_, stage, {.remedies = !dragged});
        history_.push(std::move(next), drag);
        stage_ = stage;
        derived_ = std::move(derived);
        lacksRemedies_ = dragged;
        ++revision_;
        return std::nullopt;
    } catch (const InputError& error) {
        return error.what();
    }
}

void Session::settle() {
    if (!std::exchange(lacksRemedies_, false)) return;
    derived_.report = check(design(), catalogue_);
}

void Session::undo() {
    history_.undo();
    refresh();
}

void Session::redo() {
    history_.redo();
    refresh();
}

std::optional<std::string> Session::show(Stage stage) {
    if (stage == stage_) return std::nullopt;
    try {
        derived_ =
            guarded([&] { return withReport(shapes(design(), stage), derived_.report, design(), stage); });
        stage_ = stage;
        ++revision_;
        return std::nullopt;
    } catch (const InputError& error) {
        return error.what();
    }
}

void Session::startNew() {
    begin(Design{}, Design{}, {});
}

void Session::open(const std::filesystem::path& file) {
    Design design = readDesign(file);
    readStoneModels(design, file.parent_path());
    begin(design, design, absolutePath(file));
}

std::string Session::recoverableText() const {
    Design whole = design();
    if (file_.empty()) forEachModel(whole, [](std::string& model) { model = absolutePath(model).string(); });
    return formatDesign(whole);
}

void Session::recover(std::string_view text, const std::filesystem::path& file) {
    Design design = parseDesign(text, "the recovered design");
    readStoneModels(design, file.parent_path());
    begin(std::move(design), std::nullopt, file.empty() ? file : absolutePath(file));
}

void Session::save(const std::filesystem::path& file) {
    Design saved = design();
    moveModels(saved, folder(), file.parent_path());
    saveDesign(saved, file);
    if (saved != design()) history_.push(saved);
    saved_ = std::move(saved);
    file_ = absolutePath(file);
}

/// The stage shown, or the finished ring where a design does not have it.
Stage Session::shownOf(const Design& design) const {
    const std::vector<Stage> known = stages(design, catalogue_);
    return std::ranges::find(known, stage_) != known.end() ? stage_ : Stage::Finished;
}

void Session::begin(Design design, std::optional<Design> saved, const std::filesystem::path& file) {
    Derived derived = derive(design, catalogue_, Stage::Finished);
    stage_ = Stage::Finished;
    history_ = History(std::move(design));
    saved_ = std::move(saved);
    file_ = file;
    derived_ = std::move(derived);
    lacksRemedies_ = false;
    ++revision_;
}

void Session::refresh() {
    lacksRemedies_ = false;
    stage_ = shownOf(design());
    try {
        derived_ = derive(design(), catalogue_, stage_);
    } catch (const InputError&) {
        // It was taken while another stage was shown. Of a blank there is always a picture.
        stage_ = Stage::Blank;
        derived_ = derive(design(), catalogue_, stage_);
    }
    ++revision_;
}

}  // namespace bandwright
