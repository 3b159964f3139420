#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "geometry/tolerance.hpp"
#include "is_buildable.hpp"
#include "outline.hpp"
#include "random_design.hpp"
#include "section_checks.hpp"
#include "setting.hpp"

namespace bandwright::geometry {
namespace {

Section box(double left, double bottom, double right, double top, Feature feature = Feature::Bore) {
    const Tag tag{feature};
    return {{line({left, bottom}, {right, bottom}, tag), line({right, bottom}, {right, top}, tag),
             line({right, top}, {left, top}, tag), line({left, top}, {left, bottom}, tag)}};
}

/// Calls visit(band outline, tool) for channels' cutters, holes and outlines of other designs, drawn by lot.
void forCuts(std::uint64_t designs, auto&& visit) {
    Section before = box(-3, 8, 3, 11);
    for (std::uint64_t seed = 0; seed < designs; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        const Section band = {
            bandOutline(design.band, design::boreRadius(design), design::outsideRadius(design))};
        for (std::size_t i = 0; i < design.channels.size(); ++i)
            visit(band, channelCutter(design, i));
        for (std::size_t i = 0; i < design.settings.size(); ++i)
            visit(band, meridian(settingHole(design, i)));
        visit(band, before);
        before = band;
    }
}

/// Whether every segment lies, within a few nanometres, on one of either section with the same tag.
bool keepsTags(const Section& result, const Section& a, const Section& b) {
    const auto liesOn = [](const Segment& s, const Section& section) {
        return std::any_of(section.begin(), section.end(), [&](const Loop& loop) {
            return std::any_of(loop.begin(), loop.end(), [&](const Segment& other) {
                return other.tag == s.tag &&
                       distance(pointAt(s, 0.5), nearestOn(other, pointAt(s, 0.5))) < 1e-4;
            });
        });
    };
    return std::all_of(result.begin(), result.end(), [&](const Loop& loop) {
        return std::all_of(loop.begin(), loop.end(),
                           [&](const Segment& s) { return liesOn(s, a) || liesOn(s, b); });
    });
}

TEST(SectionBoolean, LensOfTwoCirclesHasThePublishedArea) {
    // Weisstein, "Circle-Circle Intersection", MathWorld, equation 14.
    const double r = 2;
    const double s = 3;
    for (const double d : {1.5, 2.0, 3.0, 4.5, 4.999}) {
        const double u = (d * d + r * r - s * s) / (2 * d * r);
        const double v = (d * d + s * s - r * r) / (2 * d * s);
        const double root = std::sqrt((-d + r + s) * (d + r - s) * (d - r + s) * (d + r + s));
        const double lens = r * r * std::acos(u) + s * s * std::acos(v) - root / 2;
        const Section a = disc({0, 10}, r);
        const Section b = disc({d * 0.6, 10 + d * 0.8}, s);
        EXPECT_NEAR(area(intersect(a, b)), lens, 1e-9);
        EXPECT_NEAR(area(subtract(a, b)), kPi * r * r - lens, 1e-9);
        EXPECT_NEAR(area(subtract(b, a)), kPi * s * s - lens, 1e-9);
    }
}

TEST(SectionBoolean, OutlinesApartAndInsideEachOtherStayWhole) {
    const Section large = box(-3, 8, 3, 12);
    const Section small = disc({0, 10}, 1);
    const Section far = disc({20, 10}, 1);
    EXPECT_EQ(subtract(large, far).size(), 1u);
    EXPECT_TRUE(intersect(large, far).empty());
    EXPECT_TRUE(subtract(small, large).empty());
    const Section pierced = subtract(large, small);
    EXPECT_EQ(pierced.size(), 2u);
    EXPECT_EQ(flaw(pierced), "");
    EXPECT_NEAR(area(pierced), 24 - kPi, 1e-12);
    EXPECT_FALSE(contains(pierced, {0, 10}));
    EXPECT_TRUE(contains(pierced, {2, 10}));
    EXPECT_NEAR(area(subtract(pierced, box(-5, 5, 5, 10))), 12 - kPi / 2, 1e-4);
}

TEST(SectionBoolean, AToolAsWideAsTheWorkLeavesNoFilm) {
    const Section work = box(-3, 8, 3, 12);
    EXPECT_TRUE(subtract(work, work).empty());
    EXPECT_NEAR(area(intersect(work, work)), 24, 1e-4);
    for (const Section& tool :
         {box(-3, 10, 3, 12), box(-3, 10, 3, 14), box(-3, 10, 5, 12), box(-5, 10, 3, 12)}) {
        const Section left = subtract(work, tool);
        EXPECT_EQ(left.size(), 1u);
        EXPECT_EQ(flaw(left), "");
        EXPECT_EQ(left.front().size(), 4u);
        EXPECT_NEAR(area(left), 12, 1e-4);
    }
    // The same at both edges.
    const Section right = subtract(work, box(1, 10, 3, 13));
    const Section left = subtract(work, box(-3, 10, -1, 13));
    EXPECT_EQ(right.front().size(), 6u);
    EXPECT_TRUE(sameGround(mirrored(right), left, 1e-9));
}

TEST(SectionBoolean, ToolsThatTouchFromOutsideTakeNothing) {
    const Section work = box(-3, 8, 3, 12);
    for (const Section& tool : {box(3, 9, 5, 11), box(-5, 9, -3, 11), box(-1, 12, 1, 13), box(3, 12, 4, 13),
                                disc({5, 10}, 2), disc({0, 14}, 2), disc({-4, 7}, std::sqrt(2))}) {
        const Section left = subtract(work, tool);
        EXPECT_EQ(flaw(left), "");
        EXPECT_NEAR(area(left), 24, 1e-4);
        EXPECT_LT(area(intersect(work, tool)), 1e-4);
    }
}

TEST(SectionBoolean, ToolsThatTouchFromInsideLeaveSoundOutlines) {
    const Section work = box(-3, 8, 3, 12);
    for (const Section& tool : {disc({0, 10}, 2), disc({1, 10}, 2), disc({0, 9}, 1), box(-3, 9, -2, 10)}) {
        const Section left = subtract(work, tool);
        EXPECT_EQ(flaw(left), "");
        EXPECT_NEAR(area(left), 24 - area(tool), 1e-4);
    }
}

/// A body with round bumps that a box below it just touches: one bump at each of the sizes tried for the box.
Section bumpsFor(int tries) {
    constexpr double kRadius = 0.005, kOver = 1e-7, kBase = -1;
    Loop loop;
    const auto lineTo = [&loop](Vec2 from, Vec2 to) {
        loop.push_back(line(from, to, {Feature::Outside, 0}));
    };
    Vec2 last{0.5, kBase};
    for (int i = 0; i < tries; ++i) {
        // As section_boolean.cpp grows a tool and moves it aside.
        const double nudge = sectionNudge(i), aside = i % 2 == 0 ? 0.35 * nudge : 0;
        const double top = nudge + aside * std::sin(2.4 * i) + kOver, z = 1 + i;
        const Vec2 left{z - kRadius, top - kRadius}, right{z + kRadius, top - kRadius};
        lineTo(last, left);
        loop.push_back(arcBySagitta(left, right, -kRadius, {Feature::Outside, 0}));
        last = right;
    }
    const double end = tries + 1;
    lineTo(last, {end, kBase});
    lineTo({end, kBase}, {end, kBase - 1});
    lineTo({end, kBase - 1}, {0.5, kBase - 1});
    lineTo({0.5, kBase - 1}, {0.5, kBase});
    std::ranges::reverse(loop);
    for (Segment& s : loop)
        s = reversed(s);
    return {loop};
}

TEST(SectionBoolean, WhatCannotBeToldApartIsRefusedAsARingThatCannotBeMade) {
    const Section below = box(-10, -10, 30, 0);
    EXPECT_NO_THROW(subtract(bumpsFor(kMostNudges - 1), below));
    // Only this kind of error: a search for a remedy skips a ring that cannot be made and goes on.
    EXPECT_THROW(subtract(bumpsFor(kMostNudges), below), base::InputError);
}

TEST(SectionBoolean, WhatIsTakenAndWhatIsLeftAddUp) {
    forCuts(designsToDraw(2500), [](const Section& a, const Section& b) {
        const Section left = subtract(a, b);
        const Section taken = intersect(a, b);
        EXPECT_NEAR(area(left) + area(taken), area(a), 1e-5);
        EXPECT_EQ(flaw(left), "");
        EXPECT_EQ(flaw(taken), "");
        EXPECT_TRUE(keepsTags(left, a, b));
        EXPECT_TRUE(keepsTags(taken, a, b));
    });
}

TEST(SectionBoolean, IntersectionIsTheSameEitherWayRound) {
    forCuts(designsToDraw(2000), [](const Section& a, const Section& b) {
        EXPECT_TRUE(sameGround(intersect(a, b), intersect(b, a), 5e-4));
    });
}

TEST(SectionBoolean, PointsAreInsideTheResultAsInsideBoth) {
    forCuts(designsToDraw(1000), [](const Section& a, const Section& b) {
        const Section left = subtract(a, b);
        const Section taken = intersect(a, b);
        for (int i = 0; i < 20; ++i) {
            for (int j = 0; j < 20; ++j) {
                const Vec2 p{-7.03 + 0.711 * i, 5.07 + 0.613 * j};
                const auto off = [&](const Section& section) {
                    for (const Loop& loop : section) {
                        for (const Segment& s : loop) {
                            if (distance(p, nearestOn(s, p)) < 1e-4) return false;
                        }
                    }
                    return true;
                };
                if (!off(a) || !off(b)) continue;
                EXPECT_EQ(contains(left, p), contains(a, p) && !contains(b, p));
                EXPECT_EQ(contains(taken, p), contains(a, p) && contains(b, p));
            }
        }
    });
}

}  // namespace
}  // namespace bandwright::geometry
