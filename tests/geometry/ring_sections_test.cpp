#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>

#include "arc.hpp"
#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "is_buildable.hpp"
#include "outline.hpp"
#include "random_design.hpp"
#include "section_checks.hpp"

namespace bandwright::geometry {
namespace {

/// Calls visit(design) for the designs drawn by lot that can be built.
void forDesigns(std::uint64_t designs, auto&& visit) {
    std::uint64_t built = 0;
    for (std::uint64_t seed = 0; seed < designs; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        ++built;
        visit(design);
    }
    EXPECT_GE(built, designs * 4 / 10);
    EXPECT_LE(built, designs * 6 / 10);
}

Section outline(const Workpiece& piece) {
    return {bandOutline(piece.band, piece.bore, piece.outside)};
}

Section outline(const design::Design& design) {
    return outline(workpiece(design, design::Stage::Finished));
}

/// A plain band with one channel in the middle.
design::Design channelled() {
    design::Design design;
    design.band.left.shape = design::EdgeShape::Sharp;
    design.band.right.shape = design::EdgeShape::Sharp;
    design.band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
    design.channels = {design::Channel{}};
    return design;
}

bool sameBits(const Section& a, const Section& b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i].size() != b[i].size()) return false;
        for (std::size_t j = 0; j < a[i].size(); ++j) {
            const Segment& s = a[i][j];
            const Segment& t = b[i][j];
            const double left[] = {s.from.z, s.from.r, s.to.z, s.to.r, s.centre.z, s.centre.r, s.radius};
            const double right[] = {t.from.z, t.from.r, t.to.z, t.to.r, t.centre.z, t.centre.r, t.radius};
            if (std::memcmp(left, right, sizeof left) != 0 || s.ccw != t.ccw || !(s.tag == t.tag))
                return false;
        }
    }
    return true;
}

TEST(RingSections, AreSoundForEveryDesignThatCanBeBuilt) {
    forDesigns(designsToDraw(4000), [](const design::Design& design) {
        for (const design::Stage stage : design.route) {
            SCOPED_TRACE(design::name(stage));
            const RingSections ring = sections(design, stage);
            EXPECT_FALSE(ring.band.empty());
            EXPECT_EQ(flaw(ring.band), "");
            EXPECT_EQ(flaw(ring.liner), "");
            ASSERT_EQ(ring.fills.size(), ring.fillChannel.size());
            for (const Section& fill : ring.fills) {
                EXPECT_FALSE(fill.empty());
                EXPECT_EQ(flaw(fill), "");
            }
        }
    });
}

TEST(RingSections, AreSoundWhereTheyOnceWereNot) {
    // A crown that ends with the ease, a corner that slides along what it touches, a rise of a hundredth of a
    // micrometre, a hollow half circle that ends in the edge faces.
    for (const std::uint64_t seed : {47996U, 166581U, 192028U, 731416U, 897705U}) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        design::Design design = randomDesign(seed);
        design.band.liner.reset();
        ASSERT_NO_THROW(requireBuildable(design));
        const RingSections ring = sections(design);
        EXPECT_EQ(flaw(ring.band), "");
        for (const Section& fill : ring.fills) {
            EXPECT_EQ(flaw(fill), "");
            EXPECT_LT(area(intersect(fill, ring.band)), 5e-4);
        }
    }
}

TEST(RingSections, FillsLieBesideTheBandAndBesideEachOther) {
    forDesigns(designsToDraw(3000), [](const design::Design& design) {
        const RingSections ring = sections(design);
        EXPECT_LT(area(intersect(ring.band, ring.liner)), 5e-4);
        for (std::size_t i = 0; i < ring.fills.size(); ++i) {
            EXPECT_LT(area(intersect(ring.band, ring.fills[i])), 5e-4);
            EXPECT_LT(area(intersect(ring.liner, ring.fills[i])), 5e-4);
            for (std::size_t j = 0; j < i; ++j)
                EXPECT_LT(area(intersect(ring.fills[j], ring.fills[i])), 5e-4);
        }
    });
}

TEST(RingSections, FlushFillsMakeTheBandWholeAgain) {
    forDesigns(designsToDraw(5000), [](design::Design design) {
        for (design::Channel& channel : design.channels)
            channel.fill = design::Fill{};
        for (const design::Stage stage : {design::Stage::Trued, design::Stage::Finished}) {
            const Workpiece piece = workpiece(design, stage);
            const RingSections ring = sections(design, piece);
            double whole = area(ring.band) + area(ring.liner);
            for (const Section& fill : ring.fills)
                whole += area(fill);
            EXPECT_NEAR(whole, area(outline(piece)), 1e-4);
        }
    });
}

