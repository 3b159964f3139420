#include "setting.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/hole.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "is_buildable.hpp"
#include "outline.hpp"
#include "random_design.hpp"
#include "section_checks.hpp"

namespace bandwright::geometry {
namespace {

/// A flat band 8 mm wide and 3 mm thick on a finger of 18 mm, its outside at 12 mm.
design::Design flatBand() {
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 18};
    design.band.thickness = 3;
    design.band.left.shape = design::EdgeShape::Sharp;
    design.band.right.shape = design::EdgeShape::Sharp;
    design.band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
    return design;
}

/// mm3 of a tube's wall turned about the tube's own axis.
double turnedVolume(const Loop& wall) {
    Loop turned;
    for (const Segment& s : wall)
        turned.push_back(line({s.from.r, s.from.z}, {s.to.r, s.to.z}, s.tag));
    return std::abs(properties({turned}).volume);
}

/// The same by hand for an open tube: cylinders.
double openVolume(const design::Tube& tube) {
    return kPi / 4 *
           (std::pow(tube.outerDiameter, 2) * tube.height -
            std::pow(tube.innerDiameter, 2) * (tube.height - tube.seatDepth) -
            std::pow(tube.seatDiameter, 2) * tube.seatDepth);
}

TEST(Hole, AFourMillimetreStoneGoesInASeatBoreOverATwoMillimetrePilot) {
    // A 4 mm round stone in tube of 4.5 mm goes in a 4.5 mm seat bore over a 2 mm pilot: common practice, no
    // source.
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    design.settings[0].hole.steps[0].diameter = 4.5;
    const HoleProfile hole = settingHole(design, 0);
    ASSERT_EQ(hole.pieces.size(), 3u);
    EXPECT_TRUE(hole.pieces[0].isCylinder());
    EXPECT_EQ(hole.pieces[0].tag.feature, Feature::Pilot);
    EXPECT_DOUBLE_EQ(hole.pieces[0].radius0, 1);
    EXPECT_DOUBLE_EQ(hole.pieces[0].x1, 12 - 1.4);
    EXPECT_TRUE(hole.pieces[1].isFlat());
    EXPECT_EQ(hole.pieces[1].tag.feature, Feature::Ledge);
    EXPECT_TRUE(hole.pieces[2].isCylinder());
    EXPECT_EQ(hole.pieces[2].tag.feature, Feature::Seat);
    EXPECT_DOUBLE_EQ(hole.pieces[2].radius0, 2.25);
    EXPECT_GT(hole.pieces[2].x1, 12);

    const SettingSection through = sectionThrough(design, 0);
    EXPECT_EQ(flaw(through.band), "");
    EXPECT_EQ(through.band.size(), 2u) << "the hole goes through to the bore";
    EXPECT_NEAR(area(through.band), 8 * 3 - 2 * 1.6 - 4.5 * 1.4, 1e-4);
}

TEST(Hole, ADrillLeavesAPointOfItsOwnAngleBelowABlindPilot) {
    // A cone of point angle a and radius r is r / tan(a / 2) high.
    for (const auto& [bottom, angle] :
         {std::pair{design::HoleBottom::Drill118, 118.0}, {design::HoleBottom::Drill135, 135.0}}) {
        design::Hole hole{.pilotDiameter = 2, .bottom = bottom, .pilotDepth = 1.5, .steps = {}};
        const HoleProfile profile = holeProfile(hole, 0, 12, 13, 0);
        EXPECT_EQ(profile.pieces.front().tag.feature, Feature::HoleBottom);
        EXPECT_DOUBLE_EQ(profile.pieces.front().radius0, 0);
        EXPECT_DOUBLE_EQ(profile.pieces.front().x1, 12 - 1.5);
        const double point = profile.pieces.front().x1 - profile.pieces.front().x0;
        EXPECT_NEAR(2 * std::atan(1 / point) * 180 / kPi, angle, 1e-9);
        EXPECT_NEAR(drillPoint(hole), point, 1e-12);
        EXPECT_EQ(flaw(meridian(profile)), "");
        EXPECT_NEAR(area(meridian(profile)), 2 * 2.5 + point, 1e-9);
    }
    const design::Hole flat{
        .pilotDiameter = 2, .bottom = design::HoleBottom::Flat, .pilotDepth = 1.5, .steps = {}};
    EXPECT_EQ(drillPoint(flat), 0);
    EXPECT_NEAR(area(meridian(holeProfile(flat, 0, 12, 13, 0))), 2 * 2.5, 1e-9);
}

TEST(Hole, ACountersinkIsNinetyDegreesAndAsWideAtTheOutsideAsAsked) {
    const design::Hole hole{.pilotDiameter = 2, .steps = {}, .countersink = 0.6};
    const HoleProfile profile = holeProfile(hole, 0, 12, 13, 0);
    const HolePiece& cone = profile.pieces.back();
    EXPECT_EQ(cone.tag.feature, Feature::Countersink);
    EXPECT_NEAR(cone.radius1 - cone.radius0, cone.x1 - cone.x0, 1e-12);
    const double atOutside = cone.radius0 + (12 - cone.x0);
    EXPECT_NEAR(2 * atOutside, 2.6, 1e-12);
    EXPECT_NEAR(cone.radius0, 1, 1e-12);
}

TEST(Hole, TheRadiusNeverFallsOnTheWayOutAndThePiecesFollowOnEachOther) {
    for (std::uint64_t seed = 0; seed < designsToDraw(2500); ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const design::Design design = randomDesign(seed);
        try {
            requireBuildable(design);
        } catch (const std::exception&) {
            continue;
        }
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            const HoleProfile hole = settingHole(design, i);
            for (std::size_t k = 0; k < hole.pieces.size(); ++k) {
                const HolePiece& p = hole.pieces[k];
                EXPECT_LE(p.x0, p.x1);
                EXPECT_LE(p.radius0, p.radius1);
                EXPECT_GE(p.x0, 0);
                if (k == 0) continue;
                EXPECT_DOUBLE_EQ(hole.pieces[k - 1].x1, p.x0);
                EXPECT_DOUBLE_EQ(hole.pieces[k - 1].radius1, p.radius0);
            }
            EXPECT_GT(hole.pieces.back().x1, design::outsideRadius(design));
            EXPECT_EQ(flaw(meridian(hole)), "");
        }
    }
}

