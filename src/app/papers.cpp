#include "app/papers.hpp"

#include <fstream>
#include <iterator>
#include <string_view>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "command_parts.hpp"
#include "design_source.hpp"
#include "geometry/boundary.hpp"
#include "issue.hpp"
#include "page_mark.hpp"
#include "paper/client_papers.hpp"
#include "paper/section_sheet.hpp"
#include "paper/write.hpp"
#include "picture.hpp"
#include "platform/atomic_file.hpp"
#include "platform/paths.hpp"
#include "render/renderer.hpp"
#include "render/still.hpp"
#include "route/quote.hpp"

namespace bandwright::app {

namespace {

paper::Picture drawnPicture(const design::Design& made, const trade::Catalogue& catalogue) {
    return {render::stillPng(render::stillOf({pictureOnPaper(made, catalogue)}, kPictureOnPaper)),
            static_cast<double>(kPictureOnPaper.width) / kPictureOnPaper.height};
}

paper::Job jobOf(const RingOnPaper& ring, const std::string& date) {
    return {ring.made, ring.catalogue, ring.workshop, ring.report, ring.plan, ring.picture, date};
}

route::Quote quoteOf(const RingOnPaper& ring, const std::string& date) {
    return route::quote(ring.made, ring.catalogue, ring.workshop, ring.plan,
                        date.empty() ? today() : route::dayOf(date, "--date"));
}

std::string priceOf(const PaperOrder& order, const RingOnPaper& ring) {
    if (!order.price) return {};
    const route::Quote quote = quoteOf(ring, order.date);
    return route::money(quote.total) + (quote.currency.empty() ? "" : " " + quote.currency);
}

}  // namespace

RingOnPaper readyForPaper(design::Design made, const trade::Catalogue& catalogue,
                          const trade::Workshop& workshop) {
    // What holes that run into each other take would be counted twice.
    geometry::boundaries(made);
    RingOnPaper ring{std::move(made), catalogue, workshop, {}, {}, {}};
    ring.report = check::check(ring.made, catalogue, {.remedies = false, .resizing = true});
    ring.plan = route::plan(ring.made, catalogue, workshop, ring.report);
    return ring;
}

scene::Scene pictureOnPaper(const design::Design& made, const trade::Catalogue& catalogue) {
    return sceneOf(made, catalogue, "corner");
}

paper::Size sheetOf(const trade::Workshop& workshop) {
    switch (workshop.paper) {
        case trade::Paper::A4:
            break;
        case trade::Paper::A5:
            return paper::kA5;
        case trade::Paper::Letter:
            return paper::kLetter;
    }
    return paper::kA4;
}

paper::Document documentOf(const PaperOrder& order, const RingOnPaper& ring) {
    const std::string& title = ring.made.title;
    paper::Document document{.title = title, .date = order.date, .author = ring.workshop.name};
    switch (order.kind) {
        case PaperKind::Section:
            document.title = title + ", section drawing";
            document.pages = paper::sectionSheets(ring.made, order.stage, ring.catalogue,
                                                  {.sheet = order.sheet,
                                                   .owner = ring.workshop.name,
                                                   .date = order.date,
                                                   .number = paper::identification(ring.made)});
            break;
        case PaperKind::BenchSheet:
            document.title = title + ", bench sheet";
            document.pages = paper::benchSheet(jobOf(ring, order.date), order.sheet);
            break;
        case PaperKind::BriefSheet:
            document.title = title + ", brief bench sheet";
            document.pages = paper::briefBenchSheet(jobOf(ring, order.date), order.sheet);
            break;
        case PaperKind::Card:
            document.pages = paper::clientCard(jobOf(ring, order.date), priceOf(order, ring), order.sheet);
            break;
        case PaperKind::Quote:
        case PaperKind::OwnQuote: {
            const bool isOwn = order.kind == PaperKind::OwnQuote;
            const route::Quote quote = quoteOf(ring, order.date);
            document.title = title + (isOwn ? ", internal sheet" : ", quote");
            document.date = route::inWords(quote.date);
            document.pages = paper::quotePages(quote, ring.picture, isOwn, order.sheet);
            break;
        }
        case PaperKind::Certificate:
            document.title = title + ", certificate";
            document.pages = paper::certificate(jobOf(ring, order.date), order.sheet);
            break;
        case PaperKind::Form:
            document.title = "A ring to order";
            document.pages = paper::consultationForm(ring.workshop, order.date, order.sheet);
            break;
    }
    return document;
}

void requirePaper(const PaperCall& call) {
    if (!call.paper.empty()) static_cast<void>(paper::sheetNamed(call.paper, "--paper"));
    if (!call.date.empty()) static_cast<void>(route::dayOf(call.date, "--date"));
}

namespace {

PaperOrder orderOf(PaperKind kind, const PaperCall& call, const trade::Workshop& workshop) {
    return {.kind = kind,
            .sheet = call.paper.empty() ? sheetOf(workshop) : paper::sheetNamed(call.paper, "--paper"),
            .date = call.date,
            .price = call.price};
}

}  // namespace

void writePaper(PaperKind kind, const PaperCall& call, const std::string& file, const design::Design& made,
                const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    const bool isQuote = kind == PaperKind::Quote || kind == PaperKind::OwnQuote;
    PaperOrder order = orderOf(kind, call, workshop);
    if (order.date.empty() && !isQuote) order.date = dayOfChange(file);
    RingOnPaper ring = readyForPaper(made, catalogue, workshop);
    ring.picture = drawnPicture(made, catalogue);
    if (kind == PaperKind::Card && formatEnding(call.out) == ".html")
        return platform::writeFileAtomically(
            call.out, paper::clientPage(jobOf(ring, order.date), priceOf(order, ring)));
    paper::Document document = documentOf(order, ring);
    document.design = attachedAs(designName(file), designTextIn(file));
    platform::writeFileAtomically(call.out, paper::pdf(document));
}

namespace {

/// The pieces that `./dev web` makes for a client's page.
constexpr const char* kViewer = "client-viewer.html";

/// JSON without "<", so that nothing in it ends the element of the page that it stands in.
std::string inPage(const std::string& json) {
    std::string safe;
    for (const char c : json) {
        if (c == '<')
            safe += "\\u003c";
        else
            safe += c;
    }
    return safe;
}

std::string textOf(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

paper::Viewer viewer() {
    const std::string text = platform::dataOf(kViewer);
    const std::size_t from = std::string_view("<!--").size(), to = text.find("-->\n");
    if (to == std::string::npos)
        throw base::InputError(
            "page: this Bandwright was built without what turns the ring in a client's page (./dev web makes "
            "it); \"bandwright card FILE -o CARD.html\" writes the same with a picture.");
    return {text.substr(from, to - from), text.substr(to + 4), {}, {}};
}

}  // namespace

void requireViewer() {
    static_cast<void>(viewer());
}

void writeClientPage(const PaperCall& call, const std::string& file, const std::string& materials,
                     const design::Design& made, const trade::Catalogue& catalogue,
                     const trade::Workshop& workshop) {
    RingOnPaper ring = readyForPaper(made, catalogue, workshop);
    // A screen shows no difference, and the page is half as large.
    constexpr float kGood = 90;
    ring.picture = {render::webpOf(render::render(pictureOnPaper(made, catalogue), kPictureOnPaper), kGood),
                    static_cast<double>(kPictureOnPaper.width) / kPictureOnPaper.height};
    paper::Viewer turned = viewer();
    turned.design = inPage(designTextIn(file));
    turned.mark = pageMark(turned.design);
    if (!materials.empty()) turned.materials = inPage(textOf(materials));
    const std::string date = call.date.empty() ? dayOfChange(file) : call.date;
    const PaperOrder order = orderOf(PaperKind::Card, call, workshop);
    platform::writeFileAtomically(call.out,
                                  paper::clientPage(jobOf(ring, date), priceOf(order, ring), turned));
}

void writeForm(const PaperCall& call, const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    const RingOnPaper noRing{{}, catalogue, workshop, {}, {}, {}};
    platform::writeFileAtomically(call.out,
                                  paper::pdf(documentOf(orderOf(PaperKind::Form, call, workshop), noRing)));
}

}  // namespace bandwright::app
