#include "design/locks.hpp"

#include <gtest/gtest.h>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"

namespace bandwright::design {
namespace {

Design withEverything() {
    Design design = withOneOfEach(withOneOfEach(Design{}));
    design.settings[0].placement.angles.clear();
    return design;
}

TEST(Locks, OfEveryFieldAreKeptInTheFile) {
    Design design = withEverything();
    for (const Field& field : fieldsIn(design)) {
        if (design.locked.size() == 200) break;  // the most a file may have
        setLocked(design, field.path, true);
        EXPECT_TRUE(isLocked(design, field.path)) << field.path;
    }
    EXPECT_GT(design.locked.size(), 100U);
    EXPECT_EQ(parseDesign(formatDesign(design), "x").locked, design.locked);
    while (!design.locked.empty())
        setLocked(design, design.locked.front(), false);
    EXPECT_EQ(formatDesign(design).find("locked"), std::string::npos);
}

TEST(Locks, ThatNameNoFieldAreRefusedWithTheirPlace) {
    try {
        parseDesign("{\"bandwright\": 1,\n \"locked\": [\"band.width\",\n  \"band.widht\"]}", "x");
        FAIL();
    } catch (const base::InputError& error) {
        const std::string said = error.what();
        EXPECT_NE(said.find("x:3:"), std::string::npos) << said;
        EXPECT_NE(said.find("locked[1] is 'band.widht', which names no field"), std::string::npos) << said;
        EXPECT_NE(said.find("'band.width'"), std::string::npos) << said;
    }
    for (const char* path : {"band", "channels[0].width", "locked[0]", "", "band.liner.metal"})
        EXPECT_TRUE(lockComplaint(Design{}, path)) << path;
    Design design;
    design.locked = {"channels[0].width"};
    EXPECT_THROW(formatDesign(design), base::InputError);
}

TEST(Locks, AreKeptWhileTheFieldIsAsItWas) {
    const Design plain = withEverything();
    for (const DesignNumber& number : numbersIn(plain)) {
        Design design = plain;
        setLocked(design, number.path, true);
        Design other = design;
        other.title = "Another";
        EXPECT_TRUE(keepsLocked(design, other));
        *numberAt(other, number.path) += 0.01;
        EXPECT_FALSE(keepsLocked(design, other)) << number.path;
        EXPECT_TRUE(keepsLocked(plain, other)) << number.path;
    }
}

TEST(Locks, GoWithTheirChannelAndStayWithTheOthers) {
    Design design;
    design.channels.resize(3);
    design.locked = {"channels[0].width", "channels[1].depth", "channels[2].fill.filler", "band.width"};
    design.channels.erase(design.channels.begin() + 1);
    dropLocksOf(design, "channels", 1);
    EXPECT_EQ(design.locked,
              (std::vector<std::string>{"channels[0].width", "channels[1].fill.filler", "band.width"}));
    design.channels[1].fill.reset();
    dropLostLocks(design);
    EXPECT_EQ(design.locked, (std::vector<std::string>{"channels[0].width", "band.width"}));
}

}  // namespace
}  // namespace bandwright::design