TEST(RingSections, AreMirroredWhenTheDesignIs) {
    forDesigns(designsToDraw(2500), [](const design::Design& design) {
        const RingSections ring = sections(design);
        const RingSections other = sections(mirrored(design));
        EXPECT_TRUE(sameGround(mirrored(ring.band), other.band, 2e-4));
        EXPECT_TRUE(sameGround(mirrored(ring.liner), other.liner, 2e-4));
        ASSERT_EQ(ring.fills.size(), other.fills.size());
        for (std::size_t i = 0; i < ring.fills.size(); ++i)
            EXPECT_TRUE(sameGround(mirrored(ring.fills[i]), other.fills[i], 2e-4));
    });
}

TEST(RingSections, AreTheSameToTheBitEachTime) {
    forDesigns(designsToDraw(1000), [](const design::Design& design) {
        const RingSections first = sections(design);
        const RingSections second = sections(design);
        EXPECT_TRUE(sameBits(first.band, second.band));
        ASSERT_EQ(first.fills.size(), second.fills.size());
        for (std::size_t i = 0; i < first.fills.size(); ++i)
            EXPECT_TRUE(sameBits(first.fills[i], second.fills[i]));
    });
}

TEST(RingSections, ThroughAHoleAreSoundForEveryDesignThatCanBeBuilt) {
    forDesigns(designsToDraw(5000), [](const design::Design& design) {
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            const SettingSection through = sectionThrough(design, i);
            EXPECT_EQ(flaw(through.band), "");
            EXPECT_EQ(flaw(through.liner), "");
            for (const Section& fill : through.fills)
                EXPECT_EQ(flaw(fill), "");
            EXPECT_EQ(flaw(through.tube), "");
            EXPECT_EQ(flaw(through.stone), "");
            EXPECT_EQ(through.tube.size(), design.settings[i].tube ? 2u : 0u);
            EXPECT_EQ(through.stone.size(), design.settings[i].stone ? 1u : 0u);
        }
    });
}

TEST(RingSections, BeforeSizingTheBoreIsUnderSizeByTheAllowanceAndTheOutsideIsNot) {
    design::Design design = channelled();
    // US sizes step 0.032 in = 0.8128 mm on the diameter (ring size formula published by the Int. Gem
    // Society), so half a size is 0.2032 mm on the radius.
    design.finger.size = {trade::SizeSystem::Us, 9};
    const double whole = design::boreRadius(design);
    design.finger.size = {trade::SizeSystem::Us, 8.5};
    EXPECT_NEAR(whole - design::boreRadius(design), 0.2032, 1e-12);
    design.finger.size = {trade::SizeSystem::Us, 9};
    EXPECT_DOUBLE_EQ(design.allowances.sizing, 0.2032);

    const RingSections before = sections(design, design::Stage::Polished);
    const RingSections finished = sections(design, design::Stage::Finished);
    EXPECT_DOUBLE_EQ(find(finished.band, {Feature::Bore})->from.r, whole);
    EXPECT_DOUBLE_EQ(find(before.band, {Feature::Bore})->from.r, whole - 0.2032);
    for (const Feature feature : {Feature::Outside, Feature::ChannelFloor}) {
        EXPECT_DOUBLE_EQ(find(before.band, {feature, 0})->from.r, find(finished.band, {feature, 0})->from.r);
    }
    EXPECT_NEAR(area(before.band) - area(finished.band), 0.2032 * design.band.width, 1e-9);
}

// By hand: tubes of pi w (R R - r r).
TEST(RingSections, ALinerFillsTheBandToTheBoreAndAloneIsUnderSizeBeforeSizing) {
    design::Design design = channelled();
    design.channels.clear();
    design.band.liner = design::Liner{.thickness = 0.5};
    const double bore = design::boreRadius(design);
    const double joint = bore + 0.5;
    const double outside = bore + design.band.thickness;
    const auto tube = [&](double out, double in) {
        return std::numbers::pi * design.band.width * (out * out - in * in);
    };
    const RingSections finished = sections(design);
    EXPECT_NEAR(properties(finished.band).volume, tube(outside, joint), 1e-9);
    EXPECT_NEAR(properties(finished.liner).volume, tube(joint, bore), 1e-9);
    const RingSections before = sections(design, design::Stage::Polished);
    EXPECT_NEAR(properties(before.band).volume, tube(outside, joint), 1e-9);
    EXPECT_NEAR(properties(before.liner).volume, tube(joint, bore - design.allowances.sizing), 1e-9);
    EXPECT_EQ(find(finished.band, {Feature::Bore}), nullptr);
    EXPECT_DOUBLE_EQ(find(finished.liner, {Feature::Bore})->from.r, bore);
}

