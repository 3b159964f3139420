#include "app/job_card.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "card_summaries.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "files_left.hpp"
#include "headless.hpp"
#include "program.hpp"
#include "random_design.hpp"

namespace bandwright::app {
namespace {

TEST(JobCard, ATypedNumberMayNameItsUnit) {
    Headless desk(harbour());
    desk.enter("band.width", "3/8 in");
    EXPECT_NEAR(desk.design().band.width, 9.525, 1e-9);  // 25.4 mm an inch: NIST SP 811
}

TEST(JobCard, ATypedNumberMayBeWorkedOut) {
    Headless desk(harbour());
    desk.enter("band.width", "8/2 + 3.5");
    EXPECT_NEAR(desk.design().band.width, 7.5, 1e-9);
}

TEST(JobCard, AFingerMayBeNamedInAnySystem) {
    Headless desk(harbour());
    desk.enter("finger.size", "ISO 54");
    EXPECT_EQ(desk.design().finger.size, (trade::RingSize{trade::SizeSystem::Iso, 54}));
    desk.enter("finger.size", "uk r");
    EXPECT_EQ(desk.design().finger.size, (trade::RingSize{trade::SizeSystem::Uk, 17}));
}

TEST(JobCard, WhatTheClientAskedForIsLockedByItsMarkOrByAKey) {
    Headless desk(harbour());
    desk.click("band.width#lock");
    EXPECT_EQ(desk.design().locked, std::vector<std::string>{"band.width"});
    desk.click("band.thickness");
    desk.press(Key::L, kCtrl);
    EXPECT_EQ(desk.design().locked, (std::vector<std::string>{"band.width", "band.thickness"}));
    EXPECT_EQ(desk.design().band, harbour().band);
    desk.press(Key::Escape);
    desk.enter("band.width", "7.5");  // the maker may change it
    EXPECT_EQ(desk.design().band.width, 7.5);
    desk.click("band.width#lock");
    EXPECT_EQ(desk.design().locked, std::vector<std::string>{"band.thickness"});
}

TEST(JobCard, BothEdgesAreLockedWhileTheyAreAlike) {
    Headless desk(harbour());
    desk.click("band.left.width#lock");
    EXPECT_EQ(desk.design().locked, (std::vector<std::string>{"band.left.width", "band.right.width"}));
}

TEST(JobCard, AFingerStandsInEverySystemAndTakesAnother) {
    design::Design ring = harbour();
    ring.finger.size = {trade::SizeSystem::Us, 9.5};  // 0.458 in + 9.5 x 0.032 in = 19.3548 mm
    Headless desk(ring);
    for (const char* system : {"us", "uk", "iso", "jp", "ch", "across", "round"})
        EXPECT_TRUE(desk.fields().places().contains(std::string("finger.size=") + system)) << system;
    desk.click("finger.size=us");
    EXPECT_EQ(desk.design(), ring) << "it is the one there is";
    desk.click("finger.size=uk");  // 60.80 mm round = 37.5 + 1.25 x 18.64, so S and a half
    EXPECT_EQ(desk.design().finger.size, (trade::RingSize{trade::SizeSystem::Uk, 18.5}));
    desk.press(Key::Z, kCtrl);
    desk.click("finger.size=iso");
    EXPECT_EQ(desk.design().finger.size, (trade::RingSize{trade::SizeSystem::Iso, 61}));
    desk.press(Key::Z, kCtrl);
    desk.click("finger.size=across");
    EXPECT_EQ(desk.design().finger.size, (trade::RingSize{trade::SizeSystem::Diameter, 19.35}));
}

TEST(JobCard, ASizeThatASystemHasNoNameForIsNotTaken) {
    design::Design ring;
    ring.finger.size = {trade::SizeSystem::Diameter, 8.5};  // UK A is 37.5 mm round, 11.94 mm across
    Headless desk(ring);
    desk.click("finger.size=uk");
    EXPECT_EQ(desk.design().finger.size, ring.finger.size);
}

// 0.032 in a US size: half of it is 0.4064 mm, a quarter 0.2032 mm.
TEST(JobCard, AWideBandIsMadeHalfASizeLargerByAButton) {
    Headless desk(harbour());
    desk.click("finger.in-us-sizes=+\u00BD");
    EXPECT_EQ(desk.design().finger.widthCorrection, 0.4064);
    desk.click("finger.in-us-sizes=\u2212\u00BC");
    EXPECT_EQ(desk.design().finger.widthCorrection, -0.2032);
    desk.click("finger.in-us-sizes=0");
    EXPECT_EQ(desk.design().finger.widthCorrection, 0);
}

/// A maker says "half a millimetre from the left edge", and it stays there when the client wants it wider.
TEST(JobCard, AChannelIsPlacedFromAnEdgeAndKeepsItsDistance) {
    design::Design ring;
    ring.band.width = 8;
    ring.channels = {design::Channel{}};
    ring.channels[0].width = 1.2;
    Headless desk(ring);
    const auto channel = [&] { return desk.design().channels[0]; };
    desk.click("channels[0]#from=Left");
    EXPECT_EQ(desk.design(), ring) << "only how it is told";
    desk.enter("channels[0].offset", "1.5");
    EXPECT_NEAR(channel().offset, -4 + 1.5 + 0.6, 1e-9);  // the near side at z = -2.5
    desk.enter("band.width", "9");
    EXPECT_NEAR(channel().offset - channel().width / 2, -4.5 + 1.5, 1e-9);
    desk.enter("channels[0].width", "2");
    EXPECT_NEAR(channel().offset - channel().width / 2, -4.5 + 1.5, 1e-9);
    desk.click("channels[0]#from=Right");
    desk.enter("channels[0].offset", "2");
    EXPECT_NEAR(channel().offset + channel().width / 2, 4.5 - 2, 1e-9);
    desk.enter("band.width", "7");
    EXPECT_NEAR(channel().offset + channel().width / 2, 3.5 - 2, 1e-9);
    desk.click("channels[0]#from=Middle");
    const double offset = channel().offset;
    desk.enter("band.width", "8");
    EXPECT_EQ(channel().offset, offset);
    desk.click("channels[0].offset#lock");
    desk.click("channels[0]#from=Left");
    desk.enter("band.width", "8.5");
    EXPECT_EQ(channel().offset, offset) << "it is locked";
}

TEST(JobCard, AnyPlaceOfAChannelIsTheSameFromEveryDatum) {
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(300); ++seed) {
        const design::Design ring = geometry::randomDesign(seed);
        for (const design::Channel& channel : ring.channels)
            for (const Datum datum : {Datum::Middle, Datum::LeftEdge, Datum::RightEdge}) {
                const double distance = distanceFrom(datum, channel, ring.band.width);
                EXPECT_NEAR(offsetAt(datum, distance, channel.width, ring.band.width), channel.offset, 6e-5);
            }
    }
}

TEST(JobCard, AMaterialIsFoundByTyping) {
    design::Design ring = harbour();
    Headless desk(ring);
    desk.click("band.metal");
    ASSERT_TRUE(desk.fields().places().contains("band.metal=tantalum"));
    desk.type("TANT");
    EXPECT_TRUE(desk.fields().places().contains("band.metal=tantalum"));
    EXPECT_FALSE(desk.fields().places().contains("band.metal=titanium-grade-5"));
    EXPECT_EQ(desk.design(), ring) << "not yet chosen";
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.metal, "tantalum");
    EXPECT_FALSE(desk.fields().places().contains("band.metal=tantalum")) << "the list is closed";
    // The words in any order; what nothing is called by chooses nothing.
    desk.click("settings[0].stone.gem");
    desk.type("no such stone");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().settings[0].stone->gem, ring.settings[0].stone->gem);
}

