#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/input_error.hpp"
#include "compare/deviation.hpp"
#include "mesh_checks.hpp"
#include "moved_body.hpp"
#include "random_design.hpp"

namespace bandwright::compare {
namespace {

using geometry::Vec3;

constexpr double kSamePose = 1e-6;       // mm and radians
constexpr base::Micrometres kChord{20};  // of the bodies

/// Where the fit may have chosen another of several turns that look the same, only places can be compared.
void expectBack(const Fit& found, const Pose& away, double factor) {
    EXPECT_NEAR(found.factor * factor, 1, kSamePose / 10);
    if (found.turnIsFree || found.alike > 1) return;
    for (const Vec3& p : {Vec3{0, 0, 0}, Vec3{10, 0, 0}, Vec3{0, 10, 0}, Vec3{0, 0, 10}})
        EXPECT_LT(geometry::distance(found.pose(away(p)), p), kSamePose);
    for (const Vec3& v : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
        EXPECT_LT(geometry::length(cross(found.pose.direction(away.direction(v)), v)), kSamePose);
}

/// A body made by moving, scaling and denting a known one.
bool expectGivenBack(const design::Design& design, std::mt19937_64& lot, bool held) {
    const geometry::Mesh mesh = geometry::buildParts(design, design::Stage::Finished, {kChord})[0].mesh;
    geometry::Triangles body = plain(mesh);
    const Designed designed = bandOf(design);
    const std::optional<Dent> dent = dented(body, mesh, designed, lot);
    if (!dent) return false;
    std::uniform_real_distribution<double> share(-1, 1);
    Pose away = randomPose(lot);
    if (held) {
        const double turn = 3 * share(lot);
        away.turn = {{{std::cos(turn), -std::sin(turn), 0}, {std::sin(turn), std::cos(turn), 0}, {0, 0, 1}}};
        away.shift = {0, 0, share(lot)};
    }
    FitOptions options{.scale = lot() % 2 == 0, .holdAxis = held};
    const double factor = options.scale ? 1 + 0.02 * share(lot) : 1;
    away.scale = factor;
    away.shift = factor * away.shift;
    move(body, away);
    const Fit found = fit(designed, body, options);
    expectBack(found, away, factor);
    const Deviation out = deviation(designed, body, found.pose, {});
    // Its points are out by exactly as much; between them its triangles lie a chord lower.
    const auto deepest = std::ranges::min_element(out.ofPoint);
    EXPECT_NEAR(*deepest, -kDentDepth, kSamePose);
    EXPECT_NEAR(out.whole.least.value, -kDentDepth, kChord.mm());
    EXPECT_EQ(out.whole.least.tag.feature, geometry::Feature::Outside);
    EXPECT_EQ(out.features.front().tag.feature, geometry::Feature::Outside);
    if (!found.turnIsFree && found.alike == 1) {
        const Vec3 there = out.points[static_cast<std::size_t>(deepest - out.ofPoint.begin())];
        EXPECT_LT(geometry::distance(there, dent->bottom), kSamePose);
    }
    EXPECT_LE(out.nowhereBelow, out.whole.least.value);
    EXPECT_GE(out.nowhereAbove, out.whole.most.value);
    std::size_t moved = 0;
    for (std::size_t i = 0; i < body.points.size(); ++i) {
        const bool isInDent = geometry::distance(mesh.points[i], dent->at) < kDentReach;
        moved += isInDent ? 1 : 0;
        if (!isInDent) {
            EXPECT_NEAR(out.ofPoint[i], 0, kSamePose) << i;
        }
    }
    EXPECT_GT(moved, 0U);
    return true;
}

TEST(Fit, GivesBackWhatWasMovedScaledAndDented) {
    std::mt19937_64 lot(7);
    const std::uint64_t most = geometry::designsToDraw(2);
    std::size_t drawn = 0;
    for (std::uint64_t seed = 1; drawn < most; ++seed) {
        SCOPED_TRACE(seed);
        const design::Design design = geometry::randomDesign(seed);
        if (!geometry::apartPartsOf(design)) continue;
        if (expectGivenBack(design, lot, seed % 4 == 0)) ++drawn;
    }
}

TEST(Fit, TellsARingThatTurnsFreely) {
    design::Design design;
    const Designed designed = bandOf(design);
    geometry::Triangles body = plain(geometry::buildParts(design)[0].mesh);
    std::mt19937_64 lot(1);
    move(body, randomPose(lot));
    const Fit found = fit(designed, body, {});
    EXPECT_TRUE(found.turnIsFree);
    EXPECT_LT(found.typical, 1e-9);
}

TEST(Deviation, IsThatOfABodyEvenlyLarger) {
    // A tube of radii 9 and 10.5 and width 5 whose outside has grown by 0.1.
    design::Design design;
    const Designed designed = bandOf(design);
    const geometry::Mesh mesh = geometry::buildParts(design)[0].mesh;
    geometry::Triangles body = plain(mesh);
    double most = 0;
    for (const Vec3& p : body.points)
        most = std::max(most, std::hypot(p.x, p.y));
    for (Vec3& p : body.points)
        if (std::hypot(p.x, p.y) > most - 1e-9) p = {(1 + 0.1 / most) * p.x, (1 + 0.1 / most) * p.y, p.z};
    const Deviation out = deviation(designed, body, {}, {.beyond = 0.05});
    EXPECT_NEAR(out.whole.most.value, 0.1, 1e-9);
    EXPECT_NEAR(out.barest.value, 0.1, 2e-3);
    EXPECT_EQ(out.barest.tag.feature, geometry::Feature::Outside);
    const auto outside = std::ranges::find_if(
        out.features, [](const auto& f) { return f.tag.feature == geometry::Feature::Outside; });
    ASSERT_NE(outside, out.features.end());
    EXPECT_NEAR(outside->figures.most.value, 0.1, 1e-9);
    EXPECT_GT(outside->extraArea, 0.9 * outside->figures.area);
    EXPECT_EQ(outside->missingArea, 0);
    double area = 0;
    for (const FeatureDeviation& feature : out.features)
        area += feature.figures.area;
    EXPECT_NEAR(area, out.whole.area, 1e-9 * area);
}

// Coarse triangles of a bore stand in the hole by the sagitta of their chords at most, between the points and
// mostly between the places that are measured; and outside they are as far within the metal.
TEST(Deviation, IsProvenBetweenThePlacesMeasured) {
    constexpr double kChordHere = 0.1;
    const design::Design design;
    const Designed designed = bandOf(design);
    const geometry::Mesh mesh =
        geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(1000 * kChordHere)})[0].mesh;
    const geometry::Triangles body = plain(mesh);
    double bore = 0, outside = 0;  // the sagittas
    for (const auto& t : body.triangles) {
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3 a = body.points[t[i]], b = body.points[t[(i + 1) % 3]], middle = 0.5 * (a + b);
            const double sagitta = std::hypot(a.x, a.y) - std::hypot(middle.x, middle.y);
            const bool isOnOneCircle = std::abs(std::hypot(a.x, a.y) - std::hypot(b.x, b.y)) < 1e-9;
            if (!isOnOneCircle) continue;
            double& most = std::hypot(a.x, a.y) < 9.5 ? bore : outside;
            most = std::max(most, sagitta);
        }
    }
    ASSERT_GT(std::min(bore, outside), 0.03);
    const Deviation out = deviation(designed, body, {}, {});
    EXPECT_LE(out.whole.most.value, bore + 1e-9);
    EXPECT_GE(out.whole.most.value, bore - 0.003);
    EXPECT_GE(out.nowhereAbove, bore);
    EXPECT_LE(out.nowhereAbove, bore + 0.01);
    EXPECT_GE(out.whole.least.value, -outside - 1e-9);
    EXPECT_LE(out.whole.least.value, -outside + 0.003);
    EXPECT_LE(out.nowhereBelow, -outside);
    EXPECT_GE(out.nowhereBelow, -outside - 0.01);
    EXPECT_GE(out.barestAtMost, out.barest.value);
    EXPECT_GE(out.barestAtMost, std::max(bore, outside));
    EXPECT_LE(out.barestAtMost, std::max(bore, outside) + 0.01);
}