TEST(Hole, ALedgeAtTheChannelsFloorTakesNoFilmAndLeavesNone) {
    design::Design design = flatBand();
    design.channels = {design::Channel{.width = 3, .depth = 1.4}};
    design.settings = {design::Setting{}};
    design.settings[0].hole.steps[0] = {4.5, 1.4};  // its ledge wider than the channel
    const SettingSection through = sectionThrough(design, 0);
    EXPECT_EQ(flaw(through.band), "");
    EXPECT_NEAR(area(through.band), 8 * 3 - 2 * 1.6 - 4.5 * 1.4, 1e-4);
    ASSERT_EQ(through.fills.size(), 1u);
    EXPECT_TRUE(through.fills[0].empty()) << "drilled away altogether on this line";

    design.settings[0].hole.steps[0].diameter = 3;  // as wide as the channel
    const SettingSection asWide = sectionThrough(design, 0);
    EXPECT_EQ(flaw(asWide.band), "");
    EXPECT_NEAR(area(asWide.band), 8 * 3 - 2 * 1.6 - 3 * 1.4, 1e-4);
    EXPECT_TRUE(asWide.fills[0].empty());
}

TEST(Hole, AHoleThatJustTouchesAChannelSideIsCutSoundly) {
    for (const double side : {-1.0, 1.0}) {
        for (const bool within : {true, false}) {
            design::Design design = flatBand();
            design.channels = {design::Channel{.width = 4, .depth = 1}};
            design.settings = {design::Setting{}};
            design.settings[0].hole = {.pilotDiameter = 1, .steps = {}};
            design.settings[0].tube.reset();
            design.settings[0].stone.reset();
            design.settings[0].placement.offset = side * (within ? 2 - 0.5 : 2 + 0.5);
            const SettingSection through = sectionThrough(design, 0);
            EXPECT_EQ(flaw(through.band), "");
            EXPECT_EQ(flaw(through.fills[0]), "");
            EXPECT_NEAR(area(through.band) + area(through.fills[0]), 8 * 3 - 1 * 3, 1e-4);
            EXPECT_EQ(through.band.size(), 2u);
        }
    }
}