/// Every material has a swatch, and two of the same kind that differ in colour differ in theirs.
TEST(JobCard, SwatchesShowTheMaterials) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    const Headless desk;
    std::set<std::vector<ImU32>> seen;
    const auto coloursOf = [](const Swatch& swatch) {
        ImDrawList draw(ImGui::GetDrawListSharedData());
        draw._ResetForNewFrame();
        draw.PushTextureID(ImGui::GetIO().Fonts->TexID);
        draw.PushClipRectFullScreen();
        drawSwatch(draw, {10, 20}, {28, 34}, swatch);
        std::vector<ImU32> colours;
        for (const ImDrawVert& corner : draw.VtxBuffer) {
            EXPECT_GE(corner.pos.x, 8);
            EXPECT_LE(corner.pos.x, 30);
            EXPECT_GE(corner.pos.y, 18);
            EXPECT_LE(corner.pos.y, 36);
            colours.push_back(corner.col);
        }
        return colours;
    };
    std::size_t count = 0;
    for (const trade::Metal& metal : catalogue.metals) {
        seen.insert(coloursOf(swatchOf(metal)));
        ++count;
    }
    for (const trade::Filler& filler : catalogue.fillers) {
        seen.insert(coloursOf(swatchOf(filler)));
        ++count;
    }
    EXPECT_GT(seen.size(), count * 3 / 4) << "alloys of one colour look alike";
    // Gold is yellower than steel: by the reflectances of the catalogue, more red than blue is left.
    const auto middleOf = [&](const char* metal) {
        const std::vector<ImU32> colours = coloursOf(swatchOf(*catalogue.metal(metal)));
        return ImGui::ColorConvertU32ToFloat4(colours[colours.size() / 4]);
    };
    EXPECT_GT(middleOf("gold-18k-yellow").x, middleOf("gold-18k-yellow").z + 0.1F);
    EXPECT_NEAR(middleOf("titanium-grade-5").x, middleOf("titanium-grade-5").z, 0.1F);
}

