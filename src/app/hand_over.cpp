#include "app/hand_over.hpp"

#include <imgui.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <exception>
#include <future>
#include <set>
#include <span>
#include <utility>

#include "app/keys.hpp"
#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/check.hpp"
#include "choice_key.hpp"
#include "command_parts.hpp"
#include "export_file.hpp"
#include "focus.hpp"
#include "formats/model.hpp"
#include "geometry/ring.hpp"
#include "picture.hpp"
#include "platform/atomic_file.hpp"
#include "platform/paths.hpp"
#include "platform/show_folder.hpp"
#include "render/still.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

constexpr float kHandOverList = 300, kHandOverRows = 430;  ///< widths at scale 1

enum class Writes : std::uint8_t { Model, Picture, Turntable, Weights };

/// One thing that can be handed over.
struct HandedKind {
    Writes writes;
    std::string ending, name, holds;
};

const std::vector<HandedKind>& kinds() {
    static const std::vector<HandedKind> all = [] {
        std::vector<HandedKind> list;
        for (const formats::ModelFormat& format : formats::modelFormats())
            list.push_back({Writes::Model, std::string(format.ending), "Model, " + std::string(format.name),
                            std::string(format.holds)});
        list.push_back(
            {Writes::Picture, ".png", "Picture, PNG", "the ring as on the stand, one view or several"});
        list.push_back({Writes::Turntable, ".webp", "Turning picture, WebP",
                        "one turn of the ring, over and over, for web pages and messages"});
        list.push_back({Writes::Weights, ".txt", "Weights, text",
                        "what each part weighs, its volume, surface and centre of mass"});
        list.push_back({Writes::Weights, ".json", "Weights, JSON", "the same for another program"});
        return list;
    }();
    return all;
}

/// The key that chooses a kind: 1 to 9, then 0.
std::size_t digitOf(std::size_t kind) {
    return (kind + 1) % 10;
}

/// "stone" of "stone-2".
std::string roleOf(const std::string& part) {
    const std::size_t dash = part.rfind('-');
    return part.substr(0, dash);
}

std::string bytesText(std::uintmax_t bytes) {
    const auto count = static_cast<double>(bytes);
    if (bytes < 1000) return std::to_string(bytes) + " bytes";
    return bytes < 1000000 ? base::fixed(count / 1000, 0) + " kB" : base::fixed(count / 1000000, 1) + " MB";
}

template <class T>
bool isThere(const std::future<T>& coming) {
    return coming.valid() && coming.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
}

std::vector<Option> asOptions(const std::vector<std::string>& names) {
    std::vector<Option> options;
    for (std::string name : names) {
        std::string shown = base::capitalised(name);
        std::ranges::replace(shown, '-', ' ');
        options.push_back({std::move(name), std::move(shown), {}});
    }
    return options;
}

}  // namespace

/// What was chosen for each kind.
struct HandOver::Choice {
    std::size_t kind = 0;
    design::Stage stage = design::Stage::Finished;
    std::vector<design::Stage> stages;  ///< of this ring
    std::vector<std::string> roles;     ///< of its parts at the stage
    std::set<std::string> left;         ///< roles that are not written
    double tolerance = 0.01;            ///< mm
    bool oneBody = false, forMetal = false;
    double larger = 0;  ///< percent
    std::set<std::string> views = {"corner"};
    std::string studio = "tent", width = "1600";
    bool transparent = false;
    std::string turnView = "corner", turnWidth = "720";
    double turnPictures = 72;
};

/// A file on its way. What one thread writes and the frame reads is atomic; at its end it is stopped.
struct HandOver::Job {
    struct Shared {
        std::atomic<double> share = 0;
        std::atomic<bool> stops = false;
    };
    struct Written {
        std::vector<fs::path> files;
        std::string note;
    };

    explicit Job(fs::path wanted) : file(std::move(wanted)) {}
    ~Job() { shared->stops = true; }
    Job(const Job&) = delete;
    Job& operator=(const Job&) = delete;

