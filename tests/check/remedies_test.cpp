#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cases.hpp"
#include "design/design_file.hpp"
#include "design/measured.hpp"
#include "drawn_design.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {
namespace {

/// The finding of a rule at the place of a measure.
const Finding* findingOf(const Report& report, const std::string& rule, const std::string& measure) {
    for (const Finding& f : report.findings)
        if (f.rule == rule && report.measures[f.measure].id == measure) return &f;
    return nullptr;
}

long countOf(const Report& report, const std::string& rule, Verdict least) {
    return std::ranges::count_if(report.findings,
                                 [&](const Finding& f) { return f.rule == rule && f.verdict >= least; });
}

/// With a part left out those after it have other numbers; so by rule.
void expectMendsByRule(const Report& before, const Report& after, const Finding& f, const Remedy& remedy) {
    EXPECT_LT(countOf(after, f.rule, f.verdict), countOf(before, f.rule, f.verdict)) << remedy.text;
    for (const Finding& then : after.findings) {
        // How far a ring can be opened is told where it can be made.
        if (then.rule == "resize-room" && before.verdict == Verdict::NoGo) continue;
        for (const Verdict least : {Verdict::Marginal, Verdict::NoGo})
            EXPECT_LE(countOf(after, then.rule, least), countOf(before, then.rule, least))
                << remedy.text << ' ' << then.rule;
    }
}

bool ofFewerHoles(const Remedy& remedy) {
    return std::ranges::any_of(remedy.changes,
                               [](const Change& c) { return c.field.ends_with("placement.count"); });
}

/// Whether a remedy, carried out and checked anew, mends what it is for and makes nothing worse.
void expectMends(const design::Design& design, const Report& before, const Finding& f, const Remedy& remedy) {
    const Report after =
        check(carriedOut(design, remedy), trade::builtInCatalogue(), {.remedies = false, .resizing = true});
    EXPECT_FALSE(remedy.text.empty() || remedy.effect.empty());
    if (remedy.leftOut) return expectMendsByRule(before, after, f, remedy);
    const Finding* now = findingOf(after, f.rule, before.measures[f.measure].id);
    if (now == nullptr) {
        EXPECT_TRUE(remedy.reorder || remedy.exchange || ofFewerHoles(remedy)) << remedy.text;
    } else {
        EXPECT_LT(now->verdict, f.verdict) << remedy.text;
    }
    for (const Finding& then : after.findings) {
        const Finding* other = findingOf(before, then.rule, after.measures[then.measure].id);
        EXPECT_LE(then.verdict, other == nullptr ? Verdict::Go : other->verdict)
            << remedy.text << ' ' << then.rule;
    }
}

std::size_t eachCase() {
    return geometry::oneIn(40, 2);
}

TEST(Remedies, MendWhatTheyAreForAndSpoilNothingElse) {
    int mended = 0;
    int bad = 0;
    int choices = 0;
    const std::vector<Case> all = cases();
    for (std::size_t i = 0; i < all.size(); i += eachCase()) {
        const Case& c = all[i];
        const design::Design design = c.with(c.limit - (c.most ? -0.03 : 0.03));
        SCOPED_TRACE(c.rule);
        const Report before = check(design, trade::builtInCatalogue());
        for (const Finding& f : before.findings) {
            EXPECT_EQ(f.remedy.empty(), f.verdict == Verdict::Go) << f.rule;
            EXPECT_LE(f.remedies.size(), 3U) << f.rule;
            bad += f.verdict != Verdict::Go ? 1 : 0;
            mended += f.remedies.empty() ? 0 : 1;
            choices += f.remedies.size() > 1 ? 1 : 0;
            for (const Remedy& remedy : f.remedies)
                expectMends(design, before, f, remedy);
        }
    }
    EXPECT_GT(mended, (geometry::inHaste() ? 0.5 : 0.9) * bad);  // a share of few is not steady
    EXPECT_GT(choices, (geometry::inHaste() ? 0.1 : 0.3) * bad);
}

TEST(Remedies, OfDesignsDrawnByLotMendAndSpoilNothingElse) {
    int remedies = 0;
    const bool hurried = geometry::inHaste();
    for (std::uint64_t seed = 0; seed < 8; ++seed) {
        const auto design = drawn(seed);
        if (!design || takesLongToMend(*design)) continue;
        const Report before = check(*design, trade::builtInCatalogue());
        for (const Finding& f : before.findings) {
            for (const Remedy& remedy : f.remedies) {
                expectMends(*design, before, f, remedy);
                ++remedies;
            }
        }
    }
    EXPECT_GT(remedies, hurried ? 5 : 20);
}

TEST(Remedies, AreTheSmallestInHundredthsTheLeastSeenFirst) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.band.thickness = 2.2;
    design.channels = {channel(0, 4, 1.8)};
    const Report report = check(design, trade::builtInCatalogue());
    const Finding& f = *findingOf(report, "floor-wall", "floor-wall");
    ASSERT_GE(f.remedies.size(), 2U);
    // The floor is 0.4 mm and should be 0.6: the channel 0.2 mm less deep, or the band 0.2 mm thicker.
    const Change& first = f.remedies[0].changes.at(0);
    EXPECT_EQ(first.field, "channels[0].depth");
    EXPECT_EQ(first.from, 1.8);
    EXPECT_EQ(first.to, 1.6);
    EXPECT_EQ(f.remedy,
              "Make the depth of the channel 1.6 mm instead of 1.8 mm: the floor under the channel is then "
              "0.6 mm.");
    EXPECT_TRUE(f.remedies[0].effect.starts_with("out of sight; ")) << f.remedies[0].effect;
    EXPECT_TRUE(f.remedies[0].effect.ends_with("; same size")) << f.remedies[0].effect;
    const auto thicker = std::ranges::find_if(
        f.remedies, [](const Remedy& r) { return r.changes.at(0).field == "band.thickness"; });
    ASSERT_NE(thicker, f.remedies.end());
    EXPECT_NEAR(thicker->changes[0].to - thicker->changes[0].from, 0.2, 1e-9);
    EXPECT_NE(thicker->effect.find("0.2 mm thicker"), std::string::npos) << thicker->effect;
    Change less = first;
    less.to = 1.61;
    EXPECT_NE(findingOf(checked(changed(design, less)), "floor-wall", "floor-wall")->verdict, Verdict::Go);
}

