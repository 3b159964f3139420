#include "app/paper_view.hpp"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <exception>
#include <utility>

#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "choice_key.hpp"
#include "issue.hpp"
#include "platform/atomic_file.hpp"
#include "platform/paths.hpp"
#include "route/quote.hpp"

namespace bandwright::app {

namespace {

constexpr float kPaperList = 300;        ///< width of the list of papers, at scale 1, like all lengths here
constexpr float kPageMargin = 14;        ///< round a page
constexpr double kPaperZoomStep = 1.25;  ///< of a key or a notch of the wheel
constexpr double kLeastPaperZoom = 1;    ///< pixels of the screen to the mm of paper
constexpr double kMostPixels = 6000;     ///< of a page's longer side: 144 MB at most

struct PaperName {
    const char* name;
    const char* what;
    const char* file;  ///< what the file's name ends with
};
/// In the order of PaperKind.
constexpr std::array<PaperName, kPaperKinds> kPapers = {{
    {"Section drawing", "to scale, at the step shown", "section"},
    {"Bench sheet", "each operation, to tick and to read", "bench-sheet"},
    {"Bench sheet, brief", "one table, for who knows the work", "brief-sheet"},
    {"Client's card", "goes with the ring", "card"},
    {"Quote", "for the client", "quote"},
    {"Quote, own sheet", "with the sums that are yours alone", "own-quote"},
    {"Certificate", "what the ring is, as measured", "certificate"},
    {"Form", "what to ask a client", "form"},
}};
constexpr const PaperName& nameOf(PaperKind kind) {
    return kPapers[static_cast<std::size_t>(kind)];
}

struct SheetName {
    const char* name;
    paper::Size size;
};
constexpr std::array<SheetName, 3> kSheets = {
    {{"A4", paper::kA4}, {"A5", paper::kA5}, {"Letter", paper::kLetter}}};

template <class T>
bool isReady(const std::future<T>& coming) {
    return coming.valid() && coming.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
}

/// work(into), and the sentence of what it throws.
template <class Result, class Work>
Result sentenceKept(Work work) {
    Result result;
    try {
        work(result);
    } catch (const std::exception& error) {
        result.problem = error.what();
    }
    return result;
}

bool hasFileOfItsOwn(const Session& session) {
    return !session.file().empty() && !session.unsaved();
}

std::string dayOfIssue(const Session& session) {
    return hasFileOfItsOwn(session) ? dayOfChange(session.file()) : route::inWords(today());
}

}  // namespace

PaperView::PaperView()
    : files_({".pdf", "Open a PDF", "Write the PDF as", "name of the file", "No PDFs in this folder."}) {}

void PaperView::open(const Session& session, const trade::Workshop& workshop) {
    if (order_.date.empty()) order_.sheet = sheetOf(workshop);
    shown_ = true;
    said_.clear();
    const std::string date = dayOfIssue(session);
    if (revision_ != session.revision() || order_.date != date || order_.stage != session.stage())
        isMade_ = false;
    order_.date = date;
    order_.stage = session.stage();
}

void PaperView::choose(PaperKind kind) {
    if (order_.kind == kind) return;
    order_.kind = kind;
    isMade_ = false;
    page_ = 0;
    said_.clear();
}

void PaperView::chooseSheet(paper::Size sheet) {
    isMade_ = isMade_ && order_.sheet == sheet;
    order_.sheet = sheet;
}

void PaperView::choosePrice(bool price) {
    order_.price = price;
    isMade_ = false;
}

void PaperView::turn(int by) {
    if (by < 0 && page_ > 0) --page_;
    if (by > 0 && page_ + 1 < pages()) ++page_;
    toTop_ = true;
}

void PaperView::zoomBy(double factor) {
    zoom_ *= factor;
    fit_ = Fit::Free;
}

void PaperView::prepare(const Session& session, const trade::Workshop& workshop, Painter& painter) {
    if (isReady(preparing_)) {
        prepared_ = preparing_.get();
        hasPicture_ = false;
        isMade_ = false;
    }
    if (!preparing_.valid() &&
        (revision_ != session.revision() || (!prepared_.ring && prepared_.problem.empty()))) {
        revision_ = session.revision();
        prepared_ = {};
        // Copies, because the session goes on while this is worked out.
        preparing_ = std::async(
            std::launch::async, [made = session.derived().made, workshop, catalogue = session.catalogue()] {
                return sentenceKept<Prepared>([&](Prepared& into) {
                    into.scene = pictureOnPaper(made, catalogue);
                    into.ring = std::make_shared<RingOnPaper>(readyForPaper(made, catalogue, workshop));
                });
            });
    }
    if (!prepared_.ring || hasPicture_) return;
    if (std::optional<std::string> png = painter.still(prepared_.scene, kPictureOnPaper)) {
        prepared_.ring->picture = {std::move(*png),
                                   static_cast<double>(kPictureOnPaper.width) / kPictureOnPaper.height};
        hasPicture_ = true;
    }
}

void PaperView::make(const Session& session) {
    if (isReady(making_)) {
        Made made = making_.get();
        if (isMade_) {
            document_ = std::move(made.document);
            if (!made.problem.empty()) {
                said_ = std::move(made.problem);
                saidIsProblem_ = true;
            }
            page_ = std::min(page_, std::max<std::size_t>(pages(), 1) - 1);
        }
    }
    if (making_.valid() || isMade_ || !hasPicture_) return;
    isMade_ = true;
    document_ = nullptr;
    // The text first: where it is refused, nothing is begun.
    std::string name = session.fileStem() + ".ring.json";
    making_ = std::async(std::launch::async,
                         [order = order_, ring = std::shared_ptr<const RingOnPaper>(prepared_.ring),
                          name = std::move(name), text = session.recoverableText()] {
                             return sentenceKept<Made>([&](Made& into) {
                                 auto document = std::make_shared<paper::Document>(documentOf(order, *ring));
                                 if (order.kind != PaperKind::Form) document->design = attachedAs(name, text);
                                 into.document = std::move(document);
                             });
                         });
}

/// The page shown at this resolution, once it is there; what was there before is shown until then.
void PaperView::rasterize(double pixelsPerMm, Painter& painter) {
    if (isReady(drawing_)) {
        drawn_ = drawing_.get();
        if (drawn_.problem.empty())
            texture_ = painter.show(drawn_.raster.rgba, {drawn_.raster.width, drawn_.raster.height});
        else
            said_ = drawn_.problem;
    }
    const bool isCurrent =
        drawn_.of == document_ && drawn_.page == page_ && drawn_.pixelsPerMm == pixelsPerMm;
    if (drawing_.valid() || isCurrent || !document_ || document_->pages.empty()) return;
    drawing_ = std::async(std::launch::async, [of = document_, page = page_, pixelsPerMm] {
        return sentenceKept<Drawn>([&](Drawn& into) {
            into.of = of;
            into.page = page;
            into.pixelsPerMm = pixelsPerMm;
            into.raster = paper::raster(of->pages[page], pixelsPerMm);
        });
    });
}

void PaperView::follow(const Session& session, const trade::Workshop& workshop, Painter& painter) {
    prepare(session, workshop, painter);
    if (prepared_.ring) make(session);
    if (!prepared_.problem.empty()) {
        said_ = prepared_.problem;
        saidIsProblem_ = true;
    }
}

bool PaperView::key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen) {
    return choiceKey(places_, name, text, size, isChosen);
}