    fs::path file;
    std::shared_ptr<Shared> shared = std::make_shared<Shared>();
    std::future<Written> writing;
    std::future<render::Still> preparing;  ///< of a picture, which the frames then paint
    std::string bytes;
    std::optional<render::StillPainting> painting;
    std::future<render::TurntablePainting> preparingTurn;  ///< of a turntable likewise
    std::optional<render::TurntablePainting> turning;
};

HandOver::HandOver() : choice_(std::make_unique<Choice>()) {}
HandOver::~HandOver() = default;

std::optional<double> HandOver::share() const {
    if (job_ == nullptr) return std::nullopt;
    return job_->painting  ? job_->painting->share()
           : job_->turning ? job_->turning->share()
                           : job_->shared->share.load();
}

void HandOver::open(const Session& session) {
    shown_ = true;
    said_.clear();
    folder_.clear();
    choice_->stage = session.stage();
    readParts(session);
}

/// The stages and parts of the ring as it is now.
void HandOver::readParts(const Session& session) {
    const design::Design& made = session.derived().made;
    Choice& now = *choice_;
    revision_ = session.revision();
    now.stages = check::stages(made, session.catalogue());
    if (std::ranges::find(now.stages, now.stage) == now.stages.end()) now.stage = design::Stage::Finished;
    now.roles.clear();
    for (const geometry::SolidPart& body : geometry::bodies(made, now.stage)) {
        std::string role = roleOf(geometry::name(body.part));
        if (std::ranges::find(now.roles, role) == now.roles.end()) now.roles.push_back(std::move(role));
    }
}

void HandOver::choose(std::size_t kind) {
    if (choice_->kind == kind) return;
    choice_->kind = kind;
    said_.clear();
}

bool HandOver::key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen) {
    return choiceKey(places_, name, text, size, isChosen);
}

void HandOver::keys(const Session& session) {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return;
    if ((pressed(Key::Enter) || pressed(Key::KeypadEnter)) && !io.WantTextInput) pressFocused();
    if (pressedWithCtrl(Key::E)) askWhere(session);
    if (pressed(Key::Escape) && !io.WantTextInput) {
        if (busy())
            stop();
        else
            shown_ = false;
    }
    if (io.WantTextInput || io.KeyCtrl) return;
    for (std::size_t i = 0; i < kinds().size(); ++i)
        if (pressed(static_cast<Key>(static_cast<std::size_t>(Key::Digit0) + digitOf(i)))) choose(i);
}

void HandOver::list(float width) {
    const Theme& theme = *theme_;
    paragraph(*theme.title, width, "Hand over");
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(theme.px(4), theme.px(3)));
    ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0, 0.5F));
    for (std::size_t i = 0; i < kinds().size(); ++i) {
        const HandedKind& kind = kinds()[i];
        if (key(kind.ending, std::to_string(digitOf(i)) + "  " + kind.name, {width, 0}, choice_->kind == i))
            choose(i);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", kind.holds.c_str());
    }
    ImGui::BeginDisabled(busy());
    if (key("papers", "Papers, PDF", {width, 0})) papersAsked_ = true;
    ImGui::EndDisabled();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("drawing, bench sheet, card, quote, certificate");
    ImGui::PopStyleVar();
    ImGui::BeginDisabled(busy());
    if (key("leave", "Back to the ring", {width, 0})) shown_ = false;
    ImGui::EndDisabled();
    ImGui::PopStyleVar();
}

void HandOver::modelRows(const Session& session) {
    Choice& now = *choice_;
    const formats::ModelFormat& format = formats::modelFormat("x" + kinds()[now.kind].ending);
    rows_.heading("Parts");
    for (const std::string& role : now.roles) {
        bool isIn = !now.left.contains(role);
        if (!rows_.toggle("part=" + role, base::capitalised(role), isIn)) continue;
        if (isIn)
            now.left.erase(role);
        else
            now.left.insert(role);
    }
    if (format.oneBody) rows_.toggle("one-body", "All in one body", now.oneBody);
    rows_.heading("Accuracy");
    if (format.ending == ".step") {
        rows_.note("Exact faces; nothing to choose.");
    } else {
        rows_.number("tolerance", "Tolerance", now.tolerance, design::mm(0.000005, 1, 0.001, 3));
        rows_.note("How far the triangles may stand off the ring's surface.");
    }
    rows_.heading("Pattern for casting");
    design::NumberField percent;
    percent.most = 20;
    percent.unit = design::Unit::Percent;
    percent.step = 0.1;
    percent.decimals = 2;
    rows_.toggle("for-metal", "Larger by what the metal shrinks", now.forMetal);
    if (!now.forMetal) rows_.number("larger", "Larger by", now.larger, percent);
    const std::string metal = session.design().band.metal;
    if (const trade::Metal* of = session.catalogue().metal(metal); now.forMetal && of != nullptr)
        rows_.note("Only where all that is written is of one metal; the band is of " + of->name + ".");
}

