#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <numeric>
#include <vector>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "drawn_design.hpp"
#include "geometry/ring.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {
namespace {

void forEachDrawn(const std::function<void(const design::Design&)>& test,
                  const std::vector<std::uint64_t>& besides = {}) {
    const std::uint64_t count = geometry::designsToDraw(300);
    std::vector<std::uint64_t> seeds(count);
    std::iota(seeds.begin(), seeds.end(), std::uint64_t{0});
    seeds.insert(seeds.end(), besides.begin(), besides.end());
    std::uint64_t tried = 0;
    for (const std::uint64_t seed : seeds) {
        const auto design = drawn(seed);
        if (!design) continue;
        ++tried;
        SCOPED_TRACE("seed " + std::to_string(seed));
        test(*design);
    }
    EXPECT_GT(tried, count / 4);
}

/// Left and right change places.
std::string mirroredId(std::string id) {
    const auto swap = [&](const std::string& from, const std::string& to) {
        const std::size_t at = id.find(from);
        if (at == std::string::npos) return false;
        id.replace(at, from.size(), to);
        return true;
    };
    if (!swap("left", "right")) swap("right", "left");
    return id;
}

TEST(Measures, OfAnyRingLieBetweenTheirWitnesses) {
    forEachDrawn(
        [](const design::Design& design) {
            for (const Measure& m : checked(design).measures) {
                EXPECT_TRUE(std::isfinite(m.value)) << m.id;
                if (m.unit != "mm") continue;
                EXPECT_NEAR(geometry::distance(m.from, m.to), std::abs(m.value), 1e-6) << m.id;
            }
        },
        {1695, 5688, 5882});  // bores that end on the mandrel at one side and beside it at the other
}

TEST(Measures, LieBetweenFeaturesWhoseFieldsTheDesignHas) {
    forEachDrawn([](const design::Design& design) {
        for (const Measure& m : checked(design).measures) {
            for (const geometry::Tag tag : {m.fromTag, m.toTag}) {
                const std::string field = geometry::fieldOf(design, tag);
                EXPECT_TRUE(field == "finger.size" || design::numberAt(design, field) != nullptr)
                    << m.id << " leads to " << field;
            }
        }
    });
}

TEST(Measures, OfAMirroredRingAreTheSame) {
    forEachDrawn([](const design::Design& design) {
        const Report report = checked(design);
        const Report other = checked(geometry::mirrored(design));
        ASSERT_EQ(report.measures.size(), other.measures.size());
        EXPECT_EQ(report.verdict, other.verdict);
        for (const Measure& m : report.measures) {
            if (m.id.starts_with("land")) continue;  // numbered from the left
            EXPECT_NEAR(valueOf(other, mirroredId(m.id), m.stage), m.value, 1e-5 * std::max(1.0, m.value))
                << m.id;
        }
    });
}

/// Where a ring begins to be counted round is nothing of the ring's.
TEST(Measures, OfARingTurnedAboutItsAxisAreTheSame) {
    std::uint64_t seed = 0;
    forEachDrawn(
        [&](const design::Design& design) {
            const double by = std::fmod(static_cast<double>(++seed) * 137.50776, 360);  // the golden angle
            design::Design turned = design;
            for (design::Setting& s : turned.settings) {
                s.placement.start = std::fmod(s.placement.start + by, 360);
                for (double& angle : s.placement.angles)
                    angle = std::fmod(angle + by, 360);
            }
            const Report report = checked(design);
            const Report other = checked(turned);
            ASSERT_EQ(report.measures.size(), other.measures.size());
            EXPECT_EQ(report.verdict, other.verdict);
            for (std::size_t i = 0; i < report.measures.size(); ++i) {
                EXPECT_EQ(report.measures[i].id, other.measures[i].id);
                EXPECT_NEAR(report.measures[i].value, other.measures[i].value, 1e-6) << report.measures[i].id;
            }
        },
        {1188, 1796, 2061, 2235, 2962});  // ways that only just clear the bore or a hollow outside
}

TEST(Measures, OfTheFloorNeverFallWhenTheBandGetsThicker) {
    forEachDrawn([](const design::Design& design) {
        design::Design thicker = design;
        thicker.band.thickness += 0.1;
        try {
            geometry::requireBuildable(thicker);
        } catch (const base::InputError&) {
            return;
        }
        const Report before = checked(design);
        const Report after = checked(thicker);
        for (const Measure& m : before.measures) {
            if (!m.id.starts_with("floor-wall")) continue;
            const Measure* now = measureOf(after, m.id, m.stage);
            if (now == nullptr) continue;
            EXPECT_GE(now->value, m.value - 1e-5) << m.id;
        }
    });
}

TEST(Measures, DoNotDependOnTheOrderOfSettings) {
    design::Design design = plainRing();
    design.settings = {bareHole(1.2, 1, 2, 1), bareHole(-1, 1.5, 3, 1.2)};
    design.settings[1].placement.start = 180;
    const Report report = checked(design);
    std::swap(design.settings[0], design.settings[1]);
    const Report other = checked(design);
    for (const char* id : {"hole-to-edge", "seat-floor"}) {
        EXPECT_EQ(valueOf(report, id), valueOf(other, id + std::string("@2")));
        EXPECT_EQ(valueOf(report, id + std::string("@2")), valueOf(other, id));
    }
}

TEST(Measures, TurnWithTheSetting) {
    design::Design design = plainRing();
    design.settings = {bareHole(1.2, 1, 2, 1)};
    design.settings[0].placement.start = 30;
    const Report report = checked(design);
    const Measure& m = *measureOf(report, "hole-to-edge");
    EXPECT_NEAR(std::atan2(m.from.y, m.from.x), std::numbers::pi / 6, 1e-12);
}

TEST(Measures, OfTheThinnestWallAreNoThickerThanAnyOtherWallOfTheTurnedBand) {
    forEachDrawn([](const design::Design& design) {
        const Report report = checked(design);
        for (const Measure& m : report.measures) {
            for (const char* id : {"floor-wall", "rim-left", "rim-right", "land"}) {
                if (m.id != id && !m.id.starts_with(std::string(id) + "@")) continue;
                EXPECT_LE(valueOf(report, "thinnest-wall", m.stage), m.value) << m.id;
            }
        }
    });
}

/// Places along all segments that pass the test, 0.01 mm apart.
std::vector<geometry::Vec2> placesOf(const geometry::Section& body, auto&& test) {
    std::vector<geometry::Vec2> places;
    for (const geometry::Segment& s : geometry::segmentsWhere(body, test)) {
        const int count = 2 + static_cast<int>(geometry::arcLength(s) / 0.01);
        for (int k = 0; k <= count; ++k)
            places.push_back(geometry::pointAt(s, static_cast<double>(k) / count));
    }
    return places;
}

TEST(Measures, OfTheThinnestWallAreNoThickerThanAnyWayFromTheBoreToTheOutside) {
    forEachDrawn([](const design::Design& design) {
        const geometry::Section band = geometry::sections(design).band;
        const auto region = [](geometry::Tag tag) { return geometry::regionOf(tag.feature); };
        const auto inside = placesOf(band, [&](geometry::Tag tag) {
            return region(tag) == (design.band.liner ? geometry::Region::LinerJoint : geometry::Region::Bore);
        });
        const auto outside =
            placesOf(band, [&](geometry::Tag tag) { return region(tag) == geometry::Region::Outside; });
        const Report report = checked(design);
        const Measure* wall = measureOf(report, "thinnest-wall");
        const double told = wall == nullptr ? 1e9 : wall->value;
        for (const geometry::Vec2 p : inside) {
            for (const geometry::Vec2 q : outside) {
                if (geometry::distance(p, q) > told - 1e-9) continue;
                bool isInMetal = true;
                for (int k = 0; k < 100 && isInMetal; ++k)
                    isInMetal = geometry::contains(band, p + (k + 0.5) / 100 * (q - p));
                EXPECT_FALSE(isInMetal) << geometry::distance(p, q) << " told " << told;
            }
        }
    });
}

TEST(Measures, OfMassAreThoseOfThePartsTheRingIsBuiltOf) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 1)};
    design.settings = {design::Setting{}};
    design.settings[0].placement.count = 3;
    design.band.liner = design::Liner{.metal = "silver-fine", .thickness = 0.5};
    const Report report = checked(design);
    double band = 0;
    double liner = 0;
    double fill = 0;
    double tube = 0;
    double stone = 0;
    for (const geometry::Part& part :
         geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(0.5)})) {
        const double meshed = geometry::volume(part.mesh);
        switch (part.role) {
            case geometry::PartRole::Band:
                band = meshed;
                break;
            case geometry::PartRole::Liner:
                liner = meshed;
                break;
            case geometry::PartRole::Fill:
                fill = meshed;
                break;
            case geometry::PartRole::Tube:
                tube = meshed;
                break;
            case geometry::PartRole::Stone:
                stone = meshed;
                break;
        }
    }
    // Grade 5 4.42, opal 2.15, emerald 2.72 g/cm3: the catalogue's figures, with their sources there.
    EXPECT_NEAR(valueOf(report, "band-mass"), 4.42e-3 * band, 1e-3);
    EXPECT_NEAR(valueOf(report, "filler-mass"), 2.15e-3 * 0.6 * fill, 1e-4);
    EXPECT_NEAR(valueOf(report, "stone-weight"), 2.72e-3 * stone / 0.2, 1e-4);
    const trade::Metal& silver = *trade::builtInCatalogue().metal("silver-fine");
    EXPECT_NEAR(valueOf(report, "liner-mass"), silver.density.value * 1e-3 * liner, 1e-3);
    const trade::Metal& gold = *trade::builtInCatalogue().metal("gold-18k-yellow");
    EXPECT_NEAR(valueOf(report, "tube-mass"), gold.density.value * 1e-3 * tube, 1e-4);
    EXPECT_NEAR(valueOf(report, "ring-mass"),
                valueOf(report, "band-mass") + valueOf(report, "liner-mass") +
                    valueOf(report, "filler-mass") + valueOf(report, "adhesive-mass") +
                    3 * valueOf(report, "tube-mass") + 3 * 0.2 * valueOf(report, "stone-weight"),
                1e-9);
}

}  // namespace
}  // namespace bandwright::check
