#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "formats/body.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

void expectSentence(const Outcome& outcome, const std::string& part) {
    EXPECT_EQ(outcome.code, 2) << outcome.err;
    EXPECT_EQ(outcome.out, "");
    EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 1) << outcome.err;
    EXPECT_NE(outcome.err.find(part), std::string::npos) << outcome.err;
}

TEST(CompareCommand, TellsHowAnExportedBodyDiffers) {
    const ScratchFolder folder;
    const std::string design = sample("tide-mill"), body = folder / "body.stl";
    ASSERT_EQ(run({"export", design, "-o", body, "--parts", "band", "--shrink", "1.5"}).code, 0);
    const Outcome told = run({"compare", design, body, "--scale", "--json", "-o",
                              (folder / "map.png").string() + "," + (folder / "map.ply").string()});
    ASSERT_EQ(told.code, 0) << told.err;
    const auto json = nlohmann::json::parse(told.out);
    // The body is larger by 1.5 % and made of triangles that stand off by 10 micrometres at most.
    EXPECT_NEAR(json["fit"]["factor"], 1 / 1.015, 1e-6);
    EXPECT_GT(json["deviation"]["least"]["value"], -0.011);
    EXPECT_LT(json["deviation"]["most"]["value"], 0.011);
    EXPECT_LT(json["design-surface"]["farthest"]["value"], 0.011);
    EXPECT_EQ(json["parts"], nlohmann::json::array({"band"}));
    // What is written is the body laid into the ring's frame.
    const geometry::Triangles written = formats::readBody(folder / "map.ply"),
                              given = formats::readBody(body);
    EXPECT_EQ(written.triangles.size(), given.triangles.size());
    EXPECT_NEAR(geometry::volume(written) * std::pow(1.015, 3) / geometry::volume(given), 1, 1e-6);
    EXPECT_GT(std::filesystem::file_size(folder / "map.png"), 10'000U);
}

TEST(CompareCommand, RefusesWhatItCannotCompare) {
    const ScratchFolder folder;
    const std::string design = sample("tide-mill"), body = folder / "body.obj";
    writeFile(body, "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n");
    expectSentence(run({"compare", design, body}), "say --unit cm.");
    expectSentence(run({"compare", design, body, "--unit", "ell"}), "--unit");
    expectSentence(run({"compare", design, body, "--parts", "stone"}), "--parts");
    expectSentence(run({"compare", design, body, "--beyond", "nan"}), "--beyond");
    expectSentence(run({"compare", design, body, "-o", "map.gif"}), "map.gif");
    expectSentence(run({"compare", design, folder / "none.stl"}), "none.stl");
    expectSentence(run({"compare", design, design}), "a body to compare is an .stl, .obj or .ply file");
}

}  // namespace
}  // namespace bandwright::app
