#include "check/mend.hpp"

#include <gtest/gtest.h>

#include <cstdint>
#include <set>

#include "base/input_error.hpp"
#include "design/field_table.hpp"
#include "design/locks.hpp"
#include "drawn_design.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {
namespace {

/// With a floor, a rim and a hole that are all no-go.
design::Design badRing() {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.channels = {channel(1, 5.6, 2.2)};
    design.settings = {bareHole(-2.2, 1, 3, 1)};
    return design;
}

TEST(Mend, LeavesNoNoGoAndSaysWhatItChanged) {
    const design::Design design = badRing();
    EXPECT_EQ(checked(design).verdict, Verdict::NoGo);
    const Mended mended = mend(design, trade::builtInCatalogue(), usualWishes());
    EXPECT_NE(checked(mended.design).verdict, Verdict::NoGo);
    EXPECT_EQ(mended.report.verdict, checked(mended.design).verdict);
    // The changes it names lead from one design to the other, and nothing else changes.
    design::Design led = design;
    std::set<std::string> fields;
    for (const Mending& m : mended.changes) {
        EXPECT_EQ(*design::numberAt(design, m.change.field), m.change.from) << m.change.field;
        EXPECT_TRUE(fields.insert(m.change.field).second) << m.change.field;
        EXPECT_FALSE(m.label.empty() || m.rule.empty());
        led = changed(led, m.change);
    }
    EXPECT_EQ(led, mended.design);
}

TEST(Mend, ChangesNoMoreThanIsNeeded) {
    const Mended mended = mend(badRing(), trade::builtInCatalogue(), usualWishes());
    for (const Mending& m : mended.changes) {
        design::Design less = mended.design;
        const double grid = m.change.to > m.change.from ? 0.01 : -0.01;
        *design::numberAt(less, m.change.field) -= grid;
        EXPECT_EQ(checked(less).verdict, Verdict::NoGo) << m.change.field;
    }
}

TEST(Mend, NeverTouchesWhatIsLocked) {
    int tried = 0;
    const bool hurried = geometry::inHaste();
    for (std::uint64_t seed = 0; seed < 30 && tried < (hurried ? 1 : 3); ++seed) {
        const auto design = drawn(seed);
        if (!design || takesLongToMend(*design) || checked(*design).verdict != Verdict::NoGo) continue;
        ++tried;
        std::vector<std::string> locked = usualWishes();
        locked.emplace_back("band.thickness");
        const Mended mended = mend(*design, trade::builtInCatalogue(), locked);
        for (const design::DesignNumber& n : design::numbersIn(*design)) {
            for (const std::string& lock : locked) {
                if (!design::covers(lock, n.path)) continue;
                EXPECT_EQ(*design::numberAt(mended.design, n.path), n.value) << n.path;
            }
        }
        EXPECT_EQ(mended.design.finger, design->finger);
    }
    EXPECT_GT(tried, 0);
}

TEST(Mend, AndRemediesChangeNothingThatTheDesignLocks) {
    int tried = 0, remedies = 0;
    const bool isLong = geometry::oneIn(2, 2) == 1;  // with the rings that take seconds each
    for (std::uint64_t seed = 0; tried < (isLong ? 60 : 3); ++seed) {
        const auto ring = drawn(seed);
        if (!ring || (!isLong && (!ring->settings.empty() || ring->channels.size() > 1)) ||
            checked(*ring).verdict != Verdict::NoGo)
            continue;
        ++tried;
        const design::Design design = withLocks(*ring, seed);
        const auto isKept = [&](const std::string& path) { return !design::isLocked(design, path); };
        for (const Finding& finding : check(design, trade::builtInCatalogue()).findings) {
            for (const Remedy& remedy : finding.remedies) {
                ++remedies;
                for (const Change& change : remedy.changes)
                    EXPECT_TRUE(isKept(change.field)) << seed << " " << change.field;
                EXPECT_TRUE(!remedy.exchange || isKept(remedy.exchange->field)) << remedy.text;
                EXPECT_TRUE(!remedy.reorder || isKept("route")) << remedy.text;
                for (const std::string& lock : design.locked)
                    EXPECT_FALSE(remedy.leftOut && design::covers(*remedy.leftOut, lock)) << remedy.text;
            }
        }
        const design::Design mended = mend(design, trade::builtInCatalogue(), {}).design;
        EXPECT_EQ(mended.locked, design.locked);
        EXPECT_TRUE(design::keepsLocked(design, mended)) << seed;
        // By the fields' values as the file has them, without what is under test.
        for (const std::string& lock : design.locked) {
            const double* was = design::numberAt(design, lock);
            if (was == nullptr) continue;
            EXPECT_EQ(*design::numberAt(mended, lock), *was) << seed << " " << lock;
        }
    }
    EXPECT_GT(tried, 0);
    EXPECT_GT(remedies, 0);
}

TEST(Mend, LeavesAGoodRingAlone) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.finger.widthCorrection = 0.4;
    const Mended mended = mend(design, trade::builtInCatalogue(), {});
    EXPECT_TRUE(mended.changes.empty());
    EXPECT_EQ(mended.design, design);
}