void PaperView::keys(const Session& session) {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return;
    if (pressed(Key::Escape)) shown_ = false;
    if (pressedWithCtrl(Key::P)) askWhere(session);
    if (pressed(Key::PageUp)) turn(-1);
    if (pressed(Key::PageDown)) turn(1);
    if (pressed(Key::Home)) page_ = 0;
    if (pressed(Key::End)) page_ = std::max<std::size_t>(pages(), 1) - 1;
    if (io.KeyCtrl) return;
    for (int i = 0; i < kPaperKinds; ++i)
        if (pressed(static_cast<Key>(static_cast<int>(Key::Digit1) + i))) choose(static_cast<PaperKind>(i));
    if (pressed(Key::Equal) || pressed(Key::KeypadAdd)) zoomBy(kPaperZoomStep);
    if (pressed(Key::Minus) || pressed(Key::KeypadSubtract)) zoomBy(1 / kPaperZoomStep);
    if (pressed(Key::S)) {
        const auto now = std::ranges::find(kSheets, order_.sheet, &SheetName::size);
        chooseSheet(now == kSheets.end() || now + 1 == kSheets.end() ? kSheets.front().size
                                                                     : (now + 1)->size);
    }
    if (pressed(Key::M) && order_.kind == PaperKind::Card) choosePrice(!order_.price);
    if (pressed(Key::F)) fit_ = Fit::Page;
    if (pressed(Key::W)) fit_ = Fit::Width;
}

