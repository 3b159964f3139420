#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <random>
#include <regex>
#include <sstream>

#include "base/input_error.hpp"
#include "measure_page.hpp"
#include "paper/flow.hpp"
#include "paper/write.hpp"
#include "program.hpp"

// Files of pages as other programs read them: qpdf, poppler, libxml2 and librsvg.
namespace bandwright::paper {
namespace {

using app::Outcome;
using app::readFile;
using app::runProgram;
using app::ScratchFolder;
using app::writeFile;

const std::string kDesign = std::string("{\"title\": \"Ø \\u2713\"}\n\r\n\0\xff", 27);

/// Every kind of content, and a square of 20 mm at 60, 80 mm of the second page.
Document everything() {
    Table table{{{"Step", 1}, {"What to do", 4}, {"mm", 1, Align::Right}}, {}};
    for (int i = 1; i <= 40; ++i)
        table.rows.push_back({{std::to_string(i)}, {"Turn the outside to size", true}, {"17.30"}});
    Document document{.title = "Harbour – Ø 4.50 <&>",
                      .date = "2026-11-26",
                      .author = "The Workshop",
                      .pages = flow({Heading{"Harbour", 0}, Paragraph{"First words, office and fjord."},
                                     Heading{"The steps"}, table, Heading{"Detail", 2}, Tick{"Wear a mask"}},
                                    {})};
    Page page{kA5, {}};
    page.elements.push_back({.role = Role::Figure,
                             .marks = {Stroke{rectangle({{60, 80}, {20, 20}}), 0.25}},
                             .alternative = "A square of 20 mm"});
    page.elements.push_back(
        {.role = Role::Paragraph, .marks = {Text{"Last words", {60, 120}, {.weight = Weight::Bold}}}});
    document.pages.push_back(page);
    document.design = Attachment{"harbour.ring.json", "The design", kDesign};
    return document;
}

/// The file written to a folder.
struct Written {
    ScratchFolder folder;
    std::string path;

