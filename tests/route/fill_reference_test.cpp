// OpenCASCADE's solid of each fill, as it is packed, as the reference of what is weighed out for it.

#include <gtest/gtest.h>

#include <filesystem>

#include "bench_job.hpp"
#include "design/design_file.hpp"
#include "inlay.hpp"
#include "occt_solid.hpp"

namespace bandwright::route {
namespace {

design::Design ringNamed(const std::string& name) {
    return design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
}

void expectWeighed(const design::Design& design, const std::string& name) {
    const BenchJob bench(design, design::Stage::Filled);
    const geometry::RingSections ring = geometry::sections(design, bench.job.after);
    for (std::size_t i = 0; i < ring.fills.size(); ++i) {
        const TopoDS_Shape solid = bench.job.after.drilled ? reference::drilled(ring.fills[i], design)
                                                           : reference::turned(ring.fills[i]);
        const design::Fill& fill = *design.channels[ring.fillChannel[i]].fill;
        const double grams = reference::volume(solid) / 1000;  // for 1 g/cm3
        double grains = 0, adhesive = 0;
        for (const Layer& layer : packingOf(bench.job, ring.fillChannel[i]).layers) {
            grains += layer.grains;
            adhesive += layer.adhesive;
        }
        EXPECT_NEAR(grains, grams * fill.packing * bench.catalogue.filler(fill.filler)->density.value, 1e-6)
            << name;
        EXPECT_NEAR(adhesive,
                    grams * (1 - fill.packing) * bench.catalogue.adhesive(fill.adhesive)->density.value, 1e-6)
            << name;
    }
}

TEST(FillMass, IsThatOfTheSolid) {
    for (const std::string name : {"harbour", "night-ferry", "shallows", "tide-mill", "anvil-road"})
        expectWeighed(ringNamed(name), name);
    // The hole drilled through the fill afterwards.
    design::Design harbour = ringNamed("harbour");
    harbour.route = design::movedBefore(harbour.route, design::Stage::Filled, design::Stage::Drilled);
    expectWeighed(harbour, "harbour, filled before it is drilled");
}

}  // namespace
}  // namespace bandwright::route
