// OpenCASCADE's solid of each stage, and the lines a maker measures along, as the reference.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "drawn_design.hpp"
#include "drawn_workshop.hpp"
#include "geometry/ring.hpp"
#include "occt_solid.hpp"
#include "route/plan.hpp"
#include "turned_stages.hpp"

namespace bandwright::route {
namespace {

constexpr double kAside = 2e-6;      // mm: a line along a face or through a corner says nothing
constexpr double kTolerance = 2e-5;  // mm

bool isNear(const std::vector<double>& crossings, double wanted) {
    return std::ranges::any_of(crossings, [&](double at) { return std::abs(at - wanted) < kTolerance; });
}

/// Whether a line out along the radius, beside the place by a little, meets the solid at the place's radius.
bool isMetAlongRadius(const TopoDS_Shape& solid, geometry::Vec2 p) {
    for (const double aside : {0.0, -kAside, kAside})
        if (isNear(reference::crossings(solid, {0, 0, p.z + aside}, {1, 0, 0}), p.r)) return true;
    return false;
}

bool isMetAlongAxis(const TopoDS_Shape& solid, geometry::Vec2 p) {
    constexpr double kBeyond = 100;
    for (const double aside : {0.0, -kAside, kAside})
        if (isNear(reference::crossings(solid, {p.r + aside, 0, -kBeyond}, {0, 0, 1}), p.z + kBeyond))
            return true;
    return false;
}

struct Work {
    design::Design design;
    trade::Workshop shop;
    Plan plan;
};

/// A ring and a workshop by lot, and the plan; nothing where no ring can be made of that seed.
std::optional<Work> drawnWork(std::uint64_t seed) {
    const auto design = check::drawn(seed);
    if (!design) return std::nullopt;
    const trade::Workshop shop = drawnWorkshop(seed);
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    return Work{*design, shop,
                plan(*design, catalogue, shop, check::check(*design, catalogue, {.remedies = false}))};
}

TEST(Readings, AreMetByALineThroughTheSolid) {
    std::size_t readings = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(25); ++seed) {
        const auto drawn = drawnWork(seed);
        if (!drawn) continue;
        SCOPED_TRACE(seed);
        const auto& [design, shop, plan] = *drawn;
        for (const StageWork& work : plan.stages) {
            if (!isTurned(work.stage)) continue;
            const geometry::RingSections plain = geometry::sections(
                design, inThisWorkshop(design, trade::builtInCatalogue(), shop, work.stage));
            std::vector<TopoDS_Shape> solids{reference::turned(plain.band)};
            if (!plain.liner.empty()) solids.push_back(reference::turned(plain.liner));
            for (const geometry::Section& fill : plain.fills)
                solids.push_back(reference::turned(fill));
            const auto any = [&](auto&& isMet, geometry::Vec2 p) {
                return std::ranges::any_of(solids,
                                           [&](const TopoDS_Shape& solid) { return isMet(solid, p); });
            };
            for (const Operation& operation : work.operations) {
                for (const Reading& r : operation.readings) {
                    SCOPED_TRACE(operation.name + ": " + r.what);
                    // The two places the instrument touches, and what lies between them.
                    if (r.span == Span::Diameter) {
                        EXPECT_TRUE(any(isMetAlongRadius, {r.from.z, (r.value - r.loose) / 2}));
                    } else if (r.span == Span::Radial) {
                        const double away = r.to.r > r.from.r ? r.value : -r.value;
                        EXPECT_TRUE(any(isMetAlongRadius, r.from));
                        EXPECT_TRUE(any(isMetAlongRadius, {r.to.z, r.from.r + away}));
                    } else if (r.span == Span::Along) {
                        const double away = r.to.z > r.from.z ? r.value : -r.value;
                        EXPECT_TRUE(any(isMetAlongAxis, r.from));
                        EXPECT_TRUE(any(isMetAlongAxis, {r.from.z + away, r.to.r}) ||
                                    any(isMetAlongRadius, {r.from.z + away, r.to.r}));
                    } else {
                        continue;
                    }
                    ++readings;
                }
            }
        }
    }
    EXPECT_GT(readings, 50U);
}

// The chips of each turning step, by OpenCASCADE's own integration of what is there before and after.
TEST(Chips, AreWhatTheSolidLoses) {
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(12); ++seed) {
        const auto drawn = drawnWork(seed);
        if (!drawn) continue;
        SCOPED_TRACE(seed);
        const auto& [design, shop, plan] = *drawn;
        double before = 0;
        for (const StageWork& work : plan.stages) {
            const geometry::Workpiece piece =
                inThisWorkshop(design, trade::builtInCatalogue(), shop, work.stage);
            if (piece.drilled || work.stage == design::Stage::Finished) break;
            const double now = reference::volume(reference::turned(geometry::sections(design, piece).band));
            if (before > 0) {
                EXPECT_NEAR(work.chips, before - now, 2e-6 * before);
            }
            before = now;
        }
    }
}

}  // namespace
}  // namespace bandwright::route
