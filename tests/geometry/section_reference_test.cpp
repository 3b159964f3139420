#include <gtest/gtest.h>

#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <GProp_GProps.hxx>
#include <gp_Ax1.hxx>
#include <gp_Mat.hxx>

#include <cmath>
#include <numbers>

#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "occt_solid.hpp"
#include "random_design.hpp"

/// Sections held against the same outlines in OpenCASCADE.
namespace bandwright::geometry {
namespace {

/// Calls visit(section of one loop) for bands and fills of the designs drawn by lot.
void forLoops(std::uint64_t designs, auto&& visit) {
    for (std::uint64_t seed = 0; seed < designs; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const design::Design design = randomDesign(seed);
        try {
            requireBuildable(design);
        } catch (const base::InputError&) {
            continue;
        }
        const RingSections ring = sections(design);
        for (const Loop& loop : ring.band)
            visit(Section{loop});
        for (const Section& fill : ring.fills) {
            for (const Loop& loop : fill)
                visit(Section{loop});
        }
    }
}

/// Relative error, except for lengths, areas and volumes too small for any reference.
void expectSame(double ours, double theirs, double floor, const char* what) {
    EXPECT_NEAR(ours, theirs, 1e-6 * std::abs(theirs) + floor) << what;
}

TEST(SectionReference, AreaCentroidAndSecondMomentsAreThoseOfOpenCascade) {
    forLoops(designsToDraw(500), [](const Section& section) {
        const SectionProperties ours = properties(section);
        GProp_GProps theirs;
        BRepGProp::SurfaceProperties(reference::face(section.front()), theirs, 1e-10);
        expectSame(ours.area, theirs.Mass(), 1e-8, "area");
        EXPECT_NEAR(ours.centroid.z, theirs.CentreOfMass().Z(), 1e-6);
        EXPECT_NEAR(ours.centroid.r, theirs.CentreOfMass().X(), 1e-6);
        const gp_Mat inertia = theirs.MatrixOfInertia();  // about the centre of mass
        expectSame(ours.secondMomentZ, inertia(3, 3), 1e-7, "second moment about z");
        expectSame(ours.secondMomentR, inertia(1, 1), 1e-7, "second moment about r");
    });
}

TEST(SectionReference, VolumeAndSurfaceWhenTurnedAreThoseOfOpenCascade) {
    // A slice of the ring, since OpenCASCADE's integration over a whole turn is only good to some millionths.
    constexpr double kSlice = 0.25;
    const double whole = 2 * std::numbers::pi / kSlice;
    const gp_Ax1 axis(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1));
    forLoops(designsToDraw(150), [&](const Section& section) {
        const SectionProperties ours = properties(section);
        const TopoDS_Shape slice = BRepPrimAPI_MakeRevol(reference::face(section.front()), axis, kSlice);
        GProp_GProps volume;
        BRepGProp::VolumeProperties(slice, volume, 1e-10);
        GProp_GProps surface;
        BRepGProp::SurfaceProperties(slice, surface, 1e-10);
        expectSame(ours.volume, std::abs(volume.Mass()) * whole, 1e-6, "volume");
        expectSame(ours.surface, (surface.Mass() - 2 * ours.area) * whole, 1e-6, "surface");
    });
}

TEST(SectionReference, ShortestDistancesAreThoseOfOpenCascade) {
    // Between the first segment of one outline and each of the next outline, which may cross it.
    Section before;
    int compared = 0;
    forLoops(designsToDraw(60), [&](const Section& section) {
        if (!before.empty()) {
            for (const Segment& a : before.front()) {
                const Segment& b = section.front()[compared % section.front().size()];
                ++compared;
                EXPECT_NEAR(shortest(a, b).value, reference::shortest(reference::edge(a), reference::edge(b)),
                            1e-6)
                    << name(a.tag.feature) << " (" << a.from.z << ", " << a.from.r << ") and "
                    << name(b.tag.feature) << " (" << b.from.z << ", " << b.from.r << ")";
            }
        }
        before = section;
    });
    EXPECT_GT(compared, 300);
}

}  // namespace
}  // namespace bandwright::geometry
