#include "geometry/section.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/ring.hpp"
#include "outline.hpp"
#include "random_design.hpp"
#include "section_checks.hpp"

namespace bandwright::geometry {
namespace {

constexpr Tag kTag{Feature::Bore};

Loop polygon(std::initializer_list<Vec2> corners) {
    Loop loop;
    for (auto p = corners.begin(); p != corners.end(); ++p)
        loop.push_back(line(*p, p + 1 == corners.end() ? *corners.begin() : *(p + 1), kTag));
    return loop;
}

Loop circle(Vec2 centre, double radius) {
    const Vec2 right = centre + Vec2{radius, 0};
    const Vec2 left = centre - Vec2{radius, 0};
    return {arcBySagitta(left, right, radius, kTag), arcBySagitta(right, left, radius, kTag)};
}

TEST(Section, ArcBySagittaHasTheRadiusOfTheSagittaFormula) {
    // Weisstein, "Sagitta", MathWorld: r = s / 2 + a^2 / (2 s) with half chord a.
    const Segment dome = arcBySagitta({3, 10}, {-3, 10}, 0.5, kTag);
    EXPECT_NEAR(dome.radius, 0.25 + 9 / 1.0, 1e-12);
    EXPECT_TRUE(dome.ccw);
    EXPECT_NEAR(pointAt(dome, 0.5).z, 0, 1e-12);
    EXPECT_NEAR(pointAt(dome, 0.5).r, 10.5, 1e-12);
    const Segment hollow = arcBySagitta({3, 10}, {-3, 10}, -0.5, kTag);
    EXPECT_FALSE(hollow.ccw);
    EXPECT_NEAR(pointAt(hollow, 0.5).r, 9.5, 1e-12);
    // More than half a circle: sagitta above the radius.
    const Segment most = arcBySagitta({3, 10}, {-3, 10}, 6, kTag);
    EXPECT_NEAR(most.radius, 3 + 9 / 12.0, 1e-12);
    EXPECT_NEAR(pointAt(most, 0.5).r, 16, 1e-12);
    EXPECT_GT(std::abs(sweep(most)), kPi);
}

TEST(Section, PropertiesOfARectangleAreThoseOfTheHandbook) {
    // b h^3 / 12 and h b^3 / 12; e.g. Young & Budynas, "Roark's Formulas for Stress and Strain", 7th ed.,
    // table A.1.
    const SectionProperties p = properties({polygon({{-4, 9}, {4, 9}, {4, 11.2}, {-4, 11.2}})});
    EXPECT_NEAR(p.area, 17.6, 1e-12);
    EXPECT_NEAR(p.centroid.z, 0, 1e-12);
    EXPECT_NEAR(p.centroid.r, 10.1, 1e-12);
    EXPECT_NEAR(p.secondMomentZ, 8 * std::pow(2.2, 3) / 12, 1e-11);
    EXPECT_NEAR(p.secondMomentR, 2.2 * std::pow(8, 3) / 12, 1e-11);
    EXPECT_NEAR(p.volume, kPi * (11.2 * 11.2 - 81) * 8, 1e-9);
    EXPECT_NEAR(p.surface, 2 * kPi * (11.2 + 9) * 8 + 2 * kPi * (11.2 * 11.2 - 81), 1e-9);
}

TEST(Section, PropertiesOfATriangleAreThoseOfTheHandbook) {
    // b h^3 / 36 about the axis through the centroid parallel to the base (Roark, table A.1).
    const SectionProperties p = properties({polygon({{1, 9}, {7, 9}, {3, 13}})});
    EXPECT_NEAR(p.area, 12, 1e-12);
    EXPECT_NEAR(p.centroid.r, 9 + 4.0 / 3, 1e-12);
    EXPECT_NEAR(p.centroid.z, 11.0 / 3, 1e-12);
    EXPECT_NEAR(p.secondMomentZ, 6 * 64 / 36.0, 1e-11);
}

TEST(Section, PropertiesOfACircleAndItsTorusAreThePublishedOnes) {
    // Area pi r^2, second moment pi r^4 / 4 (Roark, table A.1); torus: volume 2 pi^2 R r^2, surface
    // 4 pi^2 R r (Weisstein, "Torus", MathWorld).
    for (const double r : {0.2, 1.0, 2.5}) {
        const SectionProperties p = properties({circle({1.5, 10}, r)});
        EXPECT_NEAR(p.area, kPi * r * r, 1e-12);
        EXPECT_NEAR(p.centroid.z, 1.5, 1e-12);
        EXPECT_NEAR(p.centroid.r, 10, 1e-11);
        EXPECT_NEAR(p.secondMomentZ, kPi * std::pow(r, 4) / 4, 1e-10);
        EXPECT_NEAR(p.secondMomentR, kPi * std::pow(r, 4) / 4, 1e-10);
        EXPECT_NEAR(p.volume, 2 * kPi * kPi * 10 * r * r, 1e-9);
        EXPECT_NEAR(p.surface, 4 * kPi * kPi * 10 * r, 1e-9);
    }
}

TEST(Section, PropertiesOfASemicircleAndACircularSegmentArePublishedOnes) {
    // Semicircle: centroid 4 r / (3 pi) above its flat, I = (pi / 8 - 8 / (9 pi)) r^4 (Roark, table A.1).
    const double r = 2;
    const Section half = {{line({-r, 10}, {r, 10}, kTag), arcBySagitta({r, 10}, {-r, 10}, r, kTag)}};
    const SectionProperties p = properties(half);
    EXPECT_NEAR(p.area, kPi * r * r / 2, 1e-12);
    EXPECT_NEAR(p.centroid.r, 10 + 4 * r / (3 * kPi), 1e-11);
    EXPECT_NEAR(p.secondMomentZ, (kPi / 8 - 8 / (9 * kPi)) * std::pow(r, 4), 1e-10);
    EXPECT_NEAR(p.secondMomentR, kPi / 8 * std::pow(r, 4), 1e-10);

    // Weisstein, "Circular Segment", MathWorld: A = R^2 acos((R - h) / R) - (R - h) sqrt(2 R h - h^2).
    for (const double h : {0.1, 0.5, 1.9, 2.0, 3.0, 3.9}) {
        const double chord = std::sqrt(2 * r * h - h * h);
        const Section segment = {
            {line({-chord, 10}, {chord, 10}, kTag), arcBySagitta({chord, 10}, {-chord, 10}, h, kTag)}};
        EXPECT_NEAR(properties(segment).area, r * r * std::acos((r - h) / r) - (r - h) * chord, 1e-11) << h;
    }
}

TEST(Section, SecondMomentsOfACircularSectorAreThoseOfTheHandbook) {
    // Sector of half angle a about its own axis of symmetry: R^4 / 4 (a - sin a cos a) (Roark, table A.1).
    const double radius = 3;
    for (const double a : {0.2, 0.8, 1.5}) {
        const Vec2 apex{0, 10};
        const Vec2 right = apex + radius * Vec2{std::sin(a), std::cos(a)};
        const Vec2 left = apex + radius * Vec2{-std::sin(a), std::cos(a)};
        const Section sector = {{line(apex, right, kTag),
                                 arcBySagitta(right, left, radius * (1 - std::cos(a)), kTag),
                                 line(left, apex, kTag)}};
        const SectionProperties p = properties(sector);
        EXPECT_NEAR(p.area, radius * radius * a, 1e-11);
        EXPECT_NEAR(p.centroid.r, 10 + 2 * radius * std::sin(a) / (3 * a), 1e-11);
        EXPECT_NEAR(p.secondMomentR, std::pow(radius, 4) / 4 * (a - std::sin(a) * std::cos(a)), 1e-10);
    }
}

TEST(Section, ANapkinRingHasTheVolumeOfTheSphereOfItsHeight) {
    // Weisstein, "Spherical Ring", MathWorld: pi h^3 / 6, whatever the bore.
    for (const double bore : {4.0, 9.0, 20.0}) {
        const double height = 6;
        const double sphere = std::hypot(bore, height / 2);
        const Section ring = {{line({-height / 2, bore}, {height / 2, bore}, kTag),
                               arcBySagitta({height / 2, bore}, {-height / 2, bore}, sphere - bore, kTag)}};
        const SectionProperties p = properties(ring);
        EXPECT_NEAR(p.volume, kPi * std::pow(height, 3) / 6, 1e-9);
        // Zone of the sphere 2 pi R h (Weisstein, "Zone", MathWorld) and the bore's cylinder.
        EXPECT_NEAR(p.surface, 2 * kPi * (sphere + bore) * height, 1e-9);
    }
}

TEST(Section, ABandWithTheOutsideOfASphereIsANapkinRing) {
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 18};
    design::Band& band = design.band;
    band.width = 7;
    band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
    band.left.shape = design::EdgeShape::Sharp;
    band.right.shape = design::EdgeShape::Sharp;
    // The arc through the edges whose centre lies on the axis: its radius is the largest outside. An edge
    // face of 0.5 mm stands under it.
    const double edge = 9.5;
    const double sphere = std::hypot(edge, band.width / 2);
    band.thickness = sphere - 9;
    band.outside = {design::OutsideShape::Domed, sphere - edge};
    EXPECT_NO_THROW(requireBuildable(design));
    const double napkin = kPi * std::pow(band.width, 3) / 6;
    const double rest = kPi * (edge * edge - 81) * band.width;
    EXPECT_NEAR(properties(sections(design).band).volume, napkin + rest, 1e-9);
}

TEST(Section, AKnifeEdgeBandIsTwoConeFrustums) {
    // Weisstein, "Conical Frustum", MathWorld: V = pi h / 3 (R1^2 + R2^2 + R1 R2), lateral pi (R1 + R2) s.
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 18};
    design::Band& band = design.band;
    band.width = 6;
    band.thickness = 2;
    band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
    band.outside = {design::OutsideShape::KnifeEdge, 0.8};
    band.left.shape = design::EdgeShape::Sharp;
    band.right.shape = design::EdgeShape::Sharp;
    const double top = 11;
    const double low = 10.2;
    const double frustums = 2 * kPi * 3 / 3 * (top * top + low * low + top * low);
    const SectionProperties p = properties(sections(design).band);
    EXPECT_NEAR(p.volume, frustums - kPi * 81 * 6, 1e-9);
    EXPECT_NEAR(p.surface,
                2 * kPi * (top + low) * std::hypot(3, 0.8) + 2 * kPi * 9 * 6 + 2 * kPi * (low * low - 81),
                1e-9);
}

