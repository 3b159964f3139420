#include "inlay.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "bench_job.hpp"
#include "plain_ring.hpp"

namespace bandwright::route {
namespace {

double grams(const Packing& packing, double Layer::*of) {
    double sum = 0;
    for (const Layer& layer : packing.layers)
        sum += layer.*of;
    return sum;
}

/// A plain tube 22 mm across with a channel 4 wide and 1 deep, packed level.
design::Design inlaid() {
    design::Design design = check::plainRing();
    design.finger.size = {trade::SizeSystem::Diameter, 17.2};
    design.channels = {check::channel(0, 4, 1)};
    design.allowances.truing = 0;
    design.allowances.fill = 0;
    return design;
}

TEST(Inlay, AChannelFourByOneInTwentyTwoMillimetres) {
    // Pappus: pi (11^2 - 10^2) 4 = 263.894 mm3; with grains of 2.1 and adhesive of 1.15 g/cm3 at 0.6 that is
    // 0.333 g of grains, and 0.454 g of both.
    trade::Catalogue catalogue = trade::builtInCatalogue();
    for (trade::Filler& filler : catalogue.fillers)
        if (filler.id == "crushed-opal") filler.density.value = 2.1;
    for (trade::Adhesive& adhesive : catalogue.adhesives)
        if (adhesive.id == "cyanoacrylate") adhesive.density.value = 1.15;
    const BenchJob bench(inlaid(), design::Stage::Filled, catalogue);
    const Packing packing = packingOf(bench.job, 0);
    EXPECT_NEAR(packing.volume, 263.894, 1e-3);
    EXPECT_NEAR(grams(packing, &Layer::grains), 0.333, 5e-4);
    EXPECT_NEAR(grams(packing, &Layer::grains) + grams(packing, &Layer::adhesive), 0.454, 5e-4);
    // 1 mm in layers of 0.4 at most: three of 0.333. The lowest is a tube from 10 to 10.333.
    ASSERT_EQ(packing.layers.size(), 3U);
    EXPECT_NEAR(packing.layers[0].depth, 1.0 / 3, 1e-9);
    const double lowest = std::numbers::pi * (std::pow(10 + 1.0 / 3, 2) - 100) * 4;
    EXPECT_NEAR(packing.layers[0].grains, lowest * 0.6 * 2.1e-3, 1e-9);
}

TEST(Inlay, StandsOverTheOutsideByItsAllowances) {
    design::Design design = inlaid();
    design.allowances.truing = 0.1;
    design.allowances.fill = 0.2;
    const BenchJob bench(design, design::Stage::Filled);
    const Packing packing = packingOf(bench.job, 0);
    EXPECT_NEAR(packing.top, 11.3, 1e-9);
    EXPECT_NEAR(packing.floor, 10, 1e-9);
    EXPECT_NEAR(packing.volume, std::numbers::pi * (11.3 * 11.3 - 100) * 4, 1e-6);
    ASSERT_EQ(packing.layers.size(), 4U);  // 1.3 mm by 0.4
}

TEST(Inlay, WaitsAsTheAdhesiveAsks) {
    // Handbook of Adhesive Technology: an hour in 0.38 mm; 24 hours until it is turned, common practice.
    const BenchJob bench(inlaid(), design::Stage::Filled);
    const Packing packing = packingOf(bench.job, 0);
    EXPECT_EQ(packing.layers.front().waitMinutes, 60);
    EXPECT_EQ(packing.layers.back().waitMinutes, 24 * 60);
    // 50 drops are 0.300 g (the same handbook).
    for (const Layer& layer : packing.layers)
        EXPECT_NEAR(layer.drops * 0.300 / 50, layer.adhesive, 0.300 / 50 / 2 + 1e-9);
}

TEST(InlayByLot, LayersAddUpToDepthAndMass) {
    int fills = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(300); ++seed) {
        const auto design = whole(seed);
        if (!design) continue;
        const BenchJob bench(*design, design::Stage::Filled);
        for (std::size_t i = 0; i < design->channels.size(); ++i) {
            if (!design->channels[i].fill) continue;
            const Packing packing = packingOf(bench.job, i);
            if (packing.layers.empty()) continue;
            const design::Fill& fill = *design->channels[i].fill;
            const trade::Adhesive& adhesive = *bench.catalogue.adhesive(fill.adhesive);
            double deep = 0;
            for (const Layer& layer : packing.layers) {
                deep += layer.depth;
                EXPECT_LE(layer.depth, adhesive.layer.value + 1e-9);
                EXPECT_GE(layer.grains, 0);
            }
            EXPECT_NEAR(deep, packing.top - packing.floor, 1e-9) << seed;
            const double share = packing.volume * fill.packing / 1000;
            EXPECT_NEAR(grams(packing, &Layer::grains),
                        share * bench.catalogue.filler(fill.filler)->density.value, 1e-7)
                << seed;
            EXPECT_NEAR(grams(packing, &Layer::adhesive),
                        packing.volume * (1 - fill.packing) / 1000 * adhesive.density.value, 1e-7)
                << seed;
            ++fills;
        }
    }
    EXPECT_GT(fills, 20);
}

}  // namespace
}  // namespace bandwright::route