void PaperView::list(const Session& session, float width) {
    const Theme& theme = *theme_;
    paragraph(*theme.title, width, "Papers");
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(theme.px(4), theme.px(3)));
    ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0, 0.5F));
    for (int i = 0; i < kPaperKinds; ++i) {
        const auto kind = static_cast<PaperKind>(i);
        const std::string name = std::to_string(i + 1) + "  " + nameOf(kind).name;
        if (key(nameOf(kind).name, name, {width, 0}, order_.kind == kind)) choose(kind);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", nameOf(kind).what);
    }
    ImGui::PopStyleVar();
    const float apart = theme.px(4);
    const float third = std::floor((width - 2 * apart) / static_cast<float>(kSheets.size()));
    for (const SheetName& sheet : kSheets) {
        if (&sheet != kSheets.data()) ImGui::SameLine(0, apart);
        if (key(sheet.name, sheet.name, {third, 0}, order_.sheet == sheet.size)) chooseSheet(sheet.size);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("S for the next");
    }
    if (order_.kind == PaperKind::Card) {
        const char* words = order_.price ? "With the price" : "Without the price";
        if (key("price", words, {width, 0}, order_.price)) choosePrice(!order_.price);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("M");
    }
    ImGui::BeginDisabled(!document_ || !isMade_);
    if (key("write", "Write the PDF", {width, theme.px(34)})) askWhere(session);
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Ctrl+P");
    ImGui::EndDisabled();
    if (key("leave", "Back to the ring", {width, 0})) shown_ = false;
    ImGui::PopStyleVar();
    const PaperName& shown = nameOf(order_.kind);
    paragraph(*theme.small, width, std::string(shown.name) + ": " + shown.what + ".", palette::kGraphite);
    if (!said_.empty()) {
        ImGui::Dummy({0, theme.px(4)});
        paragraph(*theme.body, width, said_, saidIsProblem_ ? palette::kProblem : palette::kPetrol);
    }
}

void PaperView::pageBar(float width) {
    const Theme& theme = *theme_;
    const float apart = theme.px(4), gap = theme.px(14), right = ImGui::GetCursorScreenPos().x + width;
    const float side = ImGui::GetFrameHeight();
    if (key("previous", "<", {side, side})) turn(-1);
    ImGui::SameLine(0, apart);
    const std::string at =
        pages() == 0 ? "..." : std::to_string(page_ + 1) + " of " + std::to_string(pages());
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(at.c_str());
    ImGui::SameLine(0, apart);
    if (key("next", ">", {side, side})) turn(1);
    ImGui::SameLine(0, gap);
    if (key("page", "Page", {0, 0}, fit_ == Fit::Page)) fit_ = Fit::Page;
    ImGui::SameLine(0, apart);
    if (key("width", "Width", {0, 0}, fit_ == Fit::Width)) fit_ = Fit::Width;
    ImGui::SameLine(0, apart);
    if (screenPixelsPerMm_ > 0) {
        const bool isTrue = fit_ == Fit::Free && std::abs(zoom_ / screenPixelsPerMm_ - 1) < 1e-6;
        if (key("true", "True size", {0, 0}, isTrue)) {
            zoom_ = screenPixelsPerMm_;
            fit_ = Fit::Free;
        }
        ImGui::SameLine(0, apart);
    }
    if (ImGui::GetCursorScreenPos().x + 2 * side + apart > right) ImGui::NewLine();
    if (key("smaller", "\u2212", {side, side})) zoomBy(1 / kPaperZoomStep);
    ImGui::SameLine(0, apart);
    if (key("larger", "+", {side, side})) zoomBy(kPaperZoomStep);
}

