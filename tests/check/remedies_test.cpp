#include <gtest/gtest.h>

#include <cmath>

#include "cases.hpp"
#include "design/design_file.hpp"
#include "plain_ring.hpp"

namespace bandwright::check {
namespace {

/// The finding of a rule at the place of a measure.
const Finding* findingOf(const Report& report, const std::string& rule, const std::string& measure) {
    for (const Finding& f : report.findings)
        if (f.rule == rule && report.measures[f.measure].id == measure) return &f;
    return nullptr;
}

TEST(Remedies, MendWhatTheyAreForAndSpoilNothingElse) {
    int mended = 0;
    int bad = 0;
    for (const Case& c : cases()) {
        const design::Design design = c.with(c.limit - (c.most ? -0.03 : 0.03));
        SCOPED_TRACE(c.rule);
        const Report before = check(design, trade::builtInCatalogue());
        for (const Finding& f : before.findings) {
            EXPECT_EQ(f.remedy.empty(), f.verdict == Verdict::Go) << f.rule;
            bad += f.verdict != Verdict::Go ? 1 : 0;
            if (!f.change) continue;
            ++mended;
            const Report after = checked(changed(design, *f.change));
            const Finding* now = findingOf(after, f.rule, before.measures[f.measure].id);
            ASSERT_NE(now, nullptr) << f.rule;
            EXPECT_LT(now->verdict, f.verdict) << f.remedy;
            for (const Finding& other : before.findings) {
                const Finding* then = findingOf(after, other.rule, before.measures[other.measure].id);
                if (then == nullptr) continue;
                EXPECT_LE(then->verdict, other.verdict) << f.remedy << ' ' << other.rule;
            }
        }
    }
    EXPECT_GT(mended, 0.8 * bad);
}

TEST(Remedies, AreTheSmallestInHundredths) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    design.channels = {channel(0, 4, 2)};
    const Report report = check(design, trade::builtInCatalogue());
    const Finding& f = *findingOf(report, "floor-wall", "floor-wall");
    ASSERT_TRUE(f.change.has_value());
    EXPECT_EQ(f.change->field, "channels[0].depth");
    EXPECT_EQ(f.change->from, 2);
    EXPECT_EQ(f.change->to, 1.8);
    EXPECT_EQ(
        f.remedy,
        "Make the depth of the channel 1.8 mm instead of 2 mm: floor under the channel is then 0.6 mm.");
    Change less = *f.change;
    less.to = 1.81;
    EXPECT_NE(findingOf(checked(changed(design, less)), "floor-wall", "floor-wall")->verdict, Verdict::Go);
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
