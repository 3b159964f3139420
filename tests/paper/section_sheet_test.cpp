#include "paper/section_sheet.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <set>
#include <sstream>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "design/design_file.hpp"
#include "drawing/section_drawing.hpp"
#include "geometry/ring.hpp"
#include "is_buildable.hpp"
#include "measure_page.hpp"
#include "paper/place_drawing.hpp"
#include "paper/sheet_frame.hpp"
#include "paper/typeset.hpp"
#include "paper/write.hpp"
#include "program.hpp"
#include "random_design.hpp"

namespace bandwright::paper {
namespace {

using app::readFile;
using app::run;
using app::runProgram;
using app::sample;
using app::ScratchFolder;

design::Design sampleDesign(const std::string& name) {
    return design::readDesign(sample(name));
}

std::vector<Page> sheetsOf(const design::Design& design, SectionSheetOptions options = {}) {
    return sectionSheets(design, design::Stage::Finished, trade::builtInCatalogue(), options);
}

/// All marks of a page, with the clip box of their element.
void gather(const Element& element, std::vector<Mark>& marks) {
    marks.insert(marks.end(), element.marks.begin(), element.marks.end());
    for (const Element& part : element.parts)
        gather(part, marks);
}

std::vector<Mark> marksOn(const Page& page) {
    std::vector<Mark> marks;
    for (const Element& element : page.elements)
        gather(element, marks);
    return marks;
}

Box boxOf(const Text& text) {
    const double width = textWidth(text.words, text.style), height = capitalHeight() * text.style.size;
    const double share = text.style.align == Align::Left ? 0 : text.style.align == Align::Middle ? 0.5 : 1;
    return {{text.at.x - share * width, text.at.y - height}, {width, height}};
}

bool overlap(const Box& a, const Box& b) {
    constexpr double kTouch = 0.01;
    return a.at.x + kTouch < b.right() && b.at.x + kTouch < a.right() && a.at.y + kTouch < b.bottom() &&
           b.at.y + kTouch < a.bottom();
}

std::vector<Text> textsOn(const Page& page) {
    std::vector<Text> texts;
    for (const Mark& mark : marksOn(page)) {
        if (const Text* text = std::get_if<Text>(&mark)) texts.push_back(*text);
    }
    return texts;
}

const std::vector<Size>& sheets() {
    static const std::vector<Size> all{kA4, kA5, kLetter};
    return all;
}

/// Nothing that is read stands outside the frame, and no text lies on another.
void expectReadable(const std::vector<Page>& pages, const std::string& name) {
    for (const Page& page : pages) {
        const std::vector<Text> texts = textsOn(page);
        for (std::size_t i = 0; i < texts.size(); ++i) {
            const Box box = boxOf(texts[i]);
            EXPECT_GE(box.at.x, 20) << name << ": " << texts[i].words;
            EXPECT_GE(box.at.y, 10) << name << ": " << texts[i].words;
            EXPECT_LE(box.right(), page.size.width - 10) << name << ": " << texts[i].words;
            EXPECT_LE(box.bottom(), page.size.height - 10) << name << ": " << texts[i].words;
            // ISO 3098 has no lettering under 1.8 mm.
            EXPECT_GE(box.size.height, 1.79) << name;
            for (std::size_t k = 0; k < i; ++k)
                EXPECT_FALSE(overlap(box, boxOf(texts[k])))
                    << name << ": " << texts[i].words << " on " << texts[k].words;
        }
    }
}

TEST(SectionSheet, SamplesAreReadableOnEverySheet) {
    for (const std::string name : {"anvil-road", "first-frost", "harbour", "lantern", "night-ferry",
                                   "orchard-gate", "seven-lamps", "shallows", "tide-mill"}) {
        for (const Size sheet : sheets())
            expectReadable(sheetsOf(sampleDesign(name), {.sheet = sheet}), name);
    }
}

/// The scale is one of ISO 5455, and the next larger one has no room.
/// ISO 129-1: equal limits stand once behind the number, with both signs.
TEST(SectionSheet, TheMakersOwnTolerancesStandBesideTheirDimensions) {
    trade::Catalogue catalogue = trade::builtInCatalogue();
    const design::Design design = design::readDesign(BANDWRIGHT_MODELS "/harbour.ring.json");
    const auto hasText = [&](const std::string& words) {
        const std::vector<Page> pages = sectionSheets(design, design::Stage::Finished, catalogue, {});
        expectReadable(pages, words);
        return std::ranges::any_of(pages, [&](const Page& page) {
            return std::ranges::any_of(textsOn(page), [&](const Text& text) { return text.words == words; });
        });
    };
    EXPECT_TRUE(hasText("8.00"));
    catalogue.tolerances = {{"band.width", 0.03, "", ""}, {"channels[#].depth", 0.02, "", ""}};
    EXPECT_TRUE(hasText("8.00 \u00B10.03"));
    EXPECT_TRUE(hasText("1.00 \u00B10.02"));
}

TEST(SectionSheet, TheScaleIsTheLargestThatFits) {
    for (const std::string name : {"harbour", "lantern", "night-ferry"}) {
        const std::vector<Page> pages = sheetsOf(sampleDesign(name));
        double scale = 0;
        for (const Text& text : textsOn(pages.front())) {
            std::smatch found;
            if (std::regex_match(text.words, found, std::regex("([0-9]+):1"))) scale = std::stod(found[1]);
        }
        const auto at = std::ranges::find(sheetScales(), scale);
        ASSERT_NE(at, sheetScales().end()) << name;
        ASSERT_NE(at, sheetScales().begin()) << name;
        EXPECT_THROW(sheetsOf(sampleDesign(name), {.scale = *(at - 1)}), base::InputError) << name;
        EXPECT_NO_THROW(sheetsOf(sampleDesign(name), {.scale = *(at + 1)})) << name;
    }
}

/// The numbers of all dimensions of all views are on the paper; those of views are the section's own.
TEST(SectionSheet, EveryDimensionIsOnPaperWhateverTheScale) {
    for (const std::string name : {"harbour", "lantern", "night-ferry", "tide-mill"}) {
        const design::Design design = sampleDesign(name);
        for (const double scale : {1.0, 2.0, 5.0}) {
            std::multiset<std::string> words;
            for (const Page& page : sheetsOf(design, {.scale = scale})) {
                for (const Text& text : textsOn(page))
                    words.insert(text.words);
            }
            for (const NamedDrawing& named :
                 sectionDrawings(design, design::Stage::Finished, layoutOnPaper(scale, 2.5))) {
                for (const drawing::Dimension& dimension : named.drawing.dimensions)
                    EXPECT_TRUE(words.contains(dimension.text.words))
                        << name << " " << scale << ": " << dimension.field;
            }
        }
    }
}

TEST(SectionSheet, DesignsByLotAreReadable) {
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(40); ++seed) {
        const design::Design design = geometry::randomDesign(seed);
        if (!geometry::isBuildable(design)) continue;
        const std::vector<Page> pages = sheetsOf(design, {.sheet = seed % 2 == 0 ? kA4 : kA5});
        ASSERT_FALSE(pages.empty());
        expectReadable(pages, "seed " + std::to_string(seed));
    }
}

TEST(SectionSheet, OneSettingDrawnTwiceIsOneView) {
    design::Design design = sampleDesign("harbour");
    design.settings.push_back(design.settings.front());
    design.settings.back().placement.start += 90;
    const auto names = [&] {
        std::vector<std::string> all;
        for (const NamedDrawing& named : sectionDrawings(design, design::Stage::Finished, {}))
            all.push_back(named.name);
        return all;
    };
    EXPECT_EQ(names(), (std::vector<std::string>{"Section", "Section through settings 1 and 2"}));
    design.settings.back().hole.pilotDiameter += 0.1;
    EXPECT_EQ(names(), (std::vector<std::string>{"Section", "Section through setting 1",
                                                 "Section through setting 2"}));
}

TEST(SectionSheet, ItsNumberIsTheDesigns) {
    const design::Design design = sampleDesign("harbour");
    design::Design other = design;
    other.band.width += 0.01;
    EXPECT_EQ(identification(design), identification(sampleDesign("harbour")));
    EXPECT_NE(identification(design), identification(other));
    EXPECT_TRUE(std::regex_match(identification(design), std::regex("[0-9A-F]{8}")));
}

/// ISO 5457 (20 mm at the left, 10 mm elsewhere) and ISO 7200 (180 mm wide), measured on the printed page.
TEST(SectionSheet, TheFrameHasItsMarginsAndTheTestSquareItsSides) {
    Document document{.title = "a", .date = "2026-11-26"};
    document.pages = sheetsOf(sampleDesign("harbour"));
    const ScratchFolder folder;
    const std::string file = folder / "a.pdf";
    app::writeFile(file, pdf(document));
    const Grey grey = rasterised(file, 1, 254);
    // Along a row and a column away from the centring marks; the frame is 7 dots wide, its middle on the
    // margin.
    const auto firstInk = [&](int from, int step, bool along, int level) {
        int at = from;
        while ((along ? grey.at(at, level) : grey.at(level, at)) > 128)
            at += step;
        return at;
    };
    EXPECT_NEAR(firstInk(0, 1, true, 300), 200 - 4, 1.5);
    EXPECT_NEAR(firstInk(grey.width - 2, -1, true, 300), 2000 + 3, 1.5);
    EXPECT_NEAR(firstInk(0, 1, false, 600), 100 - 4, 1.5);
    EXPECT_NEAR(firstInk(grey.height - 3, -1, false, 600), 2870 + 3, 1.5);

    // The square stands at the right, above the title block of three rows of 9 mm.
    const int right = 2000 - 30;
    const auto found = [&] {
        for (const Mark& mark : marksOn(document.pages[0])) {
            const Stroke* stroke = std::get_if<Stroke>(&mark);
            if (stroke == nullptr || stroke->path.size() != 5) continue;
            const Point a = stroke->path[0].to, c = stroke->path[2].to;
            if (std::abs(c.x - a.x - 20) < 1e-9 && std::abs(c.y - a.y - 20) < 1e-9) return a;
        }
        return Point{};
    }();
    const int left = static_cast<int>(std::lround(found.x * 10)),
              top = static_cast<int>(std::lround(found.y * 10));
    EXPECT_NEAR(left, right - 200, 1);
    const Extent square = extentOfInk(grey, {left - 8, top - 8, left + 208, top + 208});
    EXPECT_NEAR(square.right - square.left, 200 + 2.5, 1.5);
    EXPECT_NEAR(square.bottom - square.top, 200 + 2.5, 1.5);
}

/// Drawn 1:1 the outline of the band on paper is as wide as the design says; 10:1 ten times that.
TEST(SectionSheet, LengthsOnPaperAreTheDesignsTimesTheScale) {
    const design::Design design = sampleDesign("first-frost");
    for (const double scale : {1.0, 10.0}) {
        const drawing::Drawing drawing = drawing::sectionDrawing(
            design, design::Stage::Finished, geometry::sections(design), layoutOnPaper(scale, 2.5));
        Page page{{60, 60}, {}};
        Element element{.role = Role::Figure};
        for (const drawing::CutBody& body : drawing.bodies)
            element.marks.push_back(Stroke{pathOf(body.outline, {30, 30 + scale * 9.5}), 0.02});
        page.elements.push_back(element);
        // Coordinates of the one path of the SVG, which are scaled to hundredths of a mm.
        const std::string text = svg(page, "a");
        std::smatch path;
        ASSERT_TRUE(std::regex_search(
            text, path,
            std::regex(
                "<path style=\"fill:none[^>]* d=\"([^\"]*)\" transform=\"matrix\\(100,0,0,100,0,0\\)\"")));
        const std::string all = path[1];
        double least = 1e9, most = -1e9;
        const std::regex pair("(-?[0-9.]+) (-?[0-9.]+)");
        for (std::sregex_iterator it(all.begin(), all.end(), pair), end; it != end; ++it) {
            least = std::min(least, std::stod((*it)[1]));
            most = std::max(most, std::stod((*it)[1]));
        }
        EXPECT_NEAR(most - least, design.band.width * scale, 1e-4) << scale;

        Document document{.title = "a", .date = "2026-11-26", .pages = {page}};
        const ScratchFolder folder;
        const std::string file = folder / "a.pdf";
        app::writeFile(file, pdf(document));
        const Extent ink = extentOfInk(rasterised(file, 1, 1270), {10, 10, 2990, 2990});
        EXPECT_NEAR((ink.right - ink.left) / 50.0, design.band.width * scale, 0.06) << scale;
    }
}

TEST(SectionCommand, WritesADrawingThatCarriesItsDesign) {
    const ScratchFolder folder;
    const std::string out = folder / "drawing.pdf", again = folder / "again.pdf";
    const auto made =
        run({"section", sample("harbour"), "-o", out, "--date", "2026-11-27", "--owner", "Quay Rings"});
    EXPECT_EQ(made.code, 0) << made.err;
    EXPECT_EQ(made.out + made.err, "");
    run({"section", sample("harbour"), "-o", again, "--date", "2026-11-27", "--owner", "Quay Rings"});
    EXPECT_EQ(readFile(out), readFile(again));
    EXPECT_EQ(runProgram({"qpdf", "--check", out}).code, 0);
    EXPECT_EQ(runProgram({"qpdf", "--show-attachment=harbour.ring.json", out}).out,
              readFile(sample("harbour")));

    const std::string text = runProgram({"pdftotext", out, "-"}).out;
    std::size_t at = 0;
    for (const std::string words :
         {"Quay Rings", "Harbour", "Section drawing", "10:1", "2026-11-27", "1 of 1", "8.00", "4.00", "2.40",
          "bore Ø 19.55", "Ø 4.55", "90°", "Titanium grade 5"}) {
        const std::size_t found = text.find(words, words == "Quay Rings" ? 0 : at);
        EXPECT_NE(text.find(words), std::string::npos) << words;
        at = std::min(found, text.size());
    }
}

TEST(SectionCommand, ADrawingIsOpenedAsItsDesign) {
    const ScratchFolder folder;
    const std::string out = folder / "drawing.pdf";
    ASSERT_EQ(run({"section", sample("shallows"), "-o", out}).code, 0);
    const auto fromFile = run({"check", sample("shallows")}), fromPdf = run({"check", out});
    EXPECT_EQ(fromPdf.code, fromFile.code);
    EXPECT_EQ(fromPdf.out, fromFile.out);
    // Drawn again from the drawing it is the same file.
    const std::string second = folder / "second.pdf";
    const std::string first = folder / "first.pdf";
    run({"section", sample("shallows"), "-o", first, "--date", "2026-11-27"});
    app::writeFile(folder / "shallows.pdf", readFile(first));
    run({"section", folder / "shallows.pdf", "-o", second, "--date", "2026-11-27"});
    EXPECT_EQ(readFile(first), readFile(second));
}

TEST(SectionCommand, SaysInASentenceWhatIsWrong) {
    const ScratchFolder folder;
    const std::string out = folder / "drawing.pdf", plain = folder / "plain.pdf";
    app::writeFile(plain, pdf({.title = "a", .date = "2026-11-26", .pages = {Page{}}}));
    app::writeFile(folder / "cut.pdf", "%PDF-1.5 and no more");
    const auto expectSentence = [&](std::vector<std::string> words, const std::string& mentions) {
        const auto outcome = run(std::move(words));
        EXPECT_EQ(outcome.code, 2) << mentions;
        EXPECT_EQ(outcome.out, "");
        EXPECT_EQ(std::ranges::count(outcome.err, '\n'), 1) << outcome.err;
        EXPECT_NE(outcome.err.find(mentions), std::string::npos) << outcome.err;
        EXPECT_FALSE(std::filesystem::exists(out)) << mentions;
    };
    expectSentence({"check", plain}, "carries no design");
    expectSentence({"check", folder / "cut.pdf"}, "cannot be read");
    expectSentence({"section", sample("harbour"), "-o", folder / "a.txt"}, "the ending says the format");
    expectSentence({"section", sample("harbour"), "-o", out, "--paper", "a3"}, "'a4', 'a5' or 'letter'");
    expectSentence({"section", sample("harbour"), "-o", out, "--scale", "3"}, "ISO 5455");
    expectSentence({"section", sample("harbour"), "-o", out, "--scale", "50"}, "no room");
    expectSentence({"section", sample("harbour"), "-o", out, "--date", "2026-02-30"}, "--date");
    expectSentence({"section", sample("harbour"), "-o", out, "--dpi", "5"}, "--dpi");
}

TEST(SectionCommand, ManySheetsOfSvgAreNumbered) {
    const ScratchFolder folder;
    ASSERT_EQ(run({"section", sample("harbour"), "-o", folder / "a.svg", "--paper", "a5"}).code, 0);
    ASSERT_EQ(
        run({"section", sample("harbour"), "-o", folder / "a.png", "--paper", "a5", "--dpi", "100"}).code, 0);
    for (const std::string name : {"a.svg", "a-2.svg", "a-3.svg"})
        EXPECT_EQ(runProgram({"xmllint", "--noout", folder / name}).code, 0) << name;
    for (const std::string name : {"a.png", "a-2.png", "a-3.png"})
        EXPECT_TRUE(readFile(folder / name).starts_with("\x89PNG")) << name;
}

/// At the place where the ring has it, so that a program on a lathe may take it as it is.
TEST(SectionCommand, WritesDxfOfTheRingItself) {
    const ScratchFolder folder;
    const std::string out = folder / "a.dxf", again = folder / "b.DXF";
    ASSERT_EQ(run({"section", sample("harbour"), "-o", out}).code, 0);
    ASSERT_EQ(run({"section", sample("harbour"), "-o", again}).code, 0);
    EXPECT_EQ(readFile(out), readFile(again));
    const auto told = runProgram({"/usr/bin/python3", "-c",
                                  "import sys, ezdxf\n"
                                  "d = ezdxf.readfile(sys.argv[1])\n"
                                  "points = [p for e in d.modelspace().query('LINE[layer==\"BAND\"]') for p "
                                  "in (e.dxf.start, e.dxf.end)]\n"
                                  "near = [p for p in points if abs(p.x) < 4.5 and p.y > 0]\n"
                                  "print(len(d.audit().errors), min(p.x for p in near), max(p.x for p in "
                                  "near), max(p.y for p in near))",
                                  out});
    std::istringstream in(told.out);
    double errors = -1, left = 0, right = 0, high = 0;
    in >> errors >> left >> right >> high;
    const design::Design design = sampleDesign("harbour");
    EXPECT_EQ(errors, 0) << told.err;
    EXPECT_NEAR(left, -design.band.width / 2, 1e-9);
    EXPECT_NEAR(right, design.band.width / 2, 1e-9);
    EXPECT_NEAR(high, design::outsideRadius(design), 1e-9);
}

/// A disk that is full stops the writing in the middle; the drawing of before is still whole.
TEST(SectionCommand, AFullDiskLeavesTheOldDrawing) {
    const ScratchFolder folder;
    const std::string out = folder / "drawing.pdf";
    ASSERT_EQ(run({"section", sample("lantern"), "-o", out}).code, 0);
    const std::string before = readFile(out);
    const auto stopped = runProgram({"sh", "-c", "ulimit -f 8; trap '' XFSZ; exec \"$@\"", "sh",
                                     BANDWRIGHT_PROGRAM, "section", sample("harbour"), "-o", out});
    EXPECT_EQ(stopped.code, 2);
    EXPECT_EQ(std::ranges::count(stopped.err, '\n'), 1) << stopped.err;
    EXPECT_EQ(readFile(out), before);
    std::size_t files = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder.path()))
        ++files;
    EXPECT_EQ(files, 1U);
}

}  // namespace
}  // namespace bandwright::paper