TEST(Hole, StepsRightDownToTheBoreAreSound) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    design.settings[0].hole.steps[0] = {4.5, 3};  // the ledge lies in the bore
    EXPECT_EQ(flaw(sectionThrough(design, 0).band), "");
    EXPECT_NEAR(area(sectionThrough(design, 0).band), (8 - 4.5) * 3, 1e-4);
}

TEST(Tube, StandsOnTheLedgeAndHasTheSizesOfTheDesign) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    const SettingSection through = sectionThrough(design, 0, design::Stage::Set);
    ASSERT_EQ(through.tube.size(), 2u);
    EXPECT_EQ(flaw(through.tube), "");
    EXPECT_DOUBLE_EQ(tubeBase(design, 0), 12 - 1.4);
    const design::Tube& tube = *design.settings[0].tube;
    EXPECT_DOUBLE_EQ(find(through.tube, {Feature::TubeEnd, 0})->from.r, 12 - 1.4);
    EXPECT_DOUBLE_EQ(find(through.tube, {Feature::TubeLip, 0})->from.r, 12 - 1.4 + tube.height);
    const double wall = (tube.outerDiameter - tube.innerDiameter) / 2 * tube.height -
                        (tube.seatDiameter - tube.innerDiameter) / 2 * tube.seatDepth;
    EXPECT_NEAR(area(through.tube), 2 * wall, 1e-9);
    // Turned about its own axis, the section gives the volume of the tube less the seat.
    EXPECT_NEAR(turnedVolume(tubeWall(tube, 0, {}, 0)), openVolume(tube), 1e-9);
}

// Closing a lip moves metal and takes none away. The volume comes from the drawn section by Pappus,
// independent of how the section was found.
TEST(Tube, ItsLipClosedOverTheStoneHasTheVolumeOfTheOpenOneAndLiesOnTheStone) {
    std::size_t closed = 0;
    std::size_t upright = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(10000); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            const design::Setting& setting = design.settings[i];
            if (!setting.tube || !setting.stone) continue;
            SCOPED_TRACE("seed " + std::to_string(seed));
            const Mesh stone = stoneMesh(*setting.stone);
            const double girdle = girdleHeight(design, i, stone);
            const auto lip = closedLip(*setting.tube, tubeBase(design, i), stone, girdle);
            ++(lip ? closed : upright);
            const Loop wall = tubeWall(design, i, design::Stage::Finished);
            EXPECT_EQ(flaw({wall}), "");
            EXPECT_NEAR(turnedVolume(wall), openVolume(*setting.tube), 1e-9 * openVolume(*setting.tube));
            if (!lip) continue;
            EXPECT_LT(lip->inside.back().z, setting.tube->seatDiameter / 2);
            double nearest = 1e9;
            for (const Vec3& p : stone.points) {
                const Vec2 place{std::hypot(p.x, p.y), p.z + girdle};
                if (place.r < lip->inside.front().r + 2e-6) continue;  // it may lie on the ledge
                for (const Segment& s : wall)
                    nearest = std::min(nearest, distance(place, nearestOn(s, place)));
                EXPECT_FALSE(contains({wall}, place - Vec2{1e-6, 1e-6}));
            }
            if (lip->inside.size() > 2) {
                EXPECT_LT(nearest, 1e-9) << "it touches where it is bent again";
            }
            if (HasFailure()) return;
        }
    }
    EXPECT_GT(closed, designsToDraw(10000) / 100);
    EXPECT_GT(upright, designsToDraw(10000) / 200);
}

TEST(Tube, ItsClosedLipKeepsItsWall) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    const design::Tube& tube = *design.settings[0].tube;
    const Mesh stone = stoneMesh(*design.settings[0].stone);
    const auto lip = closedLip(tube, tubeBase(design, 0), stone, girdleHeight(design, 0, stone));
    ASSERT_TRUE(lip);
    ASSERT_EQ(lip->inside.size(), lip->outside.size());
    for (std::size_t i = 0; i + 1 < lip->inside.size(); ++i) {
        const Vec2 along = lip->inside[i + 1] - lip->inside[i];
        for (const std::size_t k : {i, i + 1}) {
            const double away = cross(along, lip->outside[k] - lip->inside[i]) / length(along);
            EXPECT_NEAR(std::abs(away), (tube.outerDiameter - tube.seatDiameter) / 2, 1e-9);
        }
    }
}