TEST(Section, ACapOfASphereHasThePublishedVolume) {
    // Weisstein, "Spherical Cap", MathWorld: pi h^2 (3 R - h) / 3, here turned about the axis it touches.
    const double radius = 5;
    const double h = 1.2;
    const double a = std::sqrt(h * (2 * radius - h));
    const Vec2 rim{0, a};
    const Vec2 pole{h, 0};
    Segment arc{
        .from = pole, .to = rim, .centre = {h - radius, 0}, .radius = radius, .ccw = true, .tag = kTag};
    const Section cap = {{line({0, 0}, pole, kTag), arc, line(rim, {0, 0}, kTag)}};
    EXPECT_NEAR(properties(cap).volume, kPi * h * h * (3 * radius - h) / 3, 1e-10);
}

TEST(Section, AHoleInASectionIsTakenFromEveryProperty) {
    const Loop outer = circle({0, 10}, 2);
    Loop inner;
    const Loop small = circle({0, 10}, 1);
    for (auto s = small.rbegin(); s != small.rend(); ++s)
        inner.push_back(reversed(*s));
    const SectionProperties p = properties({outer, inner});
    EXPECT_NEAR(p.area, 3 * kPi, 1e-12);
    EXPECT_NEAR(p.secondMomentZ, kPi * (16 - 1) / 4, 1e-10);  // Roark, table A.1: hollow circle
    EXPECT_NEAR(p.surface, 4 * kPi * kPi * 10 * 3, 1e-9);
}

