#include "drawing/hatching.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "coverage.hpp"
#include "drawing/drawing.hpp"
#include "sample_rings.hpp"

namespace bandwright::drawing {
namespace {

/// The part of a circle about (0, 10) with radius 5 that runs counter-clockwise from one angle to another,
/// degrees from the z axis.
geometry::Segment arc(double from, double to) {
    const auto at = [](double degrees) {
        const double angle = degrees * std::numbers::pi / 180;
        return geometry::Vec2{5 * std::cos(angle), 10 + 5 * std::sin(angle)};
    };
    return {.from = at(from), .to = at(to), .centre = {0, 10}, .radius = 5, .tag = {}};
}

geometry::Loop polygon(const std::vector<geometry::Vec2>& corners) {
    geometry::Loop loop;
    for (std::size_t i = 0; i < corners.size(); ++i)
        loop.push_back(geometry::line(corners[i], corners[(i + 1) % corners.size()], {}));
    return loop;
}

geometry::Vec2 mirrored(geometry::Vec2 p) {
    return {-p.z, p.r};
}

geometry::Section mirrored(const geometry::Section& section) {
    geometry::Section result;
    for (const geometry::Loop& loop : section) {
        geometry::Loop image;
        for (auto s = loop.rbegin(); s != loop.rend(); ++s) {
            geometry::Segment other = *s;
            other.from = mirrored(s->to);
            other.to = mirrored(s->from);
            other.centre = mirrored(s->centre);
            image.push_back(other);
        }
        result.push_back(image);
    }
    return result;
}

double lengthOf(const std::vector<geometry::Segment>& lines) {
    double sum = 0;
    for (const geometry::Segment& s : lines)
        sum += geometry::distance(s.from, s.to);
    return sum;
}

double perimeter(const geometry::Section& section) {
    double sum = 0;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& s : loop)
            sum += geometry::arcLength(s);
    }
    return sum;
}

/// Every section of rings drawn by lot: bands, liners and fills, with arcs of all kinds and several loops.
void forSectionsByLot(const auto& visit) {
    for (const StagedDesign& ring : designsByLot(300)) {
        SCOPED_TRACE(ring.name);
        const geometry::RingSections plain = geometry::sections(ring.design, ring.stage);
        visit(plain.band);
        if (!plain.liner.empty()) visit(plain.liner);
        for (const geometry::Section& fill : plain.fills)
            visit(fill);
    }
}

TEST(Hatching, AVerticalLineCrossesACircleWherePythagorasSays) {
    const std::vector<LineCut> found = cutsAlong({{arc(0, 180), arc(180, 360)}}, {0, 1}, -3);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_NEAR(found[0].along, 6, 1e-12);  // 3, 4, 5
    EXPECT_NEAR(found[1].along, 14, 1e-12);
}

TEST(Hatching, ChordsOfACircleAreAsLongAsPythagorasSaysInWhateverPiecesItIs) {
    for (const geometry::Section& circle :
         {geometry::Section{{arc(0, 180), arc(180, 360)}},
          geometry::Section{{arc(17, 133), arc(133, 250), arc(250, 377)}}}) {
        for (const double degrees : {0.0, 30.0, 45.0, 90.0, 133.0, 150.0, 180.0}) {
            const double angle = degrees * std::numbers::pi / 180;
            const geometry::Vec2 normal{-std::sin(angle), std::cos(angle)};
            const std::vector<geometry::Segment> lines = hatching(circle, degrees, 0.7);
            EXPECT_GE(lines.size(), 14U);
            for (const geometry::Segment& s : lines) {
                const double off = geometry::dot(s.from - geometry::Vec2{0, 10}, normal);
                EXPECT_NEAR(geometry::distance(s.from, s.to), 2 * std::sqrt(25 - off * off), 1e-6);
            }
        }
    }
}