TEST(Tube, ItsLipStaysUprightWhereThereIsNothingToCloseItOver) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    const Section open = settingBodies(design, 0, design::Stage::Set).tube;
    const auto isOpen = [&] { return area(settingBodies(design, 0).tube) == area(open); };
    EXPECT_FALSE(isOpen());
    design::Setting& setting = design.settings[0];
    setting.stone->diameter = 4.2;  // wider than the seat
    EXPECT_TRUE(isOpen());
    setting.stone.reset();
    EXPECT_TRUE(isOpen());
}

/// Lowest height of the stone's surface over the upright circle of a radius, found by looking along many
/// upright lines; empty when no line meets the stone.
std::optional<double> lowestOverCircle(const Mesh& stone, double radius, int lines) {
    double lowest = std::numeric_limits<double>::infinity();
    for (int i = 0; i < lines; ++i) {
        const double angle = 2 * kPi * i / lines;
        const double x = radius * std::cos(angle);
        const double y = radius * std::sin(angle);
        for (const auto& t : stone.triangles) {
            const Vec3& a = stone.points[stone.pointOf[t[0]]];
            const Vec3& b = stone.points[stone.pointOf[t[1]]];
            const Vec3& c = stone.points[stone.pointOf[t[2]]];
            const double whole = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
            if (std::abs(whole) < 1e-12) continue;
            const double u = ((x - a.x) * (c.y - a.y) - (c.x - a.x) * (y - a.y)) / whole;
            const double v = ((b.x - a.x) * (y - a.y) - (x - a.x) * (b.y - a.y)) / whole;
            if (u < 0 || v < 0 || u + v > 1) continue;
            lowest = std::min(lowest, a.z + u * (b.z - a.z) + v * (c.z - a.z));
        }
    }
    return std::isfinite(lowest) ? std::optional(lowest) : std::nullopt;
}

TEST(Stone, RestsWhereNoPartOfItWouldBeBelowTheEdgeThatCarriesIt) {
    for (const design::StoneCut cut :
         {design::StoneCut::RoundBrilliant, design::StoneCut::Oval, design::StoneCut::Marquise,
          design::StoneCut::Pear, design::StoneCut::StepOctagon, design::StoneCut::StepSquare,
          design::StoneCut::RoseCut, design::StoneCut::Cabochon}) {
        design::Stone stone;
        stone.cut = cut;
        stone.length = 5.5;
        if (cut == design::StoneCut::StepOctagon || cut == design::StoneCut::StepSquare) stone.table = 60;
        const Mesh mesh = stoneMesh(stone);
        for (const double radius : {0.3, 1.0, 1.7, 1.9}) {
            SCOPED_TRACE(static_cast<int>(cut));
            const double place = restingPlace(mesh, radius);
            const std::optional<double> sampled = lowestOverCircle(mesh, radius, 7200);
            ASSERT_TRUE(sampled);
            // Between two lines the stone may reach lower by the slope times half their distance.
            const double between = 2.2 * radius * kPi / 7200;
            EXPECT_LE(place, *sampled + 1e-9);
            EXPECT_GE(place, *sampled - between);
        }
        EXPECT_EQ(restingPlace(mesh, 40), 0) << "falls through";
        EXPECT_NEAR(restingPlace(mesh, 0), -heights(stone).pavilion - heights(stone).girdle / 2, 1e-6);
    }
}

TEST(Stone, ARoundBrilliantRestsWhereItsPavilionIsAsWideAsTheLedge) {
    // The pavilion mains fall at the pavilion angle; a ledge of radius r meets them in their corners, at most
    // the sixteenth part of a turn from their middles.
    const design::Stone stone;
    const double girdle = heights(stone).girdle;
    const double radius = 1.7;
    const double fall = std::tan(stone.pavilionAngle * kPi / 180);
    const double culet = -girdle / 2 - heights(stone).pavilion;
    const double onMains = culet + radius * fall;
    const double place = restingPlace(stoneMesh(stone), radius);
    EXPECT_LE(place, onMains);
    EXPECT_GE(place, culet + radius * fall * std::cos(kPi / 8));
}