void PaperView::sheetOfPaper(Painter& painter) {
    const Theme& theme = *theme_;
    ImGui::PushStyleColor(ImGuiCol_ChildBg, palette::kDesk);
    ImGui::BeginChild("page", {0, 0}, false, ImGuiWindowFlags_HorizontalScrollbar | ImGuiWindowFlags_NoNav);
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const auto wide = static_cast<double>(room.x - 2 * theme.px(kPageMargin)),
               high = static_cast<double>(room.y - 2 * theme.px(kPageMargin));
    const paper::Size size =
        document_ && !document_->pages.empty() ? document_->pages[page_].size : order_.sheet;
    const float pixels = std::max(ImGui::GetIO().DisplayFramebufferScale.x, 1.0F);
    const double mostZoom = kMostPixels / std::max(size.width, size.height) / static_cast<double>(pixels);
    if (ImGui::IsWindowHovered() && ImGui::GetIO().KeyCtrl && ImGui::GetIO().MouseWheel != 0)
        zoomBy(ImGui::GetIO().MouseWheel > 0 ? kPaperZoomStep : 1 / kPaperZoomStep);
    if (fit_ == Fit::Page) zoom_ = std::min(wide / size.width, high / size.height);
    if (fit_ == Fit::Width) zoom_ = wide / size.width;
    zoom_ = std::clamp(zoom_, kLeastPaperZoom, mostZoom);
    rasterize(zoom_ * static_cast<double>(pixels), painter);

    const ImVec2 shown{static_cast<float>(std::round(size.width * zoom_)),
                       static_cast<float>(std::round(size.height * zoom_))};
    const float margin = theme.px(kPageMargin);
    if (std::exchange(toTop_, false)) ImGui::SetScrollY(0);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 least{std::round(corner.x + std::max(margin, (room.x - shown.x) / 2)),
                       std::round(corner.y + margin)};
    const ImVec2 most{least.x + shown.x, least.y + shown.y};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(least, most, palette::kWell);
    const bool isThere = texture_ != nullptr && document_ && drawn_.of == document_ && drawn_.page == page_;
    if (isThere) {
        list.AddImage(texture_, least, most);
    } else if (said_.empty() || !saidIsProblem_) {
        const char* words = "Being made...";
        const ImVec2 extent = ImGui::CalcTextSize(words);
        const ImVec2 window = ImGui::GetWindowPos();
        list.AddText({window.x + (room.x - extent.x) / 2, window.y + room.y / 2}, palette::kGraphite, words);
    }
    list.AddRect(least, most, palette::kGrip);
    ImGui::Dummy({most.x + margin - corner.x, most.y + margin - corner.y});
    if (ImGui::IsWindowHovered() && ImGui::IsMouseDragging(0, 0)) {
        ImGui::SetScrollX(ImGui::GetScrollX() - ImGui::GetIO().MouseDelta.x);
        ImGui::SetScrollY(ImGui::GetScrollY() - ImGui::GetIO().MouseDelta.y);
    }
    const float line = theme.px(40);
    if (pressed(Key::Down, true)) ImGui::SetScrollY(ImGui::GetScrollY() + line);
    if (pressed(Key::Up, true)) ImGui::SetScrollY(ImGui::GetScrollY() - line);
    if (pressed(Key::Right, true)) ImGui::SetScrollX(ImGui::GetScrollX() + line);
    if (pressed(Key::Left, true)) ImGui::SetScrollX(ImGui::GetScrollX() - line);
    ImGui::EndChild();
    ImGui::PopStyleColor();
}

void PaperView::askWhere(const Session& session) {
    if (!document_ || !isMade_) return;
    const std::filesystem::path name = session.fileStem() + "-" + nameOf(order_.kind).file + ".pdf";
    files_.ask(FilePanel::Purpose::Save,
               session.file().empty() ? platform::absolutePath(name) : session.file().parent_path() / name);
}

void PaperView::write(const std::filesystem::path& file) {
    saidIsProblem_ = true;
    try {
        platform::writeFileAtomically(file, paper::pdf(*document_));
        said_ =
            file.string() + " is written, " + std::to_string(pages()) + (pages() == 1 ? " page." : " pages.");
        saidIsProblem_ = false;
    } catch (const std::exception& error) {
        said_ = error.what();
    }
}

void PaperView::draw(const Session& session, const trade::Workshop& workshop, const Theme& theme,
                     Painter& painter) {
    theme_ = &theme;
    places_.clear();
    screenPixelsPerMm_ =
        painter.pixelsPerMm() / static_cast<double>(std::max(ImGui::GetIO().DisplayFramebufferScale.x, 1.0F));
    keys(session);
    follow(session, workshop, painter);
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(screen);
    ImGui::Begin("Papers", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoNavInputs | ImGuiWindowFlags_NoBringToFrontOnFocus);
    const float room = ImGui::GetContentRegionAvail().x, apart = theme.px(12);
    const float width = std::min(theme.px(kPaperList), std::floor(room * 0.4F));
    ImGui::BeginChild("list", {width, 0}, false, ImGuiWindowFlags_NoNav);
    list(session, ImGui::GetContentRegionAvail().x);
    ImGui::EndChild();
    ImGui::SameLine(0, apart);
    ImGui::BeginChild("sheet", {0, 0}, false, ImGuiWindowFlags_NoNav);
    pageBar(ImGui::GetContentRegionAvail().x);
    sheetOfPaper(painter);
    ImGui::EndChild();
    ImGui::End();
    if (const auto file = files_.draw(theme)) write(*file);
    isBusy_ = shown_ && (preparing_.valid() || making_.valid() || drawing_.valid() ||
                         (prepared_.ring && (!hasPicture_ || !isMade_)));
}

}  // namespace bandwright::app