TEST(JobCard, AGroupFoldsToALineAndStaysSoInTheNextRun) {
    const ScratchFolder folder;
    {
        Headless desk(harbour(), folder.path());
        desk.click("band#fold");
        EXPECT_FALSE(desk.fields().places().contains("band.width"));
        EXPECT_TRUE(desk.fields().places().contains("finger.size"));
        EXPECT_EQ(desk.design(), harbour());
        EXPECT_FALSE(desk.bench().session().canUndo()) << "folding changes no ring";
    }
    Headless desk(harbour(), folder.path());
    EXPECT_FALSE(desk.fields().places().contains("band.width"));
    desk.click("band#fold");
    EXPECT_TRUE(desk.fields().places().contains("band.width"));
}

TEST(JobCard, FindingANumberUnfoldsItsGroup) {
    Headless desk(harbour());
    const auto names = desk.fields().names();
    desk.press(Key::F, kCtrl);
    desk.type("fold the job card to");
    desk.press(Key::Enter);
    for (const auto& [place, box] : desk.fields().places())
        EXPECT_TRUE(place.ends_with("#fold") || place.starts_with("add-") || place == "title" ||
                    place == "note" || place.ends_with("#lock"))
            << place;
    EXPECT_EQ(desk.fields().names(), names) << "what is folded can be found";
    desk.press(Key::F, kCtrl);
    desk.type("thickness (band)");
    desk.press(Key::Enter);
    EXPECT_TRUE(desk.fields().places().contains("band.thickness"));
    EXPECT_FALSE(desk.fields().places().contains("finger.size"));
    desk.type("3");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.thickness, 3);
}

