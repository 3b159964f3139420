#include "papers.hpp"

#include <utility>
#include <vector>

#include "command_parts.hpp"
#include "design_source.hpp"
#include "issue.hpp"
#include "paper/bench_sheet.hpp"
#include "paper/client_papers.hpp"
#include "paper/write.hpp"
#include "picture.hpp"
#include "platform/atomic_file.hpp"
#include "route/plan.hpp"
#include "route/quote.hpp"

namespace bandwright::app {

namespace {

/// Pixels of the picture on a paper: some 300 dots an inch at the size it is printed.
constexpr scene::Size kPicture{1000, 640};

paper::Size sheetOf(const PaperCall& call, const trade::Workshop& workshop) {
    if (!call.paper.empty()) return paper::sheetNamed(call.paper, "--paper");
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

std::string dateOf(const PaperCall& call, const std::string& file) {
    return call.date.empty() ? dayOfChange(file) : call.date;
}

paper::Picture pictureOf(const design::Design& design, const trade::Catalogue& catalogue) {
    return {paperPicture(design, catalogue, kPicture), static_cast<double>(kPicture.width) / kPicture.height};
}

/// Calls write(job) with all that papers tell of a ring.
template <class Write>
void withJob(const PaperCall& call, const std::string& file, const design::Design& design,
             const trade::Catalogue& catalogue, const trade::Workshop& workshop, Write write) {
    const check::Report report = check::check(design, catalogue, {.remedies = false, .resizing = true});
    const route::Plan plan = route::plan(design, catalogue, workshop, report);
    write(paper::Job{design, catalogue, workshop, report, plan, pictureOf(design, catalogue),
                     dateOf(call, file)});
}

void writePdf(const PaperCall& call, const std::string& file, const std::string& title,
              const std::string& author, const std::string& date, std::vector<paper::Page> pages) {
    paper::Document document{.title = title, .date = date, .author = author, .pages = std::move(pages)};
    if (!file.empty())
        document.design = {designName(file), "The design this paper was made from", designTextIn(file)};
    platform::writeFileAtomically(call.out, paper::pdf(document));
}

std::string priceOf(const paper::Job& job, const PaperCall& call, const std::string& file) {
    if (!call.price) return {};
    const std::string date = dateOf(call, file);
    const route::Quote quote = route::quote(job.design, job.catalogue, job.workshop, job.plan,
                                            date.empty() ? today() : route::dayOf(date, "--date"));
    return route::money(quote.total) + (quote.currency.empty() ? "" : " " + quote.currency);
}

}  // namespace

void requirePaper(const PaperCall& call) {
    if (!call.paper.empty()) static_cast<void>(paper::sheetNamed(call.paper, "--paper"));
    if (!call.date.empty()) static_cast<void>(route::dayOf(call.date, "--date"));
}

void writeBenchSheet(const PaperCall& call, const std::string& file, const design::Design& design,
                     const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    withJob(call, file, design, catalogue, workshop, [&](const paper::Job& job) {
        writePdf(call, file, design.title + ", bench sheet", workshop.name, job.date,
                 paper::benchSheet(job, sheetOf(call, workshop)));
    });
}

void writeCard(const PaperCall& call, const std::string& file, const design::Design& design,
               const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    withJob(call, file, design, catalogue, workshop, [&](const paper::Job& job) {
        const std::string price = priceOf(job, call, file);
        if (formatEnding(call.out) == ".html")
            return platform::writeFileAtomically(call.out, paper::clientPage(job, price));
        writePdf(call, file, design.title, workshop.name, job.date,
                 paper::clientCard(job, price, sheetOf(call, workshop)));
    });
}

void writeQuote(const PaperCall& call, const std::string& file, const design::Design& design,
                const trade::Catalogue& catalogue, const trade::Workshop& workshop, const route::Quote& quote,
                bool isInternal) {
    writePdf(call, file, design.title + (isInternal ? ", internal sheet" : ", quote"), workshop.name,
             route::inWords(quote.date),
             paper::quotePages(quote, pictureOf(design, catalogue), isInternal, sheetOf(call, workshop)));
}

void writeCertificate(const PaperCall& call, const std::string& file, const design::Design& design,
                      const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    withJob(call, file, design, catalogue, workshop, [&](const paper::Job& job) {
        writePdf(call, file, design.title + ", certificate", workshop.name, job.date,
                 paper::certificate(job, sheetOf(call, workshop)));
    });
}

void writeForm(const PaperCall& call, const trade::Workshop& workshop) {
    writePdf(call, {}, "A ring to order", workshop.name, call.date,
             paper::consultationForm(workshop, call.date, sheetOf(call, workshop)));
}

}  // namespace bandwright::app
