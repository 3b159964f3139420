#include "paper/client_papers.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <regex>

#include "design/design_file.hpp"
#include "paper/bench_sheet.hpp"
#include "paper/write.hpp"
#include "program.hpp"
#include "route/shown.hpp"

// The bench sheet and the client's papers of each sample, as poppler, qpdf and libxml2 read them.
namespace bandwright::paper {
namespace {

using app::Outcome;
using app::runProgram;
using app::ScratchFolder;
using app::writeFile;

constexpr const char* kWorkshop = BANDWRIGHT_MODELS "/my-workshop.json";

/// A ring of models/ with all that papers tell of it.
struct Told {
    design::Design design;
    trade::Workshop workshop = trade::readWorkshop(kWorkshop, trade::builtInCatalogue());
    trade::Catalogue catalogue = trade::withWorkshop(trade::builtInCatalogue(), workshop);
    check::Report report;
    route::Plan plan;

    explicit Told(const std::filesystem::path& file) : Told(design::readDesign(file)) {}
    explicit Told(design::Design ring) : design(std::move(ring)) {
        report = check::check(design, catalogue, {.remedies = false, .resizing = true});
        plan = route::plan(design, catalogue, workshop, report);
    }
    Job job() const { return {design, catalogue, workshop, report, plan, {}, "2026-11-27"}; }
};

/// Samples whose stones are no model files, which another room reads.
std::vector<std::filesystem::path> samples() {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(BANDWRIGHT_MODELS))
        if (entry.path().string().ends_with(".ring.json") && entry.path().stem() != "honeycomb.ring")
            files.push_back(entry.path());
    std::ranges::sort(files);
    return files;
}

/// The words in the order in which a reader meets them, with single spaces.
std::string wordsIn(const std::vector<Page>& pages, const std::string& title) {
    const ScratchFolder folder;
    const std::string file = folder / "a.pdf";
    writeFile(file, pdf({.title = title, .date = "2026-11-27", .pages = pages}));
    const Outcome checked = runProgram({"qpdf", "--check", file});
    EXPECT_EQ(checked.code, 0) << checked.out << checked.err;
    const Outcome text = runProgram({"pdftotext", "-raw", file, "-"});
    EXPECT_EQ(text.code, 0);
    return std::regex_replace(text.out, std::regex("\\s+"), " ");
}

std::string spaced(const std::string& text) {
    return std::regex_replace(text, std::regex("\\s+"), " ");
}

/// A paper that broke a table over pages repeats its head, so only the parts of a row are sought, in order.
TEST(BenchSheet, HasEachOperationAndReadingInTheOrderOfTheWork) {
    for (const std::filesystem::path& file : samples()) {
        SCOPED_TRACE(file.filename());
        const Told ring(file);
        for (const Size sheet : {kA4, kA5}) {
            const std::string words = wordsIn(benchSheet(ring.job(), sheet), ring.design.title);
            std::size_t at = 0;
            int number = 1;
            for (const route::StageWork& work : ring.plan.stages) {
                for (const route::Operation& operation : work.operations) {
                    const std::string name = std::to_string(number++) + " " + spaced(operation.name);
                    // Of a name that is broken over lines its first words do.
                    const std::size_t found = words.find(name.substr(0, 24), at);
                    ASSERT_NE(found, std::string::npos) << name;
                    at = found;
                    for (const route::Reading& reading : operation.readings)
                        EXPECT_NE(words.find(route::shown(reading).value, at), std::string::npos)
                            << reading.what;
                }
            }
            EXPECT_NE(words.find("Local codes"), std::string::npos);
        }
    }
}

TEST(BenchSheet, ShowsWhatWasReadInPlaceOfAStepThatIsDone) {
    design::Design design = design::readDesign(BANDWRIGHT_MODELS "/harbour.ring.json");
    design.measured = {
        {design::Stage::Bored, design::Measurable::Bore, 1, 19.16, "bore gauge", "2026-11-20"}};
    const Told ring(design);
    const std::string words = wordsIn(benchSheet(ring.job(), kA4), "Harbour");
    EXPECT_NE(words.find("Done. Read: Bore 19.16 mm, bore gauge, 2026-11-20."), std::string::npos);
    EXPECT_EQ(words.find("Bore to 19.1"), std::string::npos);
}

TEST(BenchSheet, ItsBriefFormHasEachOperationAndReadingOnTwoPages) {
    for (const char* name : {"harbour", "anvil-road"}) {
        const Told ring(std::filesystem::path(BANDWRIGHT_MODELS) / (std::string(name) + ".ring.json"));
        const std::vector<Page> pages = briefBenchSheet(ring.job(), kA4);
        EXPECT_LE(pages.size(), 2U) << name;
        const std::string words = wordsIn(pages, ring.design.title);
        for (const route::StageWork& work : ring.plan.stages) {
            for (const route::Operation& operation : work.operations) {
                for (const route::Reading& reading : operation.readings) {
                    const std::string value = route::shown(reading).value;
                    EXPECT_NE(words.find(value), std::string::npos) << name << ": " << value;
                }
                const std::string first = operation.name.substr(0, operation.name.find(' '));
                EXPECT_NE(words.find(first), std::string::npos) << name << ": " << operation.name;
            }
        }
        EXPECT_NE(words.find("licensed practice"), std::string::npos);
    }
}

TEST(ClientPapers, ACertificateTellsTheMassAsWeighedLast) {
    design::Design design = design::readDesign(BANDWRIGHT_MODELS "/harbour.ring.json");
    EXPECT_NE(wordsIn(certificate(Told(design).job(), kA4), "t").find("Weighed, g"), std::string::npos);
    const design::Stage first = design.route[1], last = design.route[design::kRouteLength - 1];
    design.measured = {{last, design::Measurable::Mass, 1, 4.81, "scales", "2026-11-26"},
                       {first, design::Measurable::Mass, 1, 9.5, "scales", "2026-11-20"}};
    const std::string words = wordsIn(certificate(Told(design).job(), kA4), "t");
    EXPECT_NE(words.find("Weighed: 4.81 g, scales, 2026-11-26."), std::string::npos) << words;
    EXPECT_EQ(words.find("9.5 g"), std::string::npos);
    EXPECT_EQ(words.find("Weighed, g"), std::string::npos);
}

TEST(ClientPapers, SayWhatConcernsTheWearerOnEachSample) {
    for (const std::filesystem::path& file : samples()) {
        SCOPED_TRACE(file.filename());
        const Told ring(file);
        const ClientWords told = clientWords(ring.job());
        const std::string words = wordsIn(clientCard(ring.job(), "400.00 EUR", kA4), ring.design.title);
        for (const auto& [label, text] : told.facts)
            EXPECT_NE(words.find(label + " " + text.substr(0, 20)), std::string::npos) << label;
        for (const auto* list : {&told.know, &told.care, &told.later, &told.emergency})
            for (const std::string& sentence : *list)
                EXPECT_NE(words.find(sentence), std::string::npos) << sentence;
        EXPECT_FALSE(told.emergency.empty() || told.care.empty() || told.later.empty());
        EXPECT_NE(words.find("400.00 EUR"), std::string::npos);
    }
}

/// In published cases hand ring cutters failed on titanium (Salibi and Morritt, EMJ 2015); gold is cut.
TEST(ClientPapers, TellHowItComesOffASwollenFinger) {
    const Told titanium(BANDWRIGHT_MODELS "/harbour.ring.json"), gold(BANDWRIGHT_MODELS "/lantern.ring.json");
    EXPECT_NE(clientWords(titanium.job()).emergency.at(1).find("bolt cutter"), std::string::npos);
    EXPECT_NE(clientWords(gold.job()).emergency.at(1).find("ring cutter"), std::string::npos);
    EXPECT_EQ(clientWords(gold.job()).emergency.at(1).find("bolt cutter"), std::string::npos);
}

/// The sums are added up here from the printed lines alone.
TEST(ClientPapers, APrintedQuoteAddsUp) {
    const Told ring(BANDWRIGHT_MODELS "/lantern.ring.json");
    const route::Quote quote = route::quote(ring.design, ring.catalogue, ring.workshop, ring.plan,
                                            route::dayOf("2026-11-27", "the test"));
    const std::string whole = wordsIn(quotePages(quote, {}, true, kA4), "Quote");
    const std::string words = whole.substr(whole.rfind(" Materials "));
    const auto printed = [&](const std::string& label) {
        std::smatch found;
        EXPECT_TRUE(std::regex_search(words, found, std::regex(label + "[^.]*? (\\d+)\\.(\\d\\d)"))) << label;
        return 100 * std::stol(found[1]) + std::stol(found[2]);
    };
    const long cost = printed(" Materials") + printed("Waste,") + printed(" Work");
    EXPECT_EQ(cost, printed(" Cost"));
    EXPECT_EQ(cost + printed("Margin,"), printed("Before tax"));
    EXPECT_EQ(printed("Before tax") + printed(" Tax,"), printed("Total, EUR"));
}

/// The page holds all it shows and asks nothing of the network; its markup is read by libxml2. RFC 4648 has
/// "foobar" as Zm9vYmFy and "foob" as Zm9vYg==.
TEST(ClientPage, IsOneFileThatFetchesNothing) {
    const Told ring(BANDWRIGHT_MODELS "/harbour.ring.json");
    design::Design design = ring.design;
    design.title = "A <b> & \"c\"";
    const Told odd(design);
    Job job = odd.job();
    for (const auto& [bytes, text] :
         {std::pair("foobar", "base64,Zm9vYmFy\""), std::pair("foob", "base64,Zm9vYg==\"")}) {
        job.picture.png = bytes;
        EXPECT_NE(clientPage(job, "").find(text), std::string::npos);
    }
    const std::string page = clientPage(job, "12.00 EUR");
    EXPECT_EQ(page.find("http:"), std::string::npos);
    EXPECT_EQ(page.find("https:"), std::string::npos);
    EXPECT_EQ(page.find("<script"), std::string::npos);
    EXPECT_NE(page.find("A &lt;b&gt; &amp; &quot;c&quot;"), std::string::npos);
    const ScratchFolder folder;
    writeFile(folder / "a.html", page);
    // libxml2 does not know the elements of HTML 5.
    const Outcome read = runProgram({"xmllint", "--html", "--noout", folder / "a.html"});
    EXPECT_EQ(
        std::regex_replace(read.err, std::regex("[^\\n]*Tag (main|section) invalid[\\s\\S]*?\\^\\n"), ""),
        "");
}

TEST(ClientPage, LetsNoScriptRunButThoseThatTurnTheRing) {
    const Told ring(BANDWRIGHT_MODELS "/harbour.ring.json");
    Job job = ring.job();
    job.picture.png = "RIFF";
    const std::string page =
        clientPage(job, "", {"'sha256-ABC='", "<script>turn()</script>\n", "{\"title\": \"A\"}", "12ab"});
    EXPECT_NE(page.find("script-src 'sha256-ABC=' 'wasm-unsafe-eval'\""), std::string::npos);
    EXPECT_NE(page.find("<script type=\"application/json\" id=\"design\" data-mark=\"12ab\">"
                        "{\"title\": \"A\"}</script>\n<script>turn()</script>"),
              std::string::npos);
    EXPECT_NE(page.find("src=\"data:image/webp;base64,UklGRg==\""), std::string::npos);
    EXPECT_EQ(page.find("id=\"materials\""), std::string::npos);
}

TEST(ConsultationForm, FitsOneSheet) {
    const trade::Workshop workshop = trade::readWorkshop(kWorkshop, trade::builtInCatalogue());
    for (const Size sheet : {kA4, kLetter})
        EXPECT_EQ(consultationForm(workshop, "", sheet).size(), 1U);
}

}  // namespace
}  // namespace bandwright::paper