TEST(JobCard, ALineTellsWhatIsFolded) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    design::Design ring;
    ring.finger = {{trade::SizeSystem::Us, 8}, 0.2};
    ring.channels = {design::Channel{}, design::Channel{}};
    ring.channels[1].offset = -1.25;
    ring.channels[1].fill.reset();
    ring.settings.resize(1);
    ring.settings[0].placement.count = 7;
    ring.band.right.width = 0.4;
    // US 8 is 18.14 mm across: 0.458 in + 8 x 0.032 in, the trade's rule.
    EXPECT_EQ(fingerInLine(ring), "US 8, 18.14 mm across, for its width 0.2 mm");
    EXPECT_EQ(bandInLine(ring, catalogue),
              "8 \u00D7 2.2 mm, Titanium grade 5 (6Al-4V), flat outside, comfort bore");
    EXPECT_EQ(edgesInLine(ring), "left bevel 0.8 mm, right bevel 0.4 mm");
    EXPECT_EQ(channelInLine(ring.channels[0], catalogue),
              "4 \u00D7 1 mm in the middle, Crushed opal, natural");
    EXPECT_EQ(channelInLine(ring.channels[1], catalogue), "4 \u00D7 1 mm, 1.25 mm left, empty");
    EXPECT_EQ(stoneInLine(ring, 0, catalogue),
              "7 \u00D7 Emerald, round brilliant 4 mm, tube of 18K yellow gold");
    EXPECT_EQ(allowancesInLine(ring), "sizing 0.203 mm, truing 0.1 mm");
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(100); ++seed) {
        design::Design drawn = geometry::randomDesign(seed);
        std::vector<std::string> lines = {fingerInLine(drawn),     bandInLine(drawn, catalogue),
                                          edgesInLine(drawn),      finishInLine(drawn),
                                          allowancesInLine(drawn), routeInLine(drawn, catalogue)};
        for (const design::Channel& channel : drawn.channels)
            lines.push_back(channelInLine(channel, catalogue));
        for (std::size_t i = 0; i < drawn.settings.size(); ++i)
            lines.push_back(stoneInLine(drawn, i, catalogue));
        for (std::size_t i = 0; i < drawn.measured.size(); ++i)
            lines.push_back(readingInLine(drawn, i));
        for (const std::string& line : lines) {
            EXPECT_FALSE(line.empty()) << seed;
            EXPECT_EQ(line.find('\n'), std::string::npos) << line;
            EXPECT_EQ(line.find("  "), std::string::npos) << line;
        }
    }
}

TEST(JobCard, AWrongEntryIsExplainedAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.width", "wide");
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_NE(desk.fields().refusal("band.width"), "");
    desk.enter("band.width", "7.5");
    EXPECT_EQ(desk.design().band.width, 7.5);
    EXPECT_EQ(desk.fields().refusal("band.width"), "");
}

TEST(JobCard, ANumberOutOfItsRangeIsExplainedAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.width", "-4");
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_TRUE(desk.fields().refusal("band.width").starts_with("Width "))
        << desk.fields().refusal("band.width");
}

TEST(JobCard, ARingThatCannotBeMadeIsExplainedInTheWordsOfTheCardAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.thickness", "0.9");  // the bevels of 0.8 mm at 45 degrees leave no edge face
    EXPECT_EQ(desk.design(), harbour());
    const std::string sentence = desk.fields().refusal("band.thickness");
    EXPECT_TRUE(sentence.starts_with("Bevel width (edges) is 0.8 mm")) << sentence;
    EXPECT_FALSE(desk.bench().session().derived().parts.empty());
}

TEST(JobCard, UndoingTakesAwayWhatWasRefused) {
    Headless desk(harbour());
    desk.enter("band.width", "7.5");
    desk.enter("band.thickness", "0.9");
    EXPECT_NE(desk.fields().refusal("band.thickness"), "");
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.fields().refusal("band.thickness"), "");
    EXPECT_EQ(desk.design(), harbour());
}

TEST(JobCard, EscapeLeavesTheNumberAsItWas) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("5");
    desk.press(Key::Escape);
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_EQ(desk.fields().refusal("band.width"), "");
}

TEST(JobCard, TabGoesFromNumberToNumber) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("7");
    desk.press(Key::Tab);
    desk.type("2.2");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.width, 7);
    EXPECT_EQ(desk.design().band.thickness, 2.2);
}

TEST(JobCard, TheUpKeyStepsTheNumberAndShiftATenth) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.press(Key::Up);
    desk.press(Key::Up);
    EXPECT_NEAR(desk.design().band.width, 8.1, 1e-9);
    desk.press(Key::Down, kShift);
    EXPECT_NEAR(desk.design().band.width, 8.095, 1e-9);
    desk.press(Key::Enter);
    EXPECT_NEAR(desk.design().band.width, 8.095, 1e-9);
}