TEST(Section, NothingHasNoPropertiesAndNoNumbersThatAreNot) {
    const SectionProperties p = properties({});
    EXPECT_EQ(p.area, 0);
    EXPECT_EQ(p.centroid, (Vec2{0, 0}));
    EXPECT_EQ(p.secondMomentR, 0);
}

/// A direction or a place drawn by lot, from designs' own numbers.
struct Draw {
    std::uint64_t state;
    double share() {
        state = state * 6364136223846793005u + 1442695040888963407u;  // Knuth, MMIX
        return static_cast<double>(state >> 11) * 0x1p-53;
    }
    Vec2 place() { return {6 * share() - 3, 8 + 6 * share()}; }
    Segment segment() {
        const Vec2 from = place();
        const Vec2 to = place();
        if (share() < 0.4) return line(from, to, kTag);
        const double sagitta = (2 * share() - 1) * 1.5 * distance(from, to);
        return arcBySagitta(from, to, sagitta, kTag);
    }
};

TEST(Section, ShortestIsNeverLongerThanAnySampledDistanceAndItsEndsLieOnTheSegments) {
    Draw draw{1};
    constexpr int kSamples = 60;
    for (std::uint64_t n = 0; n < designsToDraw(2000); ++n) {
        const Segment a = draw.segment();
        const Segment b = draw.segment();
        const Gap gap = shortest(a, b);
        EXPECT_NEAR(distance(gap.from, gap.to), gap.value, 1e-12);
        EXPECT_LT(distance(gap.from, nearestOn(a, gap.from)), 1e-9);
        EXPECT_LT(distance(gap.to, nearestOn(b, gap.to)), 1e-9);
        double sampled = std::numeric_limits<double>::infinity();
        for (int i = 0; i <= kSamples; ++i) {
            for (int j = 0; j <= kSamples; ++j) {
                sampled = std::min(sampled, distance(pointAt(a, static_cast<double>(i) / kSamples),
                                                     pointAt(b, static_cast<double>(j) / kSamples)));
            }
        }
        EXPECT_LE(gap.value, sampled + 1e-12);
        // Sampling can miss by at most half a step on each.
        EXPECT_GE(gap.value, sampled - (arcLength(a) + arcLength(b)) / (2 * kSamples));
        EXPECT_NEAR(shortest(b, a).value, gap.value, 1e-12);
    }
}