TEST(Remedies, SayHowMuchMoreTheRingWeighs) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 2)};
    const Report before = check(design, trade::builtInCatalogue());
    const Finding& f = *findingOf(before, "floor-wall", "floor-wall");
    ASSERT_FALSE(f.remedies.empty());
    // The mass of the fill's or the metal's ring that comes or goes, from the masses of both rings.
    const auto massOf = [](const Report& report) {
        return std::ranges::find(report.measures, "ring-mass", &Measure::id)->value;
    };
    const double by = massOf(checked(carriedOut(design, f.remedies[0]))) - massOf(before);
    EXPECT_NEAR(std::stod(f.remedies[0].effect.substr(14)), std::abs(by), 0.0051) << f.remedies[0].effect;
    EXPECT_NE(f.remedies[0].effect.find(by > 0 ? "heavier" : "lighter"), std::string::npos);
}

TEST(Remedies, OfMaterialAndOfOrderCanBeCarriedOut) {
    // Hard solder flows far above what the adhesive stands: join first, or glue the tube.
    design::Design design = plainRing();
    design.channels = {channel(-2.5, 1, 1)};
    design.settings = {design::Setting{}};
    design.settings[0].hole.steps[0].diameter = 4.56;  // a gap for either
    design.settings[0].tube->join = design::Join::Solder;
    const Report before = check(design, trade::builtInCatalogue());
    bool ordered = false, exchanged = false;
    for (const Finding& f : before.findings) {
        for (const Remedy& remedy : f.remedies) {
            const design::Design mended = carriedOut(design, remedy);
            if (remedy.reorder) {
                EXPECT_NE(mended.route, design.route);
                ordered = true;
            }
            if (remedy.exchange) {
                EXPECT_NE(mended, design) << remedy.text;
                exchanged = true;
            }
        }
    }
    EXPECT_TRUE(ordered);
    EXPECT_TRUE(exchanged);
}

/// A hole in a band so narrow that no hole has its wall there.
design::Design holeInANarrowBand() {
    design::Design design = plainRing();
    design.band.width = 1.2;
    design.settings = {bareHole(0, 0.5, 1, 0.3)};
    return design;
}

TEST(Remedies, WhereThereIsNoneSayWhatWasTried) {
    design::Design design = holeInANarrowBand();
    // Parted already, it becomes no wider, and the reading is not taken off the plan.
    design.measured = {{design::Stage::Parted, design::Measurable::Width, 1, design.band.width, "", ""}};
    const Report report = check(design, trade::builtInCatalogue());
    const Finding& f = *findingOf(report, "hole-to-edge", "hole-to-edge");
    ASSERT_NE(f.verdict, Verdict::Go);
    EXPECT_TRUE(f.remedies.empty());
    EXPECT_NE(f.remedy.find("tried were"), std::string::npos) << f.remedy;
}