TEST(Stone, SitsInsideTheTubesSeatAndOnItsLedge) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    const design::Tube& tube = *design.settings[0].tube;
    for (const double diameter : {3.6, 3.8, 3.99}) {
        design.settings[0].stone->diameter = diameter;
        const SettingSection through = sectionThrough(design, 0);
        ASSERT_EQ(through.stone.size(), 1u);
        EXPECT_EQ(flaw(through.stone), "");
        EXPECT_LT(area(intersect(through.tube, through.stone)), 1e-3);
        for (const Segment& s : through.stone.front())
            EXPECT_LE(std::abs(s.from.z), tube.seatDiameter / 2 + 1e-9);
        // Lowered by 0.05 mm it would cut into the tube.
        const Section lower = {moved(through.stone.front(), {0, -0.05})};
        EXPECT_GT(area(intersect(through.tube, lower)), 1e-4);
    }
}

TEST(Stone, WithoutATubeItRestsOnTheNarrowerStepOrOnAFlatBottom) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    design::Setting& setting = design.settings[0];
    setting.tube.reset();
    const Mesh mesh = stoneMesh(*setting.stone);
    const double base = 12 - 1.4;
    EXPECT_NEAR(girdleHeight(design, 0, mesh), base - restingPlace(mesh, 1), 1e-12);
    setting.hole.steps = {{3, 1.4}, {4.5, 1.0}};
    // With a wider top, the stone's pavilion still meets the edge of the pilot first.
    EXPECT_LT(12 - 1.0 - restingPlace(mesh, 1.5), base - restingPlace(mesh, 1));
    EXPECT_NEAR(girdleHeight(design, 0, mesh), base - restingPlace(mesh, 1), 1e-12);
    setting.hole.pilotDiameter = 2.9;
    EXPECT_NEAR(girdleHeight(design, 0, mesh), 12 - 1.0 - restingPlace(mesh, 1.5), 1e-12);

    setting.hole = {.pilotDiameter = 4.5, .bottom = design::HoleBottom::Flat, .pilotDepth = 2.2, .steps = {}};
    const SettingSection through = sectionThrough(design, 0);
    double lowest = 1e9;
    for (const Segment& s : through.stone.front())
        lowest = std::min(lowest, s.from.r);
    EXPECT_NEAR(lowest, 12 - 2.2, 1e-5) << "its culet on the flat";
}

/// The lowest place above the axis at which a hole is this wide.
double floorAt(const HoleProfile& hole, double radius) {
    for (const HolePiece& p : hole.pieces) {
        if (radius <= p.radius0) return p.x0;
        if (radius < p.radius1) return p.x0 + (p.x1 - p.x0) * (radius - p.radius0) / (p.radius1 - p.radius0);
    }
    return hole.pieces.back().x1;
}

TEST(Stone, SetStraightInTheHoleItLiesOnTheHoleAndNotInTheMetal) {
    std::size_t set = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(5000); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            const design::Setting& setting = design.settings[i];
            if (setting.tube || !setting.stone || setting.hole.steps.empty()) continue;
            const double seat = setting.hole.steps.back().diameter / 2;
            SCOPED_TRACE("seed " + std::to_string(seed));
            const HoleProfile hole = settingHole(design, i);
            const bool through = hole.pieces.front().radius0 > 0;
            const Mesh stone = stoneMesh(*setting.stone);
            const bool fits = std::all_of(stone.points.begin(), stone.points.end(),
                                          [&](const Vec3& p) { return std::hypot(p.x, p.y) <= seat + 1e-9; });
            if (!fits) continue;
            const double girdle = girdleHeight(design, i, stone);
            double least = 1e9;
            double touch = 1e9;  // counting places on the edge of a ledge as on it
            const auto look = [&](const Vec3& p) {
                const double out = std::hypot(p.x, p.y);
                if (through && out + 1e-7 <= hole.pieces.front().radius0) return;
                least = std::min(least, p.z + girdle - floorAt(hole, out - 2e-9));
                if (out + 1e-7 < seat) touch = std::min(touch, p.z + girdle - floorAt(hole, out + 1e-7));
            };
            constexpr int kParts = 64;
            for (const auto& t : stone.triangles) {
                for (std::size_t e = 0; e < 3; ++e) {
                    const Vec3& a = stone.points[stone.pointOf[t[e]]];
                    const Vec3& b = stone.points[stone.pointOf[t[(e + 1) % 3]]];
                    for (int k = 0; k <= kParts; ++k)
                        look(a + static_cast<double>(k) / kParts * (b - a));
                }
            }
            if (std::min(touch, least) > 1e8) continue;  // it falls through
            ++set;
            EXPECT_GE(least, -1e-8);
            EXPECT_LE(std::min(touch, least), 0.2) << "it touches between the places looked at, or there";
            if (HasFailure()) return;
        }
    }
    EXPECT_GT(set, designsToDraw(5000) / 50);
}