TEST(Hatching, ALineThroughCornersComesInAsOftenAsItGoesOut) {
    // Levels 0.5, 1.5, ... pass through corners that point along the lines, across them, and a notch.
    const geometry::Section shape{
        polygon({{0, 0.5}, {2, 1.5}, {4, 0.5}, {5, 2.5}, {4, 4.5}, {2, 3.5}, {0, 4.5}, {-1, 2.5}})};
    double sum = 0;
    for (const geometry::Segment& s : hatching(shape, 0, 1)) {
        EXPECT_TRUE(geometry::contains(shape, s.from + 0.3 * (s.to - s.from)));
        sum += geometry::distance(s.from, s.to);
    }
    EXPECT_NEAR(sum, 5 + 6 + 5, 1e-12);  // at 1.5, 2.5 and 3.5; the tips at 0.5 and 4.5 have no width
}

TEST(Hatching, LinesLieInsideFromOutlineToOutline) {
    forSectionsByLot([](const geometry::Section& section) {
        for (const double degrees : {45.0, 150.0}) {
            for (const geometry::Segment& s : hatching(section, degrees, 0.11)) {
                for (const geometry::Vec2 end : {s.from, s.to}) {
                    double nearest = 1;
                    for (const geometry::Loop& loop : section) {
                        for (const geometry::Segment& edge : loop)
                            nearest =
                                std::min(nearest, geometry::distance(end, geometry::nearestOn(edge, end)));
                    }
                    EXPECT_LT(nearest, 1e-9);
                }
                if (geometry::distance(s.from, s.to) > 1e-6) {
                    EXPECT_TRUE(geometry::contains(section, 0.5 * (s.from + s.to)));
                }
            }
        }
    });
}

/// The width of a section across the lines has a variation of at most its perimeter; so the midpoint rule,
/// which the sum of the hatching is, errs by at most half of that times the spacing (Koksma's inequality).
TEST(Hatching, LengthTimesSpacingIsTheAreaWithinHalfTheSpacingTimesThePerimeter) {
    forSectionsByLot([](const geometry::Section& section) {
        for (const double spacing : {0.1, 0.02}) {
            const double covered = spacing * lengthOf(hatching(section, 45, spacing));
            EXPECT_NEAR(covered, geometry::properties(section).area, spacing * perimeter(section) / 2);
        }
    });
}

TEST(Hatching, TheMirrorImageHasTheMirrorImagesOfTheLines) {
    forSectionsByLot([](const geometry::Section& section) {
        const std::vector<geometry::Segment> lines = hatching(section, 30, 0.13);
        const std::vector<geometry::Segment> images = hatching(mirrored(section), 150, 0.13);
        ASSERT_NEAR(static_cast<double>(lines.size()), static_cast<double>(images.size()), 2);
        EXPECT_NEAR(lengthOf(lines), lengthOf(images), 1e-6);
        for (const geometry::Segment& s : lines) {
            double nearest = 1;
            for (const geometry::Segment& image : images) {
                nearest = std::min(nearest, geometry::distance(s.from, mirrored(image.from)) +
                                                geometry::distance(s.to, mirrored(image.to)));
            }
            if (geometry::distance(s.from, s.to) > 1e-3) {
                EXPECT_LT(nearest, 1e-6);
            }
        }
    });
}

/// FreeType rounds corners to 1/64 of a pixel and what is covered to 1/255; chords stand off arcs by 1/100.
TEST(Hatching, FreeTypeFillsTheSameAreaAndFindsTheLinesInIt) {
    constexpr double kPixels = 200;
    for (const StagedDesign& ring : samplesAtAllStages()) {
        if (ring.stage != design::Stage::Finished && ring.stage != design::Stage::Channelled) continue;
        SCOPED_TRACE(ring.name);
        const geometry::RingSections plain = geometry::sections(ring.design, ring.stage);
        const Coverage coverage(plain.band, kPixels);
        const double exact = geometry::properties(plain.band).area;
        EXPECT_NEAR(coverage.area(), exact, perimeter(plain.band) / kPixels * (1.0 / 128 + 1.0 / 255 + 0.01));
        for (const geometry::Segment& s : hatching(plain.band, 45, 0.1)) {
            // Each pixel along the line except the first and last, through which an outline runs.
            const double length = geometry::distance(s.from, s.to);
            const int count = static_cast<int>(length * kPixels) - 2;
            for (int i = 0; i < count; ++i) {
                const double share = (i + 1.5) / kPixels / length;
                ASSERT_GT(coverage.at(s.from + share * (s.to - s.from)), 0);
            }
        }
    }
}

}  // namespace
}  // namespace bandwright::drawing