void HandOver::pictureRows() {
    Choice& now = *choice_;
    rows_.heading("Views");
    for (const std::string& name : viewNames()) {
        bool isIn = now.views.contains(name);
        std::string label = base::capitalised(name);
        std::ranges::replace(label, '-', ' ');
        if (!rows_.toggle("view=" + name, label, isIn)) continue;
        if (isIn)
            now.views.insert(name);
        else if (now.views.size() > 1)
            now.views.erase(name);
    }
    rows_.heading("Picture");
    rows_.choice("studio", "Light", now.studio, asOptions(studioNames()));
    static const std::vector<Option> kWidths = {
        {"800", "800 x 600", {}}, {"1600", "1600 x 1200", {}}, {"3200", "3200 x 2400", {}}};
    rows_.segments("width", "Pixels", now.width, kWidths);
    rows_.toggle("transparent", "Without a background", now.transparent);
}

void HandOver::turntableRows() {
    Choice& now = *choice_;
    rows_.heading("Turn");
    rows_.choice("turn-view", "View", now.turnView, asOptions(viewNames()));
    rows_.choice("studio", "Light", now.studio, asOptions(studioNames()));
    static const std::vector<Option> kWidths = {{"480", "480", {}}, {"720", "720", {}}, {"1080", "1080", {}}};
    rows_.segments("turn-width", "Pixels each way", now.turnWidth, kWidths);
    design::NumberField pictures;
    pictures.least = 2;
    pictures.most = 720;
    pictures.unit = design::Unit::None;
    pictures.step = 1;
    pictures.decimals = 0;
    if (rows_.number("turn-pictures", "Pictures", now.turnPictures, pictures))
        now.turnPictures = std::round(now.turnPictures);
    rows_.note("Of one whole turn, 20 of them in a second.");
    rows_.toggle("transparent", "Without a background", now.transparent);
}

void HandOver::asked(const Session& session, float width) {
    Choice& now = *choice_;
    const HandedKind& kind = kinds()[now.kind];
    rows_.begin(*theme_, width);
    paragraph(*theme_->large, width, kind.name);
    paragraph(*theme_->small, width, base::capitalised(kind.holds) + ".", palette::kGraphite);
    std::vector<Option> stages;
    for (const design::Stage stage : now.stages)
        stages.push_back({std::string(design::word(stage).id), std::string(design::word(stage).label), {}});
    std::string stage(design::word(now.stage).id);
    if (rows_.choice("stage", "The ring when", stage, stages)) {
        for (const design::Stage each : now.stages)
            if (design::word(each).id == stage) now.stage = each;
        readParts(session);
    }
    switch (kind.writes) {
        case Writes::Model:
            modelRows(session);
            break;
        case Writes::Picture:
            pictureRows();
            break;
        case Writes::Turntable:
            turntableRows();
            break;
        case Writes::Weights:
            break;
    }
}

void HandOver::told(float width) {
    const Theme& theme = *theme_;
    if (job_ != nullptr) {
        const auto done = static_cast<float>(share().value_or(0));
        const std::string name = job_->file.filename().string();
        const std::string words =
            job_->shared->stops
                ? "Stopping " + name
                : "Writing " + name + ", " + base::fixed(100 * static_cast<double>(done), 0) + " %";
        paragraph(*theme.body, width, words);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float height = theme.px(8);
        ImDrawList& draw = *ImGui::GetWindowDrawList();
        draw.AddRectFilled(at, {at.x + width, at.y + height}, palette::kWell);
        draw.AddRectFilled(at, {at.x + width * done, at.y + height}, palette::kPetrol);
        draw.AddRect(at, {at.x + width, at.y + height}, palette::kGrip);
        ImGui::Dummy({width, height});
        if (key("stop", "Stop", {theme.px(140), 0})) stop();
        return;
    }
    if (said_.empty()) return;
    paragraph(*theme.body, width, said_, saidIsProblem_ ? palette::kProblem : palette::kPetrol);
    if (!folder_.empty() && key("folder", "Show the folder", {0, 0}) && !platform::showFolder(folder_))
        said_ = "No program of this desktop shows folders; it is " + folder_.string() + ".";
}

