#include "design/design_file.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "base/input_error.hpp"
#include "file_contents.hpp"

namespace bandwright::design {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> samples() {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(BANDWRIGHT_MODELS))
        if (entry.path().string().ends_with(".ring.json")) files.push_back(entry.path());
    return files;
}

Design parse(const std::string& members) {
    return parseDesign("{\"bandwright\": 1, " + members + "}", "x");
}

std::string complaintOf(const Design& design) {
    try {
        requireValid(design);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

std::string materialComplaintOf(const Design& design) {
    try {
        requireMaterials(design, trade::builtInCatalogue());
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(Samples, AreWrittenTheWayTheProgramWritesThem) {
    ASSERT_GE(samples().size(), 5U);
    for (const fs::path& file : samples())
        EXPECT_EQ(formatDesign(readDesign(file)), contents(file)) << file;
}

TEST(Samples, AreMadeOfMaterialsOfTheCatalogue) {
    for (const fs::path& file : samples())
        EXPECT_EQ(materialComplaintOf(readDesign(file)), "") << file;
}

TEST(Samples, ReadingLeavesTheFileAsItWas) {
    const fs::path file = samples().front();
    const std::string before = contents(file);
    const auto time = fs::last_write_time(file);
    readDesign(file);
    EXPECT_EQ(contents(file), before);
    EXPECT_EQ(fs::last_write_time(file), time);
}

TEST(DesignFile, WhatIsLeftOutTakesItsDefault) {
    EXPECT_EQ(parseDesign(R"({"bandwright": 1})", "x"), Design{});
    Design narrow;
    narrow.band.width = 5;
    EXPECT_EQ(parse(R"("band": {"width": 5})"), narrow);
}

TEST(DesignFile, APartThatMayBeMissingIsThereOnlyWhenWritten) {
    const Design none = parse(R"("channels": [{}], "settings": [{"tube": null}])");
    EXPECT_FALSE(none.channels.at(0).fill);
    EXPECT_FALSE(none.settings.at(0).tube);
    EXPECT_FALSE(none.settings.at(0).stone);
    const Design some = parse(R"("channels": [{"fill": {}}], "settings": [{"tube": {}, "stone": {}}])");
    EXPECT_EQ(some.channels.at(0).fill, Fill{});
    EXPECT_EQ(some.settings.at(0).tube, Tube{});
    EXPECT_EQ(some.settings.at(0).stone, Stone{});
}

TEST(DesignFile, AnEmptyListOfStepsIsAHoleWithoutSteps) {
    EXPECT_TRUE(parse(R"("settings": [{"hole": {"steps": []}}])").settings.at(0).hole.steps.empty());
    EXPECT_EQ(parse(R"("settings": [{}])").settings.at(0).hole, Hole{});
}

TEST(DesignFile, LengthsMayNameTheirUnitAndAreSavedAsMillimetres) {
    const Design design = parse(R"("band": {"width": "3/8 in", "thickness": "2200 um"})");
    EXPECT_DOUBLE_EQ(design.band.width, 9.525);  // 3/8 of 25.4 mm
    EXPECT_DOUBLE_EQ(design.band.thickness, 2.2);
    const std::string text = formatDesign(design);
    EXPECT_NE(text.find("\"width\": 9.525,"), std::string::npos);
    EXPECT_NE(text.find("\"thickness\": 2.2,"), std::string::npos);
}

TEST(DesignFile, FingerSizesMayBeOfAnySystem) {
    EXPECT_EQ(parse(R"("finger": {"size": "US 9 1/2"})").finger.size,
              (trade::RingSize{trade::SizeSystem::Us, 9.5}));
    EXPECT_EQ(parse(R"("finger": {"size": "UK R\u00bd"})").finger.size,
              (trade::RingSize{trade::SizeSystem::Uk, 17.5}));
    EXPECT_EQ(parse(R"("finger": {"size": "ISO 60"})").finger.size,
              (trade::RingSize{trade::SizeSystem::Iso, 60}));
}

TEST(DesignFile, NumbersAreWrittenInTheFewestDigits) {
    Design design;
    design.band.width = 0.1 + 8;
    design.finger.widthCorrection = -0.0;
    design.allowances.sizing = 1.0 / 3;
    const std::string text = formatDesign(design);
    EXPECT_NE(text.find("\"width\": 8.1,"), std::string::npos);
    EXPECT_NE(text.find("\"width-correction\": 0\n"), std::string::npos);
    EXPECT_NE(text.find("\"sizing\": 0.3333333333333333,\n"), std::string::npos);
}

TEST(DesignFile, MayBeAsLargeAsTheLimitAndNoLarger) {
    std::string text = formatDesign(Design{});
    text.append(kLargestDesignFile - text.size(), ' ');
    EXPECT_EQ(parseDesign(text, "x"), Design{});
    text += ' ';
    try {
        parseDesign(text, "x");
        FAIL() << "a file beyond the limit was read";
    } catch (const base::InputError& error) {
        EXPECT_STREQ(error.what(),
                     "x: the file is larger than 1048576 bytes, the most a design file may have");
    }
}

TEST(Validation, NamesThePathTheValueAndTheRange) {
    Design design;
    design.channels.resize(2);
    design.channels[1].depth = -1;
    EXPECT_EQ(complaintOf(design), "channels[1].depth is -1 mm; allowed: 0.05 to 10 mm");
}

TEST(Validation, RefusesWhatIsNoFiniteNumber) {
    Design design;
    design.band.left.angle = std::nan("");
    EXPECT_EQ(complaintOf(design), "band.left.angle is no finite number; allowed: 5 to 85 degrees");
    design.band.left.angle = std::numeric_limits<double>::infinity();
    EXPECT_EQ(complaintOf(design), "band.left.angle is no finite number; allowed: 5 to 85 degrees");
}

TEST(Validation, LooksIntoListsAndPartsThatMayBeMissing) {
    Design design;
    design.settings.emplace_back();
    design.settings[0].placement.angles = {0, 500};
    EXPECT_EQ(complaintOf(design),
              "settings[0].placement.angles[1] is 500 degrees; allowed: -360 to 360 degrees");
    design.settings[0].placement.angles.clear();
    design.settings[0].stone->table = 99;
    EXPECT_EQ(complaintOf(design), "settings[0].stone.table is 99 %; allowed: 20 to 95 %");
    design.settings[0].stone.reset();
    EXPECT_EQ(complaintOf(design), "");
}

TEST(Validation, RefusesTextThatTheFileCannotHold) {
    Design design;
    design.title = "broken \xC3";
    EXPECT_EQ(complaintOf(design),
              "title is text that is not UTF-8; allowed: text in UTF-8 of at most 200 bytes, on one line");
    design.title = "two\nlines";
    EXPECT_EQ(
        complaintOf(design),
        "title is text with a control character; allowed: text in UTF-8 of at most 200 bytes, on one line");
    design.title = "Harbour";
    design.note = "two\nlines";
    EXPECT_EQ(complaintOf(design), "");
}

TEST(Validation, RefusesAWordOutsideItsList) {
    Design design;
    design.band.bore.shape = static_cast<BoreShape>(9);
    EXPECT_EQ(complaintOf(design), "band.bore.shape is no known value; allowed: 'straight' or 'comfort'");
}

TEST(Validation, RefusesAFingerSizeThatNoOneHasOrNoOneCanWrite) {
    Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 50};
    EXPECT_EQ(complaintOf(design).substr(0, 56), "finger.size is a size with an inner diameter of 50 mm; a");
    design.finger.size = {trade::SizeSystem::Uk, 17.3};
    EXPECT_EQ(complaintOf(design).substr(0, 62),
              "finger.size is a size between those that can be written (near ");
}

TEST(Materials, AreNamedWithTheirPathAndTheNearestKnownOnes) {
    Design design;
    design.band.metal = "titanium-grade-6";
    EXPECT_EQ(
        materialComplaintOf(design),
        "band.metal is 'titanium-grade-6', which is no known metal; nearest known: 'titanium-grade-2' and "
        "'titanium-grade-5'");
    design.band.metal = "titanium-grade-5";
    design.channels.emplace_back();
    design.channels[0].fill->filler = "malachit";
    EXPECT_EQ(materialComplaintOf(design),
              "channels[0].fill.filler is 'malachit', which is no known filler; nearest known: 'malachite'");
    design.channels[0].fill->filler = "malachite";
    design.channels[0].fill->adhesive = "glue";
    EXPECT_EQ(materialComplaintOf(design).substr(0, 76),
              "channels[0].fill.adhesive is 'glue', which is no known adhesive; known: 'cya");
    design.channels[0].fill.reset();
    design.settings.emplace_back();
    design.settings[0].stone->gem = "emrald";
    EXPECT_EQ(materialComplaintOf(design),
              "settings[0].stone.gem is 'emrald', which is no known gem; nearest known: 'emerald'");
}

}  // namespace
}  // namespace bandwright::design
