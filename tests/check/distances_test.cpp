#include <gtest/gtest.h>

#include <functional>
#include <ostream>

#include "geometry/ring.hpp"
#include "occt_solid.hpp"
#include "plain_ring.hpp"

/// Walls against OpenCASCADE's extrema between true surfaces in space: its solids are revolved, drilled by
/// solid tools and measured without our sections' distances and without the plane through the hole.
namespace bandwright::check {
namespace {

constexpr double kMicrometre = 1e-3;

std::vector<geometry::Segment> segmentsOf(const geometry::Section& section,
                                          const std::function<bool(geometry::Tag)>& wanted) {
    std::vector<geometry::Segment> result;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& s : loop) {
            if (wanted(s.tag)) result.push_back(s);
        }
    }
    return result;
}

bool isOfTheBore(geometry::Tag tag) {
    return tag.feature == geometry::Feature::Bore || tag.feature == geometry::Feature::BoreCrown ||
           tag.feature == geometry::Feature::Ease;
}
bool isOfTheFlank(geometry::Tag tag) {
    return tag.feature == geometry::Feature::EdgeFace || tag.feature == geometry::Feature::Bevel ||
           tag.feature == geometry::Feature::EdgeRound;
}
bool isChannelWall(geometry::Tag tag) {
    return tag.feature == geometry::Feature::ChannelSide || tag.feature == geometry::Feature::ChannelCorner ||
           tag.feature == geometry::Feature::ChannelFloor;
}

/// A ring with something of everything; the hole stands off the middle so that nothing is symmetric.
design::Design curvedRing() {
    design::Design design = plainRing();
    design.band.thickness = 2.6;
    design.band.outside = {design::OutsideShape::Domed, 0.35};
    design.band.bore = {design::BoreShape::Comfort, 0.3, 0, 0.15};
    design.band.left = {design::EdgeShape::Bevel, 1, 35};
    design.band.right = {design::EdgeShape::Round, 0.5, 45};
    return design;
}

struct Ring {
    const char* name;
    design::Design design;
};

std::ostream& operator<<(std::ostream& out, const Ring& ring) {
    return out << ring.name;
}

design::Design with(design::Design design, std::vector<design::Channel> channels,
                    std::vector<design::Setting> settings) {
    design.channels = std::move(channels);
    design.settings = std::move(settings);
    return design;
}

std::vector<Ring> drilledRings() {
    design::Setting countersunk = bareHole(-0.8, 0.8, 1.6, 0.9);
    countersunk.hole.countersink = 0.6;
    design::Setting blind = bareHole(1.1, 1.2, 2.1, 0.7);
    blind.hole.bottom = design::HoleBottom::Drill118;
    blind.hole.pilotDepth = 1.2;
    return {{"a_hole_off_the_middle_of_a_domed_ring", with(curvedRing(), {}, {bareHole(1.3, 1, 3, 1.4)})},
            {"a_countersunk_hole", with(curvedRing(), {}, {countersunk})},
            {"a_drill_point", with(curvedRing(), {}, {blind})},
            {"a_seat_wider_than_its_channel",
             with(curvedRing(), {channel(0.2, 2.2, 0.8)}, {bareHole(0.2, 1.2, 3.2, 1.3)})},
            {"a_hole_beside_a_channel",
             with(curvedRing(), {channel(-1.6, 1.2, 1.1)}, {bareHole(1.2, 0.9, 2.4, 1.5)})}};
}

class DrilledRing : public testing::TestWithParam<Ring> {
  protected:
    /// The metal a hole takes, turned to an angle that is no multiple of OpenCASCADE's seams.
    static TopoDS_Shape removed(const design::Design& design, const geometry::HoleProfile& profile) {
        return reference::common(
            reference::hole(profile, 1.1),
            reference::drilled(geometry::sections(design).band, with(design, design.channels, {})));
    }

    /// The widest step alone, from its ledge outwards.
    static geometry::HoleProfile seat(const design::Design& design) {
        geometry::HoleProfile profile = geometry::settingHole(design, 0);
        const auto ledge = std::find_if(
            profile.pieces.rbegin(), profile.pieces.rend(),
            [](const geometry::HolePiece& p) { return p.tag.feature == geometry::Feature::Ledge; });
        profile.pieces.erase(profile.pieces.begin(), ledge.base());
        return profile;
    }
};

TEST_P(DrilledRing, LeavesTheMetalToItsEdgeThatOpenCascadeFinds) {
    const design::Design& design = GetParam().design;
    const geometry::Section band = geometry::sections(design).band;
    const double expected = reference::shortest(removed(design, geometry::settingHole(design, 0)),
                                                reference::turnedSurfaces(segmentsOf(band, isOfTheFlank)));
    EXPECT_NEAR(valueOf(checked(design), "hole-to-edge"), expected, kMicrometre);
}