/// The outermost places of the section's inside that lie within `depth` of its narrowest, by walking along
/// it.
std::array<double, 2> narrowByWalking(const Section& band, double depth) {
    std::vector<Vec2> places;
    for (const Loop& loop : band) {
        for (const Segment& s : loop) {
            if (regionOf(s.tag.feature) != Region::Bore) continue;
            for (int i = 0; i <= 20000; ++i)
                places.push_back(pointAt(s, i / 20000.0));
        }
    }
    double least = places.front().r;
    for (const Vec2 p : places)
        least = std::min(least, p.r);
    std::array<double, 2> ends{HUGE_VAL, -HUGE_VAL};
    for (const Vec2 p : places) {
        if (p.r > least + depth) continue;
        ends = {std::min(ends[0], p.z), std::max(ends[1], p.z)};
    }
    return ends;
}

TEST(RingSections, TheNarrowBoreIsWhatAWalkAlongTheSectionFinds) {
    constexpr double kDepth = 0.02;
    std::size_t looked = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(300); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        const RingSections plain = sections(design);
        if (!plain.liner.empty()) continue;
        const auto found = narrowBore(plain, kDepth);
        if (!found) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        const auto [left, right] = narrowByWalking(plain.band, kDepth);
        EXPECT_NEAR(found->left.z, left, 2e-3);
        EXPECT_NEAR(found->right.z, right, 2e-3);
        EXPECT_LE(found->left.z, left + 1e-9);
        EXPECT_GE(found->right.z, right - 1e-9);
        ++looked;
    }
    EXPECT_GT(looked, designsToDraw(300) / 8);
}

TEST(RingSections, TheOutsideLeansAsItFallsFromOnePlaceToTheNext) {
    constexpr double kStep = 1e-5;
    for (std::uint64_t seed = 0; seed < designsToDraw(300); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        for (const double share : {-0.45, -0.2, 0.1, 0.4}) {
            const double z = share * design.band.width;
            const double rise = outsideAt(design, z + kStep) - outsideAt(design, z - kStep);
            EXPECT_NEAR(outsideLeanAt(design, z), std::abs(std::atan(rise / (2 * kStep))), 1e-5);
        }
    }
}

TEST(RingSections, ALinerTakesTheShapeOfTheBore) {
    design::Design design = channelled();
    design.band.bore = {};
    const RingSections bare = sections(design);
    design.band.liner = design::Liner{.thickness = 0.7};
    const RingSections lined = sections(design);
    for (const Tag tag :
         {Tag{Feature::BoreCrown}, Tag{Feature::Ease, Side::Left}, Tag{Feature::Ease, Side::Right}}) {
        EXPECT_EQ(find(lined.band, tag), nullptr);
        EXPECT_EQ(find(lined.liner, tag)->from, find(bare.band, tag)->from);
        EXPECT_EQ(find(lined.liner, tag)->radius, find(bare.band, tag)->radius);
    }
    EXPECT_NEAR(area(lined.band) + area(lined.liner), area(bare.band), 1e-9);
}

TEST(RingSections, ARectangularChannelTakesAndItsFillGivesBackWidthTimesDepth) {
    design::Design design = channelled();
    const double whole = design.band.width * design.band.thickness;
    const RingSections flush = sections(design);
    EXPECT_NEAR(area(flush.band), whole - 4 * 1, 1e-9);
    ASSERT_EQ(flush.fills.size(), 1u);
    EXPECT_NEAR(area(flush.fills[0]), 4 * 1, 1e-4);

    design.channels[0].fill->proud = 0.25;
    EXPECT_NEAR(area(sections(design).fills[0]), 4 * 1.25, 1e-4);
    design.channels[0].fill->proud = -0.25;
    EXPECT_NEAR(area(sections(design).fills[0]), 4 * 0.75, 1e-4);
    design.channels[0].fill->proud = -1;
    EXPECT_TRUE(sections(design).fills.empty()) << "sunk to the floor, there is no fill";
    design.channels[0].fill.reset();
    EXPECT_TRUE(sections(design).fills.empty());
}

TEST(RingSections, AnUndercutChannelIsATrapezoidWiderAtItsFloor) {
    design::Design design = channelled();
    design.channels[0].draft = -10;
    const double wider = 1 * std::tan(10 * M_PI / 180);
    const RingSections ring = sections(design);
    EXPECT_NEAR(area(ring.fills[0]), (4 + 4 + 2 * wider) / 2, 1e-4);
    const Segment* floor = find(ring.band, {Feature::ChannelFloor, 0});
    EXPECT_NEAR(arcLength(*floor), 4 + 2 * wider, 1e-5);
    design.channels[0].draft = 10;
    EXPECT_NEAR(area(sections(design).fills[0]), (4 + 4 - 2 * wider) / 2, 1e-4);
}