TEST(JobCard, ADragOfTheThimbleIsOneStepOfUndo) {
    Headless desk(harbour());
    desk.drag("band.width#thimble", 40);  // four pixels a step of 0.05 mm
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
    desk.drag("band.width#thimble", -20);
    EXPECT_NEAR(desk.design().band.width, 8.25, 1e-9);
    desk.press(Key::Z, kCtrl);
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
    desk.press(Key::Z, kCtrl | kShift);
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
}

TEST(JobCard, AClickThatBeginsAndEndsWithinOneFrameIsNotLost) {
    Headless desk(harbour());
    const ImVec2 box = desk.middle("band.bore.shape=Straight");
    desk.moveTo(box.x, box.y);
    desk.button(true);
    desk.button(false);
    desk.settle();
    EXPECT_EQ(desk.design().band.bore.shape, design::BoreShape::Straight);
}

TEST(JobCard, AMetalIsChosenByItsName) {
    Headless desk(harbour());
    desk.click("band.metal");
    desk.click("band.metal=tantalum");
    EXPECT_EQ(desk.design().band.metal, "tantalum");
}

TEST(JobCard, EdgesThatAreAlikeChangeTogetherAndApartWhenNot) {
    Headless desk(harbour());
    desk.enter("band.left.width", "0.6");
    EXPECT_EQ(desk.design().band.left.width, 0.6);
    EXPECT_EQ(desk.design().band.right.width, 0.6);
    desk.click("edges-alike");
    desk.enter("band.right.width", "0.4");
    EXPECT_EQ(desk.design().band.left.width, 0.6);
    EXPECT_EQ(desk.design().band.right.width, 0.4);
}

TEST(JobCard, AChannelIsCutFilledAndTakenAway) {
    design::Design plain;
    Headless desk(plain);
    desk.click("add-channel");
    ASSERT_EQ(desk.design().channels.size(), 1U);
    EXPECT_TRUE(desk.design().channels[0].fill.has_value());
    desk.click("channels[0].fill");
    EXPECT_FALSE(desk.design().channels[0].fill.has_value());
    desk.enter("channels[0].depth", "0.7");
    EXPECT_EQ(desk.design().channels[0].depth, 0.7);
    desk.click("channels[0]#take-away");
    EXPECT_EQ(desk.design(), plain);
}

TEST(JobCard, AStoneIsSetAndTubeAndHoleFollowItsSize) {
    design::Design plain;
    plain.band.width = 9;
    Headless desk(plain);
    desk.click("add-setting");
    ASSERT_EQ(desk.design().settings.size(), 1U);
    EXPECT_EQ(desk.bench().session().derived().report.verdict, check::Verdict::Go);
    desk.enter("settings[0].stone.diameter", "3.5");
    const design::Setting setting = desk.design().settings[0];
    EXPECT_EQ(setting.stone->diameter, 3.5);
    // Workshop texts: the seat is as wide as the stone, the tube at least 0.5 mm wider outside and narrower
    // inside. Our own choice: 0.02 mm so that the stone drops in.
    EXPECT_EQ(setting.tube->seatDiameter, 3.52);
    EXPECT_GE(setting.tube->outerDiameter, 4.0);
    EXPECT_LE(setting.tube->innerDiameter, 3.0);
    EXPECT_GT(setting.hole.steps.at(0).diameter, setting.tube->outerDiameter);
    EXPECT_EQ(desk.bench().session().derived().report.verdict, check::Verdict::Go);
    desk.enter("settings[0].tube.outer-diameter", "4.2");
    EXPECT_EQ(desk.design().settings[0].hole.steps.at(0).diameter, 4.23);
    desk.enter("settings[0].stone.diameter", "3.3");  // what is the maker's own is as much smaller
    EXPECT_EQ(desk.design().settings[0].tube->outerDiameter, 4.0);
    EXPECT_EQ(desk.design().settings[0].hole.steps.at(0).diameter, 4.03);
    for (int i = 0; i < 4; ++i)
        desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), plain);
}

TEST(JobCard, AnotherFillerBringsItsOwnGrains) {
    Headless desk(harbour());
    desk.click("channels[0].fill.filler");
    desk.click("channels[0].fill.filler=glow-powder");
    EXPECT_EQ(desk.design().channels[0].fill->grainMost, 0.15);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
}

