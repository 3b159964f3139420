#include <gtest/gtest.h>

#include <filesystem>

#include "design/design_file.hpp"
#include "plain_ring.hpp"
#include "sample_names.hpp"

namespace bandwright::check {
namespace {

Report checkedSample(const char* name) {
    return check(
        design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (std::string(name) + ".ring.json")),
        trade::builtInCatalogue());
}

class Sample : public testing::TestWithParam<const char*> {};

TEST_P(Sample, CanBeMade) {
    const Report report = checkedSample(GetParam());
    EXPECT_FALSE(report.findings.empty());
    for (const Finding& f : report.findings) {
        // Turquoise in layered steel: it has to be etched before it is filled. Epoxy yellows.
        const bool known = f.rule == "etch-fill" || f.rule == "fill-light";
        const Verdict expected = known && f.verdict != Verdict::Go ? Verdict::Marginal : Verdict::Go;
        EXPECT_EQ(f.verdict, expected) << report.measures[f.measure].id << ": " << f.remedy;
    }
}

INSTANTIATE_TEST_SUITE_P(Samples, Sample, samplesThatCanBeMade(), asTestName);

TEST(Samples, ShallowsIsANoGoForItsFloor) {
    const Report report = checkedSample("shallows");
    EXPECT_EQ(report.verdict, Verdict::NoGo);
    const Finding& worst = report.findings.front();
    EXPECT_EQ(worst.rule, "floor-wall");
    EXPECT_EQ(worst.stage, design::Stage::Finished);
    EXPECT_NE(worst.why.find("floor"), std::string::npos);
    // A shallower channel would also help, but its fill would be too shallow.
    ASSERT_FALSE(worst.remedies.empty()) << worst.remedy;
    EXPECT_EQ(worst.remedies.front().changes.front().field, "band.thickness");
}

}  // namespace
}  // namespace bandwright::check