TEST(RingSections, AFullyRoundFloorTakesTheCornersOfItsSquares) {
    design::Design design = channelled();
    design.channels[0].width = 1.6;
    design.channels[0].floorRadius = 0.8;
    const double corners = (4 - M_PI) / 2 * 0.8 * 0.8;  // two of a square of side r less its quarter circle
    EXPECT_NO_THROW(requireBuildable(design));
    EXPECT_NEAR(area(sections(design).fills[0]), 1.6 - corners, 1e-4);
    EXPECT_EQ(find(sections(design).band, {Feature::ChannelFloor, 0}), nullptr);
}

TEST(RingSections, ALaterChannelIsCutThroughTheFillOfAnEarlierOne) {
    design::Design design = channelled();
    design.channels.push_back({.offset = 0, .width = 1, .depth = 1.5});
    const RingSections ring = sections(design);
    ASSERT_EQ(ring.fills.size(), 2u);
    EXPECT_EQ(ring.fills[0].size(), 2u) << "left and right of the later one";
    EXPECT_NEAR(area(ring.fills[0]), 3, 1e-4);
    EXPECT_NEAR(area(ring.fills[1]), 1.5, 1e-4);
    EXPECT_EQ(ring.fillChannel, (std::vector<std::uint16_t>{0, 1}));
}

TEST(RingSections, AChannelAtAnEdgeLeavesNoRimThereOnEitherSide) {
    for (const double side : {-1.0, 1.0}) {
        design::Design design = channelled();
        design.channels[0].width = 2;
        design.channels[0].offset = side * 3;
        const RingSections ring = sections(design);
        ASSERT_EQ(ring.band.size(), 1u);
        EXPECT_EQ(ring.band[0].size(), 6u);
        EXPECT_NEAR(area(ring.band), 8 * 2.2 - 2, 1e-4);
        ASSERT_EQ(ring.fills.size(), 1u);
        EXPECT_NE(find(ring.fills[0], {Feature::FillTop, 0}), nullptr);
    }
}

TEST(RingSections, AThroughChannelPartsTheBandInTwo) {
    design::Design design = channelled();
    design.channels[0].depth = 3;
    const RingSections ring = sections(design);
    EXPECT_EQ(ring.band.size(), 2u);
    EXPECT_NEAR(area(ring.band), 4 * 2.2, 1e-4);
    EXPECT_NEAR(area(ring.fills[0]), 4 * 2.2, 1e-4);
}

TEST(RingSections, TheOutlineStandsWhereTheDesignSays) {
    forDesigns(designsToDraw(2500), [](const design::Design& design) {
        const Loop band = outline(design).front();
        double least = 1e9;
        double most = -1e9;
        double boreLeast = 1e9;
        double top = 0;
        for (const Segment& s : band) {
            for (int k = 0; k <= 16; ++k) {
                const Vec2 p = pointAt(s, k / 16.0);
                least = std::min(least, p.z);
                most = std::max(most, p.z);
                boreLeast = std::min(boreLeast, p.r);
                top = std::max(top, p.r);
            }
        }
        EXPECT_NEAR(most, design.band.width / 2, 1e-5);
        EXPECT_NEAR(least, -design.band.width / 2, 1e-5);
        EXPECT_NEAR(boreLeast, design::boreRadius(design), 1e-5);
        EXPECT_LE(top, design::outsideRadius(design) + 1e-9);
    });
}

TEST(RingSections, RoundsAndEasesJoinTheirNeighboursWithoutACorner) {
    forDesigns(designsToDraw(2500), [](const design::Design& design) {
        const Loop band = outline(design).front();
        for (std::size_t i = 0; i < band.size(); ++i) {
            const Segment& s = band[i];
            const Segment& next = band[(i + 1) % band.size()];
            const auto isRound = [](const Segment& t) {
                return t.tag.feature == Feature::EdgeRound || t.tag.feature == Feature::Ease;
            };
            if (!isRound(s) && !isRound(next)) continue;
            // Two edges that meet on the outside meet in a corner.
            const auto isEdge = [](const Segment& t) {
                return t.tag.feature == Feature::EdgeRound || t.tag.feature == Feature::Bevel;
            };
            if (isEdge(s) && isEdge(next)) continue;
            // A straight bore's crown may end within the ease; there the corner is the crown's own.
            if (design.band.bore.flat > 0 &&
                (s.tag.feature == Feature::Bore || next.tag.feature == Feature::Bore))
                continue;
            if (arcLength(s) < 1e-3 || arcLength(next) < 1e-3) continue;
            EXPECT_NEAR(cross(tangentAt(s, 1), tangentAt(next, 0)), 0, 1e-3)
                << name(s.tag.feature) << " to " << name(next.tag.feature);
        }
    });
}

}  // namespace
}  // namespace bandwright::geometry