// A bur's seat of 90 degrees rises at 45, steeper than a pavilion: it carries the stone at its girdle.
TEST(Stone, OnABearingSteeperThanItsPavilionItLiesWithItsGirdle) {
    design::Design design = flatBand();
    design.settings = {design::Setting{}};
    design::Setting& setting = design.settings[0];
    setting.tube.reset();
    setting.hole = {.pilotDiameter = 3.2, .steps = {{4, 0.4, 45}}};
    const design::Stone& stone = *setting.stone;
    const Mesh mesh = stoneMesh(stone);
    EXPECT_NEAR(girdleHeight(design, 0, mesh), 12 - 0.4 + heights(stone).girdle / 2, 1e-9);
    // A flatter seat carries the stone at its foot, where the pilot ends.
    setting.hole.steps[0].bearing = 30;
    const double foot = 12 - 0.4 - 0.4 * std::tan(kPi / 6);
    EXPECT_NEAR(girdleHeight(design, 0, mesh), foot - restingPlace(mesh, 1.6), 1e-9);
}

TEST(Hole, ABearingIsAConeFromWhatIsBelowToTheStepsFullWidth) {
    const design::Hole hole{.pilotDiameter = 2, .steps = {{4, 0.5, 45}}};
    const HoleProfile profile = holeProfile(hole, 0, 12, 13, 0);
    ASSERT_EQ(profile.pieces.size(), 3u);
    const HolePiece& cone = profile.pieces[1];
    EXPECT_EQ(cone.tag.feature, Feature::Bearing);
    EXPECT_DOUBLE_EQ(cone.x1, 11.5);
    EXPECT_NEAR(cone.x0, 10.5, 1e-12);
    EXPECT_EQ(cone.radius0, 1);
    EXPECT_EQ(cone.radius1, 2);
}

TEST(Stone, ItsOutlineIsAsWideAsTheGirdleAndAsHighAsTheStone) {
    for (const design::StoneCut cut :
         {design::StoneCut::RoundBrilliant, design::StoneCut::Oval, design::StoneCut::Marquise,
          design::StoneCut::Pear, design::StoneCut::StepOctagon, design::StoneCut::StepSquare,
          design::StoneCut::RoseCut, design::StoneCut::Cabochon}) {
        SCOPED_TRACE(static_cast<int>(cut));
        design::Stone stone;
        stone.cut = cut;
        if (cut == design::StoneCut::StepOctagon || cut == design::StoneCut::StepSquare) stone.table = 60;
        if (cut == design::StoneCut::Oval || cut == design::StoneCut::Marquise) stone.length = 6;
        const Section outline = {stoneOutline(stoneMesh(stone, base::Micrometres(1)), 0)};
        EXPECT_EQ(flaw(outline), "");
        Vec2 least{1e9, 1e9};
        Vec2 most{-1e9, -1e9};
        for (const Segment& s : outline.front()) {
            least = {std::min(least.z, s.from.z), std::min(least.r, s.from.r)};
            most = {std::max(most.z, s.from.z), std::max(most.r, s.from.r)};
        }
        EXPECT_NEAR(most.r - least.r, heights(stone).total(), 1e-5);
        EXPECT_LE(most.z - least.z, stone.diameter + 1e-5);
        EXPECT_GE(most.z - least.z, stone.diameter * 0.98);
    }
}

}  // namespace
}  // namespace bandwright::geometry