/// Eight holes, each as wide as no other, too near to one another.
design::Design eightDifferentHoles() {
    design::Design design = plainRing();
    for (int i = 0; i < 8; ++i) {
        design.settings.push_back(bareHole(0, 0.5, 1 + 0.02 * i, 0.5));
        design.settings.back().placement.start = 3.8 * i;
    }
    return design;
}

TEST(Remedies, OfManyFindingsAreSharedOutUntilALimitThatIsSaid) {
    const Report report = check(eightDifferentHoles(), trade::builtInCatalogue());
    std::size_t bad = 0, mended = 0;
    for (const Finding& f : report.findings) {
        if (f.verdict == Verdict::Go) continue;
        ++bad;
        mended += f.remedies.empty() ? 0 : 1;
        if (!f.remedies.empty()) continue;
        EXPECT_NE(f.remedy.find("the search ended after"), std::string::npos) << f.remedy;
    }
    EXPECT_GE(bad, 8U);
    EXPECT_GE(2 * mended, bad);
}

TEST(Remedies, TurnTwoNumbersWhereTwoPlacesAreThin) {
    // The thinnest wall is either rim, and the band is parted already: no one number mends both.
    design::Design design = plainRing();
    design.channels = {channel(-3.2, 1, 1), channel(3.2, 1, 1)};
    design.measured = {{design::Stage::Parted, design::Measurable::Width, 1, design.band.width, "", ""}};
    const Report before = check(design, trade::builtInCatalogue());
    const Finding* f = findingOf(before, "thinnest-wall", "thinnest-wall");
    ASSERT_NE(f, nullptr);
    ASSERT_NE(f->verdict, Verdict::Go);
    ASSERT_FALSE(f->remedies.empty()) << f->remedy;
    for (const Remedy& remedy : f->remedies) {
        EXPECT_GE(remedy.changes.size(), 2U) << remedy.text;
        expectMends(design, before, *f, remedy);
    }
}

TEST(Remedies, LeaveOutWhatCannotBeHad) {
    // 120 holes have 0.39 mm of the outside each: the thinnest drill leaves no land of 0.4 mm.
    design::Design design = plainRing();
    design.finger.size.value = 10;
    design.settings = {bareHole(0, 0.2, 1, 0.3)};
    design.settings[0].hole.steps.clear();
    for (int i = 0; i < 120; ++i)
        design.settings[0].placement.angles.push_back(3.0 * i);
    const Report before = check(design, trade::builtInCatalogue());
    const Finding* f = findingOf(before, "mouth-to-mouth", "mouth-to-mouth");
    ASSERT_NE(f, nullptr);
    ASSERT_EQ(f->remedies.size(), 1U) << f->remedy;
    EXPECT_EQ(f->remedy, "Leave out the setting: no smaller change was found.");
    EXPECT_EQ(f->remedies[0].leftOut, "settings[0]");
    EXPECT_FALSE(f->remedies[0].keepsOrder);
    expectMends(design, before, *f, f->remedies[0]);
}

/// The remedy that makes fewer holes; nullptr where there is none.
const Remedy* ofFewerHoles(const Finding& finding) {
    const auto found = std::ranges::find_if(
        finding.remedies, [](const Remedy& r) { return r.changes.size() == 1 && ofFewerHoles(r); });
    return found == finding.remedies.end() ? nullptr : &*found;
}

TEST(Remedies, MakeFewerHolesWhereThereIsNoLandForAll) {
    // Thin drills as narrow as they come: 60 holes of 0.9 mm have 1.05 mm each of a bore of 20 mm.
    design::Design design = plainRing();
    design.settings = {bareHole(0, 0.9, 1, 0.3)};
    design.settings[0].hole.steps.clear();
    design.settings[0].placement.count = 60;
    design.settings[0].placement.spacing = 0;
    const Report before = check(design, trade::builtInCatalogue());
    const Finding* f = findingOf(before, "hole-to-hole", "hole-to-hole");
    ASSERT_NE(f, nullptr);
    ASSERT_EQ(f->verdict, Verdict::NoGo);
    const Remedy* remedy = ofFewerHoles(*f);
    ASSERT_NE(remedy, nullptr) << f->remedy;
    expectMends(design, before, *f, *remedy);
    EXPECT_FALSE(remedy->keepsOrder);
    EXPECT_EQ(remedy, &f->remedies.back());  // it changes what was ordered
    EXPECT_TRUE(remedy->text.starts_with("Make the number of holes of the setting ")) << remedy->text;
    // No more are left out than must be, by the land between two cylinders where they leave the bore.
    const auto land = [](double count) { return 2 * 10 * std::sin(std::numbers::pi / count) - 0.9; };
    const double count = remedy->changes[0].to;
    EXPECT_GE(land(count), 0.6 - 0.05);
    EXPECT_LT(land(count + 1), 0.6);
    // What the client asked for stays, and what is drilled.
    design.locked = {"settings[0].placement.count"};
    const Report locked = check(design, trade::builtInCatalogue());
    EXPECT_EQ(ofFewerHoles(*findingOf(locked, "hole-to-hole", "hole-to-hole")), nullptr);
}