/// One stone of 3 mm in a bare seat, in a band so wide.
design::Design oneStone(double width) {
    design::Design design = plainRing();
    design.band.width = width;
    design.settings = {design::Setting{}};
    design.settings[0].tube.reset();
    design.settings[0].stone->diameter = 3;
    return design;
}

// Wang and Welsch, J Prosthet Dent 1995: titanium takes no torch in air. The band's metal was ordered.
TEST(Mend, TakesAnotherJoinWhereNoNumberHelps) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.settings = {design::Setting{}};
    design.settings[0].tube->join = design::Join::Solder;
    ASSERT_EQ(findingOf(checked(design), "solder-metal")->verdict, Verdict::NoGo);
    const Mended mended = mend(design, trade::builtInCatalogue(), usualWishes());
    EXPECT_NE(checked(mended.design).verdict, Verdict::NoGo);
    ASSERT_EQ(mended.exchanges.size(), 1U);
    const Exchange& exchange = mended.exchanges[0].exchange;
    EXPECT_EQ(exchange.field, "settings[0].tube.join");
    EXPECT_EQ(exchange.from, "solder");
    EXPECT_FALSE(mended.exchanges[0].rule.empty());
    EXPECT_NE(mended.design.settings[0].tube->join, design::Join::Solder);
    EXPECT_EQ(mended.design.band.metal, design.band.metal);
}

// REACH Annex XVII entry 63: C360 brass holds more lead than jewellery may.
TEST(Mend, TakesAnotherMetalOnlyWhereItIsFreed) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.band.metal = "brass";
    ASSERT_EQ(findingOf(checked(design), "lead-content")->verdict, Verdict::NoGo);
    const Mended asOrdered = mend(design, trade::builtInCatalogue(), usualWishes());
    EXPECT_EQ(asOrdered.report.verdict, Verdict::NoGo);
    EXPECT_EQ(asOrdered.design.band.metal, "brass");
    std::vector<std::string> wishes = usualWishes();
    EXPECT_EQ(std::erase(wishes, "band.metal"), 1U);
    const Mended freed = mend(design, trade::builtInCatalogue(), wishes);
    EXPECT_NE(freed.report.verdict, Verdict::NoGo);
    ASSERT_EQ(freed.exchanges.size(), 1U);
    EXPECT_EQ(freed.exchanges[0].exchange.field, "band.metal");
    EXPECT_EQ(freed.exchanges[0].exchange.to, freed.design.band.metal);
}

TEST(Hindrances, AreNamedWhereAWishLeavesNoRing) {
    // 3 mm of stone and 0.75 mm on either side of it are 4.5 mm; grade 5 titanium needs 0.75 mm.
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    EXPECT_EQ(hindrances(oneStone(4.49), catalogue, usualWishes()).size(), 1U);
    EXPECT_TRUE(hindrances(oneStone(4.51), catalogue, usualWishes()).empty());
    // What may change hinders nothing.
    EXPECT_TRUE(hindrances(oneStone(4.49), catalogue, {"band.width"}).empty());
    EXPECT_TRUE(hindrances(oneStone(4.49), catalogue, {"settings[#].stone"}).empty());
    const Mended mended = mend(oneStone(4.49), catalogue, usualWishes());
    EXPECT_EQ(mended.report.verdict, Verdict::NoGo);
}

TEST(Hindrances, OfDesignsDrawnByLotAreNeverMended) {
    int hindered = 0;
    const bool hurried = geometry::inHaste();  // mending takes seconds between unlike holes
    for (std::uint64_t seed = 0; seed < 32 && hindered < (hurried ? 1 : 2); ++seed) {
        const auto design = drawn(seed);
        if (!design || (design->settings.size() > 1 && takesLongToMend(*design))) continue;
        if (hindrances(*design, trade::builtInCatalogue(), usualWishes()).empty()) continue;
        ++hindered;
        const Mended mended = mend(*design, trade::builtInCatalogue(), usualWishes());
        EXPECT_EQ(mended.report.verdict, Verdict::NoGo) << seed;
    }
    EXPECT_GT(hindered, hurried ? 0 : 1);
}

TEST(Mend, RefusesALockThatIsNoNumber) {
    EXPECT_THROW(mend(plainRing(), trade::builtInCatalogue(), {"band.wdth"}), base::InputError);
    EXPECT_NO_THROW(mend(plainRing(), trade::builtInCatalogue(), {"settings[#].stone"}));
}

TEST(Paths, AreCoveredByTheirPatterns) {
    EXPECT_TRUE(design::covers("band", "band.width"));
    EXPECT_TRUE(design::covers("channels", "channels[1].depth"));
    EXPECT_TRUE(design::covers("channels[#].depth", "channels[1].depth"));
    EXPECT_TRUE(design::covers("channels[1]", "channels[1].depth"));
    EXPECT_FALSE(design::covers("channels[0]", "channels[1].depth"));
    EXPECT_FALSE(design::covers("band.wid", "band.width"));
    EXPECT_FALSE(design::covers("band.width", "band"));
}

}  // namespace
}  // namespace bandwright::check