TEST(JobCard, WhereNothingThatIsAddedIsGoItIsSaid) {
    design::Design narrow;
    narrow.band.width = 2;
    Headless desk(narrow);
    desk.click("add-setting");
    EXPECT_EQ(desk.design().settings.size(), 1U);
    EXPECT_NE(desk.bench().session().derived().report.verdict, check::Verdict::Go);
    EXPECT_EQ(desk.bench().jobCard().addedInVain(), "add-setting");
    desk.enter("band.width", "3");
    EXPECT_EQ(desk.bench().jobCard().addedInVain(), "");
}

/// Designs that together make every field of the table meaningful.
std::vector<design::Design> designsOfEveryMeaning() {
    std::vector<design::Design> designs;
    for (const design::Word<design::StoneCut>& cut : design::kStoneCuts) {
        design::Design design = harbour();
        design.settings.resize(1);
        design.settings[0].stone.emplace().cut = cut.value;
        designs.push_back(design);
    }
    design::Design& listed = designs[0];
    listed.settings[0].placement.angles = {0, 90, 200};
    listed.settings[0].hole.bottom = design::HoleBottom::Flat;
    listed.settings[0].hole.pilotDepth = 1.8;
    listed.band.liner = design::Liner{.metal = "silver-fine", .thickness = 0.5};
    listed.band.outside = {design::OutsideShape::Domed, 0.1};
    design::Design& layered = designs[1];
    for (const trade::Metal& metal : trade::builtInCatalogue().metals)
        if (trade::isPatternWelded(metal)) layered.band.metal = metal.id;
    layered.band.surface.treatment = design::Treatment::None;
    design::Design& anodised = designs[2];
    anodised.band.metal = "titanium-grade-5";
    anodised.band.surface.treatment = design::Treatment::Anodised;
    anodised.band.right.width = 0.5;
    anodised.settings.clear();
    anodised.channels[0].width = 1;
    anodised.channels.push_back(anodised.channels[0]);
    anodised.channels[1].offset = 2;
    designs[4].settings[0].placement.count = 3;
    designs[4].done = {{design::Stage::Bored, "Bore to 19.15 mm", "2026-11-28"}};
    designs[4].measured = {{design::Stage::Bored, design::Measurable::Bore, 1, 0, "", ""},
                           {design::Stage::Channelled, design::Measurable::ChannelDepth, 1, 0, "", ""}};
    designs[5].settings[0].tube->join = design::Join::Solder;
    designs[6].band.metal = "walnut";
    design::Design& bare = designs[3];
    bare.settings.clear();
    bare.channels.clear();
    return designs;
}

/// Whether a field means anything, where this does not depend on the metal alone.
bool isOfTheMetal(const design::Field& field, const design::Design& design) {
    const trade::Metal& metal = *trade::builtInCatalogue().metal(design.band.metal);
    if (field.path == "band.grain") return metal.substance == trade::Substance::Wood;
    if (field.within == "band.layers") return trade::isPatternWelded(metal);
    if (field.path == "band.finish.treatment")
        return design::takes(metal, design::Treatment::Anodised) ||
               design::takes(metal, design::Treatment::Blackened);
    return true;
}

// A field that is added only to the table must still be drawn on the card.
TEST(JobCard, HasARowForEveryFieldThatMeansSomething) {
    std::set<std::string> seen;
    for (const design::Design& design : designsOfEveryMeaning()) {
        Headless desk(design);
        ASSERT_EQ(desk.design(), design);
        const bool edgesAlike = design.band.left == design.band.right;
        for (const design::Field& field : design::fieldsIn(design)) {
            const bool isFilled = std::ranges::any_of(
                design.channels, [](const design::Channel& channel) { return channel.fill.has_value(); });
            const bool isHidden = !field.counts || !isOfTheMetal(field, design) ||
                                  (field.path == "allowances.fill" && !isFilled) ||
                                  (edgesAlike && field.owner == design::FieldOwner::RightEdge) ||
                                  field.control == design::Control::Order;
            const auto& places = desk.fields().places();
            auto place = places.lower_bound(field.path);  // of choices, that of the first
            if (place != places.end() && place->first == field.path + "#lock") ++place;
            const bool isShown = place != places.end() &&
                                 (place->first == field.path || place->first.starts_with(field.path + "="));
            EXPECT_EQ(isShown, !isHidden) << field.path;
            if (isShown) seen.insert(design::withoutPlaces(field.path));
        }
    }
    for (const design::Field& field : design::fieldTable())
        EXPECT_TRUE(seen.contains(field.path) || field.control == design::Control::Order) << field.path;
}

