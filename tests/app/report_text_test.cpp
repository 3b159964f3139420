#include "app/report_text.hpp"

#include <gtest/gtest.h>

#include <clocale>
#include <cwchar>
#include <sstream>
#include <vector>

#include "check/weighed.hpp"
namespace bandwright::app {
namespace {

/// The C library's own answer, from its Unicode tables.
int columnsByLibrary(const std::string& text) {
    std::vector<wchar_t> wide(text.size() + 1);
    const std::size_t count = std::mbstowcs(wide.data(), text.c_str(), wide.size());
    return wcswidth(wide.data(), count);
}

TEST(ReportText, ColumnsAreThoseOfTheCLibrary) {
    ASSERT_NE(std::setlocale(LC_CTYPE, "C.UTF-8"), nullptr);
    for (const std::string text : {"Harbour", "Ø 18.95 mm", "UK R½", "Ring für Zoë", "指輪の案",
                                   "e\u0301te\u0301", "반지", "● go – done", "", "Кольцо"}) {
        EXPECT_EQ(columns(text), columnsByLibrary(text)) << text;
    }
}

TEST(ReportText, BytesThatAreNoUtf8DoNotEndTheProgram) {
    EXPECT_GE(columns("\xFF\xC3"), 1);
    EXPECT_GE(columns("\xE2\x97"), 1);
    EXPECT_GE(columns("abc\x80"), 3);
}

TEST(ReportText, WrappedLinesKeepToTheWidthAndLoseNoWord) {
    const std::string text =
        "Metal thinner than this gives way when the ring is sized, and the channel opens.";
    for (const int width : {20, 33, 60, 200}) {
        std::istringstream lines(wrapped(text, width, 4));
        std::string joined;
        bool first = true;
        for (std::string line; std::getline(lines, line);) {
            EXPECT_LE(columns(line) + (first ? 4 : 0), width);
            joined += (joined.empty() ? "" : " ") + line.substr(first ? 0 : 4);
            first = false;
        }
        EXPECT_EQ(joined, text);
    }
}

check::Measure measure(const std::string& id, design::Stage stage, double value) {
    check::Measure measure;
    measure.id = id;
    measure.label = id == "rim" ? "Rim" : "Floor";
    measure.stage = stage;
    measure.value = value;
    measure.unit = "mm";
    return measure;
}

check::Finding finding(const std::string& rule, check::Verdict verdict, std::size_t of,
                       const std::string& remedy) {
    check::Finding finding;
    finding.rule = rule;
    finding.verdict = verdict;
    finding.measure = of;
    finding.limit = 0.4;
    finding.comfortable = 0.6;
    finding.why = "Too thin.";
    finding.remedy = remedy;
    finding.source = "from memory";
    return finding;
}

check::Report twoStages() {
    check::Report report;
    report.measures = {measure("rim", design::Stage::Channelled, 0.5),
                       measure("floor", design::Stage::Finished, 0.2),
                       measure("rim", design::Stage::Finished, 0.9)};
    report.findings = {finding("floor", check::Verdict::NoGo, 1, "Cut 0.2 mm less."),
                       finding("rim", check::Verdict::Marginal, 0, "Move it."),
                       finding("rim", check::Verdict::Go, 2, "")};
    report.findings[1].stage = design::Stage::Channelled;
    report.verdict = check::Verdict::NoGo;
    return report;
}

TEST(ReportText, TheTextNamesVerdictReasonAndRemedyWithoutColour) {
    const std::string text = reportText({}, twoStages(), {}, trade::builtInCatalogue());
    const std::size_t verdict = text.find("\u25A0 NO-GO"), floor = text.find("Floor"), rim = text.find("Rim");
    EXPECT_LT(verdict, floor);
    EXPECT_LT(floor, rim);
    for (const std::string word :
         {"Too thin.", "Cut 0.2 mm less.", "1 no-go, 1 marginal, 1 go", "\u25B2 marginal", "\u25CF go"}) {
        EXPECT_NE(text.find(word), std::string::npos) << word;
    }
    EXPECT_EQ(text.find('\033'), std::string::npos);
    EXPECT_NE(reportText({}, twoStages(), {}, trade::builtInCatalogue(), {true, 100}).find('\033'),
              std::string::npos);
}

check::Remedy remedy(const char* text, std::size_t noGoLeft) {
    check::Remedy remedy;
    remedy.text = text;
    remedy.effect = "out of sight; as heavy; same size";
    remedy.noGoLeft = noGoLeft;
    return remedy;
}

TEST(ReportText, AnswersFirstWhatAMakerAsks) {
    check::Report report = twoStages();
    report.findings[0].remedies = {remedy("Make it so.", 1), remedy("Or so.", 0)};
    std::string text = reportText({}, report, {}, trade::builtInCatalogue());
    const std::size_t make = text.find("Can I make it?    No: 1 gauge is no-go. The worst: floor, 0.20 mm.");
    const std::size_t thin = text.find("Where is it thin? 0.20 mm, floor:");
    const std::size_t change = text.find("What to change?   Or so. (remedy 2;");
    ASSERT_NE(make, std::string::npos) << text;
    EXPECT_LT(make, thin);
    EXPECT_LT(thin, change);
    EXPECT_LT(change, text.find("gauge  ")) << text;
    EXPECT_NE(text.find("Nothing is no-go then."), std::string::npos) << text;
    EXPECT_NE(text.find("remedy 1  Make it so. (out of sight; as heavy; same size)"), std::string::npos)
        << text;
    EXPECT_NE(text.find("or 2      Or so."), std::string::npos) << text;
    report.findings = {report.findings[2]};
    report.verdict = check::Verdict::Go;
    text = reportText({}, report, {}, trade::builtInCatalogue());
    EXPECT_NE(text.find("Yes: every gauge is go."), std::string::npos) << text;
    EXPECT_NE(text.find("What to change?   Nothing."), std::string::npos) << text;
}

TEST(ReportText, AMarginalRingMayStayAsItWasOrdered) {
    check::Report report = twoStages();
    report.findings.erase(report.findings.begin());
    report.verdict = check::Verdict::Marginal;
    report.findings[0].remedies = {remedy("Take another metal.", 0)};
    report.findings[0].remedies[0].keepsOrder = false;
    std::string text = reportText({}, report, {}, trade::builtInCatalogue());
    EXPECT_NE(text.find("What to change?   Nothing has to be;"), std::string::npos) << text;
    report.findings[0].remedies.push_back(remedy("Cut less.", 0));
    text = reportText({}, report, {}, trade::builtInCatalogue());
    EXPECT_NE(text.find("What to change?   Cut less. (remedy 2;"), std::string::npos) << text;
}

TEST(ReportText, AMassHasNoPlace) {
    check::Report report = twoStages();
    report.measures[1].hasPlace = false;
    const std::string json = reportJson({}, report, trade::builtInCatalogue());
    const auto count = [&](const std::string& word) {
        std::size_t times = 0;
        for (std::size_t at = json.find(word); at != std::string::npos; at = json.find(word, at + 1))
            ++times;
        return times;
    };
    EXPECT_EQ(count("\"from\""), 2U) << json;
    EXPECT_EQ(count("\"to\""), 2U);
    EXPECT_EQ(count("\"unit\": \"mm\""), 6U) << "of three measures and three findings";
}

TEST(ReportText, GaugesStandInGroupsTheWorstFirst) {
    check::Report report = twoStages();
    report.findings[0].group = check::Group::Work;
    report.findings[1].group = check::Group::Law;
    report.findings[2].group = check::Group::Work;
    const std::string text = reportText({}, report, {}, trade::builtInCatalogue());
    const std::size_t work = text.find("\nWork\n"), law = text.find("\nLaw\n");
    ASSERT_NE(work, std::string::npos) << text;
    ASSERT_NE(law, std::string::npos) << text;
    EXPECT_LT(work, law);
    EXPECT_EQ(text.find("\nWork\n", work + 1), std::string::npos);
    // Both of the first group come before the second.
    EXPECT_LT(text.rfind("\u25CF go"), law);
}

TEST(ReportText, AFillWeighsWhatItsGrainAndAdhesiveWeigh) {
    design::Design design;
    design.channels.emplace_back();
    geometry::SolidPart part;
    part.part.role = geometry::PartRole::Fill;
    part.part.material = design.channels[0].fill->filler;
    part.solid.volume = 100;
    const double grain = trade::builtInCatalogue().filler(part.part.material)->density.value;
    const double glue = trade::builtInCatalogue().adhesive(design.channels[0].fill->adhesive)->density.value;
    EXPECT_NEAR(check::mass(part, design, trade::builtInCatalogue()), 0.1 * (0.6 * grain + 0.4 * glue),
                1e-12);
}

}  // namespace
}  // namespace bandwright::app