TEST_P(DrilledRing, LeavesTheFloorUnderItsSeatThatOpenCascadeFinds) {
    const design::Design& design = GetParam().design;
    if (design.settings[0].hole.bottom != design::HoleBottom::Through)
        return;  // its point is nearer than its ledge
    const geometry::Section band = geometry::sections(design).band;
    const double expected = reference::shortest(removed(design, seat(design)),
                                                reference::turnedSurfaces(segmentsOf(band, isOfTheBore)));
    EXPECT_NEAR(valueOf(checked(design), "seat-floor"), expected, kMicrometre);
}

INSTANTIATE_TEST_SUITE_P(Distances, DrilledRing, testing::ValuesIn(drilledRings()),
                         [](const auto& test) { return test.param.name; });

/// Export refuses such a ring, so a check may not pass it.
TEST(Land, OfHolesInOnePlaceIsNothing) {
    design::Design design = plainRing();
    design.settings.push_back(bareHole(0, 1, 1.5, 0.8));
    design.settings[0].placement.count = 3;
    design.settings[0].placement.spacing = -360;
    const Report report = checked(design);
    EXPECT_EQ(valueOf(report, "hole-to-hole"), 0);
    EXPECT_EQ(report.verdict, Verdict::NoGo);
}

/// Of another size, beside the wider one's axis or on it, through or not: no wall leads to another. It is
/// drawn all the same.
TEST(Land, OfAHoleWithinAnotherIsNothing) {
    for (const double start : {0.0, 0.4, -1.0}) {
        for (const design::HoleBottom bottom : {design::HoleBottom::Through, design::HoleBottom::Flat}) {
            design::Design design = plainRing();
            design.settings.push_back(bareHole(0, 1, 1.5, 0.8));
            design.settings.push_back(bareHole(0, 0.6, 0.8, 0.5));
            design.settings[1].placement.start = design.settings[0].placement.start + start;
            design.settings[1].hole.steps.clear();
            design.settings[1].hole.bottom = bottom;
            design.settings[1].hole.pilotDepth = 0.4;
            const Report report = checked(design);
            EXPECT_EQ(valueOf(report, "hole-to-hole"), 0) << start;
            EXPECT_EQ(report.verdict, Verdict::NoGo);
            for (const geometry::Part& part : geometry::buildParts(design))
                EXPECT_EQ(geometry::defects(part.mesh), geometry::MeshDefects{});
        }
    }
}

TEST(Distances, FromADrillPointToTheBoreAreThoseOfOpenCascade) {
    const design::Design design = drilledRings()[2].design;
    const geometry::Section band = geometry::sections(design).band;
    const double expected = reference::shortest(reference::hole(geometry::settingHole(design, 0), 1.1),
                                                reference::turnedSurfaces(segmentsOf(band, isOfTheBore)));
    EXPECT_NEAR(valueOf(checked(design), "seat-floor"), expected, kMicrometre);
}

TEST(Distances, FromAHoleToTheChannelBesideItAreThoseOfOpenCascade) {
    const design::Design design = drilledRings()[4].design;
    const geometry::Section band = geometry::sections(design).band;
    const TopoDS_Shape hole =
        reference::common(reference::hole(geometry::settingHole(design, 0), 1.1),
                          reference::turned(geometry::sections(with(design, {}, {})).band));
    const double expected =
        reference::shortest(hole, reference::turnedSurfaces(segmentsOf(band, isChannelWall)));
    EXPECT_NEAR(valueOf(checked(design), "seat-to-channel"), expected, kMicrometre);
}

TEST(Distances, UnderAndBesideAChannelAreThoseOfOpenCascade) {
    design::Channel slanted = channel(0.4, 2.6, 1);
    slanted.draft = -6;
    slanted.floorRadius = 0.2;
    for (const design::Channel& c : {channel(-0.7, 2.4, 0.9), slanted}) {
        const design::Design design = with(curvedRing(), {c}, {});
        const geometry::Section band = geometry::sections(design).band;
        const auto apart = [&](const std::function<bool(geometry::Tag)>& a,
                               const std::function<bool(geometry::Tag)>& b) {
            return reference::shortest(reference::turnedSurfaces(segmentsOf(band, a)),
                                       reference::turnedSurfaces(segmentsOf(band, b)));
        };
        const Report report = checked(design);
        EXPECT_NEAR(valueOf(report, "floor-wall"), apart(isChannelWall, isOfTheBore), kMicrometre);
        for (const geometry::Side side : {geometry::Side::Left, geometry::Side::Right}) {
            const auto flank = [&](geometry::Tag tag) { return isOfTheFlank(tag) && tag.side == side; };
            EXPECT_NEAR(valueOf(report, side == geometry::Side::Left ? "rim-left" : "rim-right"),
                        apart(isChannelWall, flank), kMicrometre);
        }
    }
}

}  // namespace
}  // namespace bandwright::check