void HandOver::askWhere(const Session& session) {
    if (busy()) return;
    const HandedKind& kind = kinds()[choice_->kind];
    const std::string end = kind.writes == Writes::Weights ? "-weights" : "";
    const fs::path name = session.fileStem() + end + kind.ending;
    files_ = FilePanel(
        {kind.ending, "Open", "Hand over as", "name of the file", "No files of this kind in this folder."});
    files_.ask(FilePanel::Purpose::Save, !folder_.empty()         ? folder_ / name
                                         : session.file().empty() ? platform::absolutePath(name)
                                                                  : session.file().parent_path() / name);
}

void HandOver::begin(const Session& session, const fs::path& file) {
    const Choice& now = *choice_;
    said_.clear();
    folder_.clear();
    job_ = std::make_unique<Job>(file);
    // Copies, because the session goes on while this is written.
    const design::Design& made = session.derived().made;
    const trade::Catalogue& catalogue = session.catalogue();
    const auto told = [shared = job_->shared](double share) {
        shared->share = share;
        if (shared->stops) throw Stopped();
    };
    switch (kinds()[now.kind].writes) {
        case Writes::Model: {
            ExportCall call;
            call.out = file.string();
            call.chord = now.tolerance * 1000;
            call.oneBody = now.oneBody && formats::modelFormat(file).oneBody;
            if (now.forMetal)
                call.shrink = "metal";
            else if (now.larger > 0)
                call.shrink = base::shortestNumber(now.larger);
            for (const std::string& role : now.roles)
                if (!now.left.contains(role)) call.parts.push_back(role);
            const bool isAll = call.parts.size() == now.roles.size();
            if (isAll && !(now.forMetal && now.roles.size() == 1)) call.parts.clear();
            job_->writing = std::async(std::launch::async, [call, made, catalogue, stage = now.stage, told] {
                requireExport(call);
                const Exported exported = exportFiles(call, made, stage, catalogue, told);
                return Job::Written{exported.files, exported.note};
            });
            return;
        }
        case Writes::Picture: {
            PictureCall call;
            call.out = file.string();
            for (const std::string& name : viewNames())
                if (now.views.contains(name)) call.views.push_back(name);
            call.studio = now.studio;
            call.transparent = now.transparent;
            call.width = std::stoi(now.width);
            call.height = call.width * 3 / 4;
            job_->preparing = std::async(std::launch::async, [call, made, catalogue, stage = now.stage] {
                requireDrawable(call);
                return stillFor(call, made, catalogue, stage);
            });
            return;
        }
        case Writes::Turntable: {
            PictureCall call;
            call.out = file.string();
            call.views = {now.turnView};
            call.studio = now.studio;
            call.transparent = now.transparent;
            call.turntable = true;
            call.width = call.height = std::stoi(now.turnWidth);
            call.frames = static_cast<int>(now.turnPictures);
            job_->preparingTurn = std::async(std::launch::async, [call, made, catalogue, stage = now.stage] {
                requireDrawable(call);
                return turntableFor(call, made, catalogue, stage);
            });
            return;
        }
        case Writes::Weights:
            job_->writing = std::async(std::launch::async, [file, made, catalogue, stage = now.stage] {
                const bool asJson = formatEnding(file.string()) == ".json";
                platform::writeFileAtomically(file, weighedAt(made, stage, catalogue, asJson));
                return Job::Written{{file}, {}};
            });
            return;
    }
}

void HandOver::stop() {
    if (job_ == nullptr) return;
    job_->shared->stops = true;
    job_->painting.reset();
    job_->turning.reset();
}