TEST(Section, TheRectangleRoundASegmentHoldsItAndTouchesItOnEachSide) {
    Draw draw{7};
    constexpr int kSamples = 400;
    for (std::uint64_t n = 0; n < designsToDraw(2000); ++n) {
        const Segment s = draw.segment();
        const Rectangle round = rectangleRound(s);
        Vec2 low = s.from;
        Vec2 high = s.from;
        for (int i = 1; i <= kSamples; ++i) {
            const Vec2 p = pointAt(s, static_cast<double>(i) / kSamples);
            low = {std::min(low.z, p.z), std::min(low.r, p.r)};
            high = {std::max(high.z, p.z), std::max(high.r, p.r)};
        }
        // Between two samples an arc rises at most by their sagitta.
        const double missed =
            s.isArc() ? std::pow(arcLength(s) / kSamples, 2) / (8 * s.radius) + 1e-12 : 1e-12;
        for (const auto& [mine, sampled] :
             {std::pair(low.z, round.low.z), std::pair(low.r, round.low.r), std::pair(round.high.z, high.z),
              std::pair(round.high.r, high.r)}) {
            EXPECT_GE(mine, sampled - 1e-12);
            EXPECT_LE(mine, sampled + missed);
        }
    }
}

TEST(Section, RectanglesAreAsFarApartAsTheirNearestPlaces) {
    const Rectangle a{{0, 0}, {2, 1}};
    EXPECT_EQ(distance(a, {{1, 0.5}, {5, 6}}), 0);
    EXPECT_EQ(distance(a, {{4, 0}, {5, 6}}), 2);
    EXPECT_EQ(distance(a, {{5, 5}, {6, 6}}), 5);
    EXPECT_EQ(distance({{5, 5}, {6, 6}}, a), 5);
}