TEST(JobCard, ThePathOfAMisspeltOrderWouldShow) {
    // Each row that the card places by name is in the table; rows that it does not place come last.
    Headless desk(harbour());
    const auto down = [&](const char* key) { return desk.fields().places().at(key)[1]; };
    EXPECT_LT(down("channels[0].depth"), down("channels[0].offset"));
    EXPECT_LT(down("settings[0].tube.seat-diameter"), down("settings[0].tube.inner-diameter"));
    EXPECT_LT(down("settings[0].stone.model"), down("settings[0].stone.cut"));
    EXPECT_LT(down("settings[0].stone.star-length"), down("settings[0].tube.metal"));
}

TEST(JobCard, TheAnglesOfAPlacementCanBeSetOneByOne) {
    design::Design design = harbour();
    design.settings.resize(1);
    design.settings[0].placement.angles = {0, 90, 200};
    Headless desk(design);
    desk.enter("settings[0].placement.angles[1]", "110");
    EXPECT_EQ(desk.design().settings[0].placement.angles, (std::vector<double>{0, 110, 200}));
}

TEST(JobCard, AShareIsSeenAndSetInPercent) {
    Headless desk(harbour());
    desk.enter("channels[0].fill.packing", "55");
    EXPECT_NEAR(desk.design().channels[0].fill->packing, 0.55, 1e-12);
    desk.drag("channels[0].fill.packing#thimble", 8);  // four pixels a step of 1 %
    EXPECT_NEAR(desk.design().channels[0].fill->packing, 0.57, 1e-12);
}

TEST(JobCard, EveryRowOfADesignIsKnownByItsPathInTheFile) {
    Headless desk(harbour());
    for (const std::string key : {"title",
                                  "note",
                                  "finger.size",
                                  "finger.width-correction",
                                  "band.metal",
                                  "band.width",
                                  "band.finish.outside",
                                  "band.finish.edges",
                                  "band.finish.bore",
                                  "band.finish.treatment",
                                  "band.thickness",
                                  "band.bore.rise",
                                  "band.bore.ease",
                                  "band.left.width",
                                  "channels[0].width",
                                  "channels[0].fill.filler",
                                  "channels[0].fill.grain-most",
                                  "settings[0].stone.gem",
                                  "settings[0].tube.height",
                                  "settings[0].hole.steps[0].depth",
                                  "settings[0].placement.count",
                                  "allowances.sizing"}) {
        EXPECT_TRUE(desk.fields().places().contains(key)) << key;
    }
}

TEST(JobCard, AStepOfTheRouteMovesAndCanBeUndone) {
    Headless desk(harbour());
    const auto sizedEarly = [&] {
        return design::isBefore(desk.design().route, design::Stage::Sized, design::Stage::Polished);
    };
    desk.click("route.sized#earlier");
    EXPECT_TRUE(sizedEarly());
    desk.click("route.sized#later");
    EXPECT_FALSE(sizedEarly());
    desk.press(Key::Z, kCtrl);
    EXPECT_TRUE(sizedEarly());
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
}

TEST(JobCard, AStepThatCannotComeEarlierSaysWhy) {
    Headless desk(harbour());
    desk.click("route.filled#earlier");
    EXPECT_TRUE(design::isBefore(desk.design().route, design::Stage::Filled, design::Stage::Drilled));
    const design::Design taken = desk.design();
    desk.click("route.filled#earlier");
    EXPECT_EQ(desk.design(), taken);
    EXPECT_NE(desk.fields().refusal("route.filled").find("a fill needs its channel"), std::string::npos)
        << desk.fields().refusal("route.filled");
}

}  // namespace
}  // namespace bandwright::app
