#include "check/cautions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "plain_ring.hpp"

namespace bandwright::check {
namespace {

bool tells(const std::vector<MaterialCaution>& all, const std::string& material, const std::string& word) {
    return std::ranges::any_of(all, [&](const MaterialCaution& c) {
        return c.material == material && c.caution.text.find(word) != std::string::npos;
    });
}

TEST(Cautions, AreThoseOfTheMaterialsInTheRingEachOnce) {
    design::Design design = plainRing();
    EXPECT_FALSE(tells(cautions(design, trade::builtInCatalogue()), "Emerald", "ultrasonic"));
    design.settings = {design::Setting{}, design::Setting{}};
    design.channels = {channel(0, 4, 1)};
    const std::vector<MaterialCaution> all = cautions(design, trade::builtInCatalogue());
    EXPECT_TRUE(tells(all, "Emerald", "No ultrasonic, no steam"));
    EXPECT_TRUE(tells(all, "Cyanoacrylate, thick grade", "skin"));
    EXPECT_TRUE(tells(all, trade::builtInCatalogue().metal(design.band.metal)->name, "burn"));
    std::set<std::string> texts;
    for (const MaterialCaution& c : all)
        EXPECT_TRUE(texts.insert(c.caution.text).second) << c.caution.text;
}

TEST(Cautions, AreThoseOfTheWorkThatTheRingAsksFor) {
    design::Design design = plainRing();
    design.settings = {design::Setting{}};
    const auto told = [&](const char* work, const char* word) {
        return tells(cautions(design, trade::builtInCatalogue()), work, word);
    };
    EXPECT_FALSE(told("Solder", "cadmium"));
    EXPECT_FALSE(told("Laser", "class 4"));
    EXPECT_FALSE(told("Anodising", "60 V"));
    design.settings[0].tube->join = design::Join::Solder;
    EXPECT_TRUE(told("Solder", "cadmium"));
    design.settings[0].tube->join = design::Join::LaserWeld;
    EXPECT_TRUE(told("Laser", "class 4"));
    design.band.surface.treatment = design::Treatment::Anodised;
    EXPECT_TRUE(told("Anodising", "60 V"));
    design.band.surface.treatment = design::Treatment::Blackened;
    EXPECT_TRUE(told("Blackening", "600"));
}

TEST(Cautions, AreNoVerdict) {
    design::Design design = plainRing();
    design.settings = {design::Setting{}};
    design.settings[0].stone->gem = "opal";
    EXPECT_TRUE(tells(cautions(design, trade::builtInCatalogue()), "Opal, natural", "No ultrasonic"));
    for (const Finding& finding : checked(design).findings)
        EXPECT_EQ(finding.why.find("ultrasonic"), std::string::npos);
}

}  // namespace
}  // namespace bandwright::check