/// Takes the file that is on its way one frame further.
void HandOver::follow(Painter& painter) {
    if (job_ == nullptr) return;
    Job& job = *job_;
    if (job.shared->stops) {
        // A thread that is asked to stop takes a moment, and no frame waits for it.
        const auto works = [](const auto& coming) { return coming.valid() && !isThere(coming); };
        if (works(job.preparing) || works(job.preparingTurn) || works(job.writing)) return;
    }
    try {
        if (isThere(job.preparing) && !job.shared->stops)
            job.painting.emplace(job.preparing.get(), [&job](std::string_view bytes) { job.bytes += bytes; });
        if (isThere(job.preparingTurn) && !job.shared->stops) job.turning.emplace(job.preparingTurn.get());
        if (!job.writing.valid() && ((job.painting && painter.advance(*job.painting)) ||
                                     (job.turning && painter.advance(*job.turning)))) {
            if (job.turning) job.bytes = job.turning->take();
            job.writing = std::async(std::launch::async, [file = job.file, bytes = std::move(job.bytes)] {
                platform::writeFileAtomically(file, bytes);
                return Job::Written{{file}, {}};
            });
        }
        if (!job.writing.valid() && job.shared->stops) throw Stopped();
        if (!isThere(job.writing)) return;
        const Job::Written written = job.writing.get();
        std::uintmax_t bytes = 0;
        for (const fs::path& file : written.files)
            bytes += fs::file_size(file);
        said_ = written.files.front().filename().string();
        if (written.files.size() > 1)
            said_ += " and " + std::to_string(written.files.size() - 1) + " beside it";
        said_ += (written.files.size() > 1 ? " are written, " : " is written, ") + bytesText(bytes) + ".";
        if (!written.note.empty()) said_ += " " + written.note;
        saidIsProblem_ = false;
        folder_ = platform::absolutePath(written.files.front()).parent_path();
    } catch (const Stopped&) {
        said_ = "Stopped; " + job.file.filename().string() + " is as it was before.";
        saidIsProblem_ = false;
    } catch (const std::exception& error) {
        said_ = error.what();
        saidIsProblem_ = true;
    }
    job_.reset();
}

void HandOver::draw(const Session& session, const Theme& theme, Painter& painter) {
    theme_ = &theme;
    places_.clear();
    keys(session);
    follow(painter);
    if (revision_ != session.revision()) readParts(session);
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::Begin("Hand over", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    const float room = ImGui::GetContentRegionAvail().x, apart = theme.px(28);
    const float width = std::min(theme.px(kHandOverList), std::floor(room * 0.4F));
    ImGui::BeginChild("list", {width, 0});
    list(ImGui::GetContentRegionAvail().x);
    ImGui::EndChild();
    ImGui::SameLine(0, apart);
    ImGui::BeginChild("asked", {0, 0});
    const float rows = std::min(theme.px(kHandOverRows), ImGui::GetContentRegionAvail().x - theme.px(12));
    asked(session, rows);
    ImGui::Dummy({0, theme.px(8)});
    const bool isNone = kinds()[choice_->kind].writes == Writes::Model && !choice_->roles.empty() &&
                        std::ranges::all_of(choice_->roles, [this](const std::string& role) {
                            return choice_->left.contains(role);
                        });
    if (session.derived().report.verdict == check::Verdict::NoGo) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        verdictMark(*ImGui::GetWindowDrawList(), {at.x + theme.px(6), at.y + theme.px(9)}, theme.px(5),
                    check::Verdict::NoGo);
        ImGui::SetCursorScreenPos({at.x + theme.px(20), at.y});
        paragraph(*theme.body, rows - theme.px(20), "This ring is no-go; the gauges say why.");
    }
    ImGui::BeginDisabled(isNone || busy());
    if (key("write", "Write " + session.fileStem() + kinds()[choice_->kind].ending, {rows, theme.px(34)},
            true))
        askWhere(session);
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Ctrl+E");
    ImGui::EndDisabled();
    told(rows);
    ImGui::EndChild();
    ImGui::End();
    if (const auto file = files_.draw(theme)) begin(session, *file);
}

}  // namespace bandwright::app