    Written(const std::string& name, const std::string& bytes) : path(folder / name) {
        writeFile(path, bytes);
    }
};

std::string outputOf(const std::vector<std::string>& command) {
    const Outcome outcome = runProgram(command);
    EXPECT_EQ(outcome.code, 0) << command.front() << ": " << outcome.err;
    return outcome.out;
}

TEST(Pdf, QpdfFindsNothingWrong) {
    const Written file("a.pdf", pdf(everything()));
    const Outcome checked = runProgram({"qpdf", "--check", file.path});
    EXPECT_EQ(checked.code, 0) << checked.out << checked.err;
    EXPECT_NE(checked.out.find("No syntax or stream encoding errors found"), std::string::npos);
    EXPECT_EQ(checked.err, "");
}

TEST(Pdf, EmbedsEachFontWithItsUnicodeMap) {
    const Written file("a.pdf", pdf(everything()));
    std::istringstream lines(outputOf({"pdffonts", file.path}));
    std::string line;
    std::getline(lines, line);
    std::getline(lines, line);
    int fonts = 0;
    for (; std::getline(lines, line); ++fonts) {
        EXPECT_NE(line.find("Inter"), std::string::npos) << line;
        EXPECT_TRUE(std::regex_search(line, std::regex(" yes +yes +yes "))) << line;
    }
    EXPECT_EQ(fonts, 3);
}

TEST(Pdf, WordsAreReadInTheOrderOfTheElements) {
    const Written file("a.pdf", pdf(everything()));
    const std::string text = outputOf({"pdftotext", file.path, "-"});
    std::size_t at = 0;
    for (const std::string words :
         {"Harbour", "First words, office and fjord.", "The steps", "What to do", "Turn the outside to size",
          "17.30", "Detail", "Wear a mask", "Last words"}) {
        const std::size_t found = text.find(words, at);
        EXPECT_NE(found, std::string::npos) << words << " in " << text;
        at = std::min(found, text.size());
    }
}

TEST(Pdf, IsTaggedAndNamesItsTitleDateAndLanguage) {
    const Written file("a.pdf", pdf(everything()));
    const std::string about = outputOf({"pdfinfo", file.path});
    for (const std::string line : {"Title: +Harbour – Ø 4.50 <&>", "Author: +The Workshop", "Tagged: +yes",
                                   "CreationDate: +Thu Nov 26 00:00:00 2026 UTC", "Pages: +3"})
        EXPECT_TRUE(std::regex_search(about, std::regex(line))) << line << " in " << about;
    const std::string raw = outputOf({"qpdf", "--qdf", "--object-streams=disable", file.path, "-"});
    EXPECT_NE(raw.find("/Lang (en)"), std::string::npos);
    EXPECT_NE(raw.find("/Alt (A square of 20 mm)"), std::string::npos);
    const std::string tree = outputOf({"pdfinfo", "-struct-text", file.path});
    for (const std::string type :
         {"H1 \\(block\\)\n +\"Harbour\"", "\nH2 ", "\nTable ", "  TR\n", "    TH\n", "    TD\n", "\nFigure"})
        EXPECT_TRUE(std::regex_search(tree, std::regex(type))) << type << " in " << tree;
}

TEST(Pdf, HeadingsAreItsBookmarks) {
    const Written file("a.pdf", pdf(everything()));
    const auto outlines =
        nlohmann::json::parse(outputOf({"qpdf", "--json=2", "--json-key=outlines", file.path}))
            .at("outlines");
    ASSERT_EQ(outlines.size(), 2U);
    EXPECT_EQ(outlines[0].at("title"), "Harbour");
    EXPECT_EQ(outlines[1].at("title"), "The steps");
    EXPECT_EQ(outlines[1].at("kids").at(0).at("title"), "Detail");
    EXPECT_EQ(outlines[1].at("kids").at(0).at("destpageposfrom1"), 2);
}

TEST(Pdf, CarriesTheDesignUnchanged) {
    const std::string bytes = pdf(everything());
    const Written file("a.pdf", bytes);
    EXPECT_EQ(outputOf({"qpdf", "--show-attachment=harbour.ring.json", file.path}), kDesign);
    outputOf({"pdfdetach", "-saveall", "-o", file.folder.path(), file.path});
    EXPECT_EQ(readFile(file.folder / "harbour.ring.json"), kDesign);
    EXPECT_EQ(attachedDesign(bytes), kDesign);
    const std::string raw = outputOf({"qpdf", "--qdf", "--object-streams=disable", file.path, "-"});
    EXPECT_NE(raw.find("/AFRelationship /Source"), std::string::npos);
}

TEST(Pdf, AnotherProgramMayRewriteItAndTheDesignIsStillFound) {
    const Written file("a.pdf", pdf(everything()));
    const std::string other = file.folder / "b.pdf";
    outputOf({"qpdf", "--linearize", "--stream-data=uncompress", file.path, other});
    EXPECT_EQ(attachedDesign(readFile(other)), kDesign);
}

TEST(Pdf, TellsAPdfWithoutADesignFromWhatIsNone) {
    Document document = everything();
    document.design->name = "notes.txt";
    EXPECT_EQ(attachedDesign(pdf(document)), std::nullopt);
    document.design.reset();
    const std::string bytes = pdf(document);
    EXPECT_EQ(attachedDesign(bytes), std::nullopt);
    EXPECT_TRUE(isPdf(bytes));
    EXPECT_FALSE(isPdf("{}"));
    EXPECT_THROW(attachedDesign("%PDF-1.5 nothing else"), base::InputError);
}

/// qpdf mends what it can of a damaged file; whatever it makes of it, it must not end the program, nor write
/// to the terminal.
TEST(Pdf, ADamagedFileIsRefusedOrReadInSilence) {
    const std::string bytes = pdf(everything());
    testing::internal::CaptureStderr();
    int refused = 0;
    for (std::size_t size = 0; size < bytes.size(); size += 397) {
        try {
            const std::optional<std::string> found = attachedDesign(bytes.substr(0, size));
            EXPECT_EQ(found.value_or(kDesign), kDesign) << size;
        } catch (const base::InputError&) {
            ++refused;
        }
    }
    EXPECT_GT(refused, 0);
    std::mt19937 lot(1);
    for (int i = 0; i < 200; ++i) {
        std::string damaged = bytes;
        for (int k = 0; k < 20; ++k)
            damaged[lot() % damaged.size()] = static_cast<char>(lot() % 256);
        try {
            attachedDesign(damaged);
        } catch (const base::InputError&) {
            ++refused;
        }
    }
    EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

TEST(Files, TheSamePagesGiveTheSameBytes) {
    const Document document = everything();
    EXPECT_EQ(pdf(document), pdf(document));
    EXPECT_EQ(svg(document.pages[0], "a"), svg(document.pages[0], "a"));
    EXPECT_EQ(png(document.pages[0], 100), png(document.pages[0], 100));
}

TEST(Files, ASecondPictureIsNamedAsTheFirst) {
    Page page{kA5, {}};
    const std::string picture = png({{10, 10}, {}}, 50);
    page.elements.push_back(
        {.marks = {Image{{{0, 0}, {10, 10}}, picture}, Image{{{20, 0}, {10, 10}}, picture}}});
    const std::string first = svg(page, "a");
    EXPECT_EQ(first, svg(page, "a"));
    const Written file("a.svg", first);
    outputOf({"xmllint", "--noout", file.path});
    outputOf({"rsvg-convert", "-o", file.folder / "a.png", file.path});
}

TEST(Files, APictureThatIsNoPngIsRefused) {
    Document document = everything();
    document.pages[0].elements.push_back({.marks = {Image{{{0, 0}, {10, 10}}, "no picture"}}});
    EXPECT_THROW(pdf(document), base::InputError);
    EXPECT_THROW(svg(document.pages[0], ""), base::InputError);
}

/// At 254 dots to the inch a dot is a tenth of a mm. A line of 0.25 mm is painted on 2 to 4 dots, its middle
/// on the edge of the square.
void expectSquare(const Grey& grey) {
    const Extent square = extentOfInk(grey, {550, 750, 850, 1050});
    EXPECT_NEAR(square.left, 600, 2);
    EXPECT_NEAR(square.right, 800, 2);
    EXPECT_NEAR(square.top, 800, 2);
    EXPECT_NEAR(square.bottom, 1000, 2);
    EXPECT_NEAR(square.right - square.left, 202.5, 1.5);
}

TEST(Pdf, TwentyMillimetresArePrintedTwentyMillimetresLong) {
    const Written file("a.pdf", pdf(everything()));
    const Grey grey = rasterised(file.path, 3, 254);
    // poppler rounds up.
    EXPECT_NEAR(grey.width, 1480, 1);
    EXPECT_NEAR(grey.height, 2100, 1);
    expectSquare(grey);
}

TEST(Svg, IsWellFormedAndTrueToScale) {
    const Written file("a.svg", svg(everything().pages[2], "A & B <C>"));
    outputOf({"xmllint", "--noout", file.path});
    EXPECT_NE(readFile(file.path).find("<title>A &amp; B &lt;C&gt;</title>"), std::string::npos);
    EXPECT_NE(readFile(file.path).find("width=\"148mm\" height=\"210mm\" viewBox=\"0 0 14800 21000\""),
              std::string::npos);
    const std::string printed = file.folder / "b.pdf";
    outputOf({"rsvg-convert", "-f", "pdf", "-o", printed, file.path});
    expectSquare(rasterised(printed, 1, 254));
}

TEST(Png, IsTrueToScaleAndTellsItsDensity) {
    const Document document = everything();
    const std::string bytes = png(document.pages[2], 254);
    // A viewer shows it in its size: 10,000 dots to the metre.
    EXPECT_NE(bytes.find(std::string("pHYs\0\0\x27\x10\0\0\x27\x10\x01", 13)), std::string::npos);
    // Placed on a page of the same size it is that page again.
    Document pictured{.title = "a", .date = "2026-11-26"};
    pictured.pages.push_back({kA5, {{.role = Role::Figure, .marks = {Image{{{0, 0}, kA5}, bytes}}}}});
    const Written file("a.pdf", pdf(pictured));
    expectSquare(rasterised(file.path, 1, 254));
}

TEST(Pages, ADrawingIsCutOffAtItsFrame) {
    Document document{.title = "a", .date = "2026-11-26"};
    Element figure{.role = Role::Figure, .marks = {Fill{rectangle({{0, 0}, {100, 100}})}}};
    figure.clip = Box{{20, 30}, {40, 50}};
    document.pages.push_back({kA5, {figure}});
    const Written file("a.pdf", pdf(document));
    const Extent ink = extentOfInk(rasterised(file.path, 1, 254), {0, 0, 1480, 2100});
    EXPECT_NEAR(ink.left, 200, 1);
    EXPECT_NEAR(ink.right, 600, 1);
    EXPECT_NEAR(ink.top, 300, 1);
    EXPECT_NEAR(ink.bottom, 800, 1);
}

TEST(Pages, ArcsRunTheWayTheyAreSaidTo) {
    Document document{.title = "a", .date = "2026-11-26"};
    // From the right end over the top to the left end.
    const Path over{{Step::Kind::Begin, {70, 50}}, {Step::Kind::Arc, {50, 50}, {60, 50}, false}};
    document.pages.push_back({kA5, {{.marks = {Stroke{over, 0.2}}}}});
    const Written file("a.pdf", pdf(document));
    const Extent ink = extentOfInk(rasterised(file.path, 1, 254), {0, 0, 1480, 2100});
    EXPECT_NEAR(ink.top, 400, 2);
    EXPECT_NEAR(ink.bottom, 500, 2);
    EXPECT_NEAR(ink.left, 500, 2);
    EXPECT_NEAR(ink.right, 700, 2);
}

TEST(Sheets, AreNamedAndHaveTheirSizes) {
    // ISO 216: A0 is a square metre, its sides in the ratio of the square root of two; each next is half of
    // it.
    EXPECT_EQ(sheetNamed("a4", "--paper"), kA4);
    EXPECT_NEAR(kA4.width * kA4.height, 1e6 / 16, 150);
    EXPECT_NEAR(kA5.width * kA5.height, 1e6 / 32, 170);
    EXPECT_NEAR(kA4.height / kA4.width, std::sqrt(2), 1e-3);
    EXPECT_NEAR(kLetter.width, 8.5 * 25.4, 1e-9);
    EXPECT_NEAR(kLetter.height, 11 * 25.4, 1e-9);
    EXPECT_THROW(sheetNamed("a3", "--paper"), base::InputError);
}

}  // namespace
}  // namespace bandwright::paper