TEST(Remedies, MakeOneHoleOfTwoThatHaveNoRoom) {
    // Listed by their spacing, which is settled with the wishes, two holes run into each other.
    design::Design design = plainRing();
    design.settings = {bareHole(0, 0.9, 1, 0.3)};
    design.settings[0].hole.steps.clear();
    design.settings[0].placement.count = 2;
    design.settings[0].placement.spacing = 4;
    design.locked = {"settings[0].placement.spacing", "settings[0].hole.pilot-diameter"};
    const Report before = check(design, trade::builtInCatalogue());
    const Finding* f = findingOf(before, "hole-to-hole", "hole-to-hole");
    ASSERT_NE(f, nullptr);
    const Remedy* remedy = ofFewerHoles(*f);
    ASSERT_NE(remedy, nullptr) << f->remedy;
    EXPECT_EQ(remedy->changes[0].to, 1);
    const Report after = checked(carriedOut(design, *remedy));
    EXPECT_EQ(findingOf(after, "hole-to-hole", "hole-to-hole"), nullptr);
}

TEST(Remedies, RunNoHolesIntoEachOtherForTheLandAtTheOutside) {
    // Closer together than they are wide the holes have no land there at all.
    design::Design design = plainRing();
    design.settings = {bareHole(0, 1, 1.6, 0.3), bareHole(3, 0.5, 1, 0.3)};
    design.settings[0].hole.steps.clear();
    design.settings[0].placement.count = 8;
    design.settings[0].placement.spacing = 6;
    const Report before = check(design, trade::builtInCatalogue());
    const Finding* f = findingOf(before, "mouth-to-mouth", "mouth-to-mouth");
    ASSERT_NE(f, nullptr);
    ASSERT_NE(f->verdict, Verdict::Go);
    ASSERT_FALSE(f->remedies.empty());
    for (const Remedy& remedy : f->remedies)
        for (const Measure& m : checked(carriedOut(design, remedy)).measures)
            EXPECT_TRUE(m.id != "hole-to-hole" || m.value > 0) << remedy.text;
}

TEST(Remedies, LeaveOutTheSettingTheyName) {
    design::Design design = plainRing();
    design.settings = {bareHole(0, 0.5, 1, 0.3), bareHole(1.6, 1.2, 2, 0.5)};
    for (const std::size_t part : {0U, 1U}) {
        Remedy remedy;
        remedy.leftOut = "settings[" + std::to_string(part) + "]";
        const design::Design left = carriedOut(design, remedy);
        ASSERT_EQ(left.settings.size(), 1U);
        EXPECT_EQ(left.settings[0], design.settings[1 - part]);
    }
}

/// What is cut already no remedy turns, and what is not cut yet some still do.
TEST(Remedies, LeaveWhatIsCutAlready) {
    std::size_t offered = 0;
    const std::vector<Case> all = cases();
    for (std::size_t i = 0; i < all.size(); i += geometry::oneIn(80, 10)) {
        const Case& c = all[i];
        design::Design design = c.with(c.limit - (c.most ? -0.03 : 0.03));
        design.measured = {{design::Stage::Parted, design::Measurable::Width, 1, design.band.width, "", ""}};
        SCOPED_TRACE(c.rule);
        for (const Finding& f : check(design, trade::builtInCatalogue()).findings) {
            for (const Remedy& remedy : f.remedies) {
                EXPECT_TRUE(design::keepsSettled(design, carriedOut(design, remedy))) << remedy.text;
                ++offered;
            }
        }
    }
    EXPECT_GT(offered, geometry::inHaste() ? 0U : 5U);
}

TEST(Remedies, AreLeftOutWhereTheyAreNotAskedFor) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 2)};
    for (const Finding& f : checked(design).findings)
        EXPECT_TRUE(f.remedy.empty());
}

TEST(Remedies, ChangeNothingWhereThereIsNoSuchNumber) {
    const design::Design design = plainRing();
    EXPECT_EQ(changed(design, {"channels[3].depth", 1, 2}), design);
}

}  // namespace
}  // namespace bandwright::check