TEST(Section, ContainsAgreesWithTheWindingOfASampledPolygon) {
    Draw draw{2};
    int inside = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(300); ++seed) {
        const design::Design design = randomDesign(seed);
        try {
            requireBuildable(design);
        } catch (const std::exception&) {
            continue;
        }
        const Section band = sections(design).band;
        for (int k = 0; k < 50; ++k) {
            const Vec2 p{(draw.share() - 0.5) * 1.2 * design.band.width,
                         design::boreRadius(design) + (1.4 * draw.share() - 0.2) * design.band.thickness};
            double nearest = std::numeric_limits<double>::infinity();
            double winding = 0;
            for (const Loop& loop : band) {
                for (const Segment& s : loop) {
                    nearest = std::min(nearest, distance(p, nearestOn(s, p)));
                    const int steps = s.isArc() ? 100 : 1;
                    for (int i = 0; i < steps; ++i) {
                        const Vec2 u = pointAt(s, static_cast<double>(i) / steps) - p;
                        const Vec2 v = pointAt(s, static_cast<double>(i + 1) / steps) - p;
                        winding += std::atan2(cross(u, v), dot(u, v));
                    }
                }
            }
            if (nearest < 1e-2) continue;
            EXPECT_EQ(contains(band, p), std::abs(winding) > kPi) << "seed " << seed;
            inside += contains(band, p) ? 1 : 0;
        }
    }
    EXPECT_GT(inside, 100);
}

TEST(Section, ContainsKnowsPointsLevelWithCornersAndOnChords) {
    const Section round = {circle({0, 10}, 1)};
    EXPECT_TRUE(contains(round, {0, 10}));
    EXPECT_TRUE(contains(round, {0.999, 10}));
    EXPECT_FALSE(contains(round, {-1.001, 10}));
    EXPECT_FALSE(contains(round, {1.001, 10}));
    EXPECT_FALSE(contains(round, {0, 11.001}));
    EXPECT_FALSE(contains(round, {-2, 11}));
    EXPECT_FALSE(contains(round, {-2, 9}));
    const Section diamond = {polygon({{0, 9}, {1, 10}, {0, 11}, {-1, 10}})};
    EXPECT_FALSE(contains(diamond, {-2, 10}));
    EXPECT_TRUE(contains(diamond, {0, 10}));
    EXPECT_FALSE(contains(diamond, {-2, 9}));
    EXPECT_FALSE(contains(diamond, {-2, 11}));
    // An arc of more than half a circle that begins at its own lowest place.
    const Segment most{
        .from = {0, 9}, .to = {-1, 10}, .centre = {0, 10}, .radius = 1, .ccw = true, .tag = kTag};
    const Section pac = {{most, line({-1, 10}, {0, 9}, kTag)}};
    EXPECT_TRUE(contains(pac, {0.5, 9.5}));
    EXPECT_TRUE(contains(pac, {-0.2, 9.9}));
    EXPECT_FALSE(contains(pac, {-0.6, 9.3}));
    EXPECT_FALSE(contains(pac, {-2, 9.5}));
}

TEST(Section, CrossingsLieOnBothSegments) {
    Draw draw{3};
    const std::uint64_t drawn = designsToDraw(10000);
    std::uint64_t found = 0;
    for (std::uint64_t n = 0; n < drawn; ++n) {
        const Segment a = draw.segment();
        const Segment b = draw.segment();
        for (const Crossing& c : crossings(a, b)) {
            ++found;
            EXPECT_LT(distance(c.point, nearestOn(a, c.point)), 1e-6);
            EXPECT_LT(distance(c.point, nearestOn(b, c.point)), 1e-6);
            EXPECT_LT(distance(c.point, pointAt(a, c.ta)), 1e-6);
            EXPECT_LT(distance(c.point, pointAt(b, c.tb)), 1e-6);
        }
    }
    EXPECT_GT(found, drawn / 10);
}

TEST(Section, LinesThatRunOnInEachOtherDoNotCross) {
    const Segment whole =
        line({0.7487277005493036, 9.108002241032869}, {-1.025329549655152, 10.882059491237325}, kTag);
    const Segment a = line(whole.from, pointAt(whole, 0.4), kTag);
    const Segment b = line(pointAt(whole, 0.6), whole.to, kTag);
    EXPECT_EQ(crossings(a, b).count, 0u);
}

}  // namespace
}  // namespace bandwright::geometry