// A round hole of radius 1 right through, which the body does not have: where its axis leaves the body the
// wall is 1 mm away, from everywhere else of its mouths less.
TEST(Deviation, OfAHoleThatIsMissingIsItsRadius) {
    design::Design design;
    const geometry::Triangles body =
        plain(geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(1)})[0].mesh);
    design::Setting setting;
    setting.placement.start = 13.1;
    setting.placement.offset = 0.21;
    setting.hole.steps.clear();
    setting.tube.reset();
    setting.stone.reset();
    design.settings.push_back(setting);
    const Deviation out = deviation(bandOf(design), body, {}, {});
    EXPECT_NEAR(out.whole.most.value, 1, 0.0035);
    EXPECT_GE(out.nowhereAbove, 1 - 0.001);
    EXPECT_LE(out.nowhereAbove, 1 + 0.005);
    EXPECT_NEAR(out.whole.most.at.z, 0.21, 0.01);
    EXPECT_NEAR(std::atan2(out.whole.most.at.y, out.whole.most.at.x), 13.1 * std::numbers::pi / 180, 0.001);
}

std::string sentence(const geometry::Triangles& body, const std::string& unit, const Designed& designed) {
    try {
        requireUnit(body, lengthUnit(unit), designed, "cast.stl");
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(Unit, IsAskedForWhereItCannotBeRight) {
    const design::Design design;
    const Designed designed = bandOf(design);
    const geometry::Triangles whole = plain(geometry::buildParts(design)[0].mesh);
    for (const auto& [unit, mm] : {std::pair{"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"in", 25.4}}) {
        for (const double shrunk : {1.0, 0.8, 1.3}) {
            geometry::Triangles body = whole;
            move(body, {.turn = Pose().turn, .shift = {3, 4, 5}, .scale = shrunk / mm});
            EXPECT_EQ(sentence(body, unit, designed), "");
            if (mm == 1.0) continue;
            const std::string asked = sentence(body, "mm", designed);
            EXPECT_NE(asked.find(std::string("say --unit ") + unit + "."), std::string::npos) << asked;
        }
    }
    geometry::Triangles body = whole;
    move(body, {.turn = Pose().turn, .shift = {}, .scale = 3});
    EXPECT_NE(sentence(body, "mm", designed).find("in any unit that is known"), std::string::npos);
    EXPECT_THROW(lengthUnit("ell"), base::InputError);
}

}  // namespace
}  // namespace bandwright::compare
