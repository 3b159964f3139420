// STEP files as OpenCASCADE reads them: valid, closed, of the exact volume, and of the surfaces they should
// be.

#include <gtest/gtest.h>
#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_Surface.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDF_Tool.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_Material.hxx>
#include <XCAFDoc_MaterialTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include <algorithm>
#include <cmath>
#include <map>

#include "boundary_checks.hpp"
#include "design/design_file.hpp"
#include "formats/model.hpp"
#include "formats/stone_model.hpp"
#include "geometry/boundary.hpp"
#include "mesh_checks.hpp"
#include "occt_boundary.hpp"
#include "program.hpp"
#include "random_design.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

design::Design sample(const std::string& name) {
    const fs::path folder = BANDWRIGHT_MODELS;
    design::Design design = design::readDesign(folder / (name + ".ring.json"));
    readStoneModels(design, folder);
    return design;
}

struct ReadSolid {
    std::string name;
    TopoDS_Shape shape;
    Quantity_Color colour;
};

std::string nameOf(const TDF_Label& label) {
    Handle(TDataStd_Name) name;
    if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return {};
    return TCollection_AsciiString(name->Get()).ToCString();
}

std::vector<ReadSolid> readBack(const fs::path& file) {
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
    Handle(TDocStd_Document) document;
    XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", document);
    STEPCAFControl_Reader reader;
    EXPECT_EQ(reader.ReadFile(file.c_str()), IFSelect_RetDone);
    EXPECT_TRUE(reader.Transfer(document));
    const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
    const Handle(XCAFDoc_ColorTool) colours = XCAFDoc_DocumentTool::ColorTool(document->Main());
    TDF_LabelSequence roots, components;
    shapes->GetFreeShapes(roots);
    EXPECT_EQ(roots.Length(), 1);
    XCAFDoc_ShapeTool::GetComponents(roots.First(), components);
    std::vector<ReadSolid> solids;
    for (const TDF_Label& component : components) {
        TDF_Label label;
        EXPECT_TRUE(XCAFDoc_ShapeTool::GetReferredShape(component, label));
        ReadSolid solid{nameOf(label), XCAFDoc_ShapeTool::GetShape(label), {}};
        TopExp_Explorer first(solid.shape, TopAbs_SOLID);
        EXPECT_TRUE(colours->GetColor(label, XCAFDoc_ColorSurf, solid.colour) ||
                    colours->GetColor(first.Current(), XCAFDoc_ColorSurf, solid.colour))
            << solid.name;
        solids.push_back(solid);
    }
    XCAFApp_Application::GetApplication()->Close(document);
    return solids;
}

GeomAbs_SurfaceType typeOf(const geometry::FaceSurface& surface) {
    switch (surface.kind) {
        case geometry::SurfaceKind::Plane:
            return GeomAbs_Plane;
        case geometry::SurfaceKind::Cylinder:
            return GeomAbs_Cylinder;
        case geometry::SurfaceKind::Cone:
            return GeomAbs_Cone;
        case geometry::SurfaceKind::Torus:
            // STEP's torus does not meet itself: one side of such is a circle turned about the axis.
            return surface.major > surface.radius ? GeomAbs_Torus : GeomAbs_SurfaceOfRevolution;
        case geometry::SurfaceKind::Sphere:
            return GeomAbs_Sphere;
        case geometry::SurfaceKind::EllipticCylinder:
            return GeomAbs_SurfaceOfExtrusion;
        case geometry::SurfaceKind::Ellipsoid:
            // No other surface of STEP is an ellipsoid with three axes.
            return surface.a == surface.b ? GeomAbs_SurfaceOfRevolution : GeomAbs_BSplineSurface;
    }
    return GeomAbs_OtherSurface;
}

void expectSameSurfaces(const TopoDS_Shape& read, const geometry::Boundary& body) {
    std::map<GeomAbs_SurfaceType, int> wanted, found;
    for (const geometry::BoundaryFace& face : body.faces)
        ++wanted[typeOf(face.surface)];
    for (TopExp_Explorer face(read, TopAbs_FACE); face.More(); face.Next())
        ++found[GeomAdaptor_Surface(BRep_Tool::Surface(TopoDS::Face(face.Current()))).GetType()];
    EXPECT_EQ(found, wanted);
}

/// Returns the largest error of a volume, as a share.
double expectStep(const design::Design& design, const ModelOptions& options) {
    const app::ScratchFolder folder;
    const std::vector<geometry::Boundary> bodies = geometry::boundaries(design, options.stage);
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.step");
    const std::vector<ReadSolid> read = readBack(folder / "ring.step");
    EXPECT_EQ(read.size(), bodies.size());
    double worst = 0;
    for (std::size_t i = 0; i < std::min(read.size(), bodies.size()); ++i) {
        SCOPED_TRACE(read[i].name);
        EXPECT_EQ(read[i].name, geometry::name(bodies[i].part));
        EXPECT_TRUE(reference::isSound(read[i].shape));
        expectSameSurfaces(read[i].shape, bodies[i]);
        // Tubes and stones of one setting are all the same.
        const geometry::Part& part = bodies[i].part;
        if (i > 0 && part.role == bodies[i - 1].part.role && part.source == bodies[i - 1].part.source)
            continue;
        const double volume = geometry::enclosed(bodies[i]).volume;
        const double found = reference::exactVolume(read[i].shape);
        EXPECT_NEAR(found, volume, 1e-9 * volume);
        worst = std::max(worst, std::abs(found / volume - 1));
        const Quantity_Color& colour = read[i].colour;
        if (bodies[i].part.role == geometry::PartRole::Band) {
            const trade::LinearRgb& metal =
                trade::builtInCatalogue().metal(bodies[i].part.material)->reflectance;
            EXPECT_NEAR(colour.Green(), std::min(metal[1], 1.0), 1e-5);
        }
    }
    return worst;
}

class StepOfSample : public testing::TestWithParam<std::string> {};

TEST_P(StepOfSample, IsReadBackAsTheSameSolids) {
    RecordProperty("worst", std::to_string(expectStep(sample(GetParam()), {})));
}
INSTANTIATE_TEST_SUITE_P(Of, StepOfSample,
                         testing::Values("anvil-road", "first-frost", "harbour", "honeycomb", "lantern",
                                         "night-ferry", "orchard-gate", "seven-lamps", "shallows",
                                         "tide-mill"),
                         [](const auto& ring) {
                             std::string word = ring.param;
                             std::erase(word, '-');
                             return word;
                         });

// Of two channels the fill of the first is cut in two by plain holes that are wider.
TEST(Step, OfAFillInPiecesHasEachPartsColour) {
    design::Design design;
    for (const double offset : {-2.0, 2.0}) {
        design::Channel& channel = design.channels.emplace_back();
        channel.width = 1;
        channel.offset = offset;
    }
    design::Setting setting;
    setting.placement.offset = -2;
    setting.placement.count = 2;
    setting.hole.steps.clear();
    setting.tube.reset();
    setting.stone.reset();
    design.settings.push_back(setting);
    const std::vector<geometry::Boundary> bodies = geometry::boundaries(design);
    ASSERT_EQ(bodies.size(), 3U);
    EXPECT_EQ(bodies[1].shells, 2U);
    expectStep(design, {});
}

TEST(Step, OfEachStageIsReadBackToo) {
    for (const std::string name : {"shallows", "tide-mill"}) {
        const design::Design design = sample(name);
        for (const design::Stage stage : design.route) {
            SCOPED_TRACE(name + " " + design::name(stage));
            ModelOptions options;
            options.stage = stage;
            expectStep(design, options);
        }
    }
}

/// Low and high domes, round and long, with a girdle and without: the volume is that of half an ellipsoid and
/// of a cylinder over an ellipse (any handbook of mathematics).
TEST(Step, OfEachCabochonIsExact) {
    constexpr double kWidth = 3.6;
    for (const double length : {0.0, 5.5}) {
        for (const double dome : {20.0, 50.0, 100.0}) {
            for (const double girdle : {0.0, 6.0}) {
                SCOPED_TRACE(testing::Message() << length << ' ' << dome << ' ' << girdle);
                design::Design design = sample("harbour");
                design::Stone& stone = design.settings.at(0).stone.emplace();
                stone.cut = design::StoneCut::Cabochon;
                stone.diameter = kWidth;
                stone.length = length;
                stone.dome = dome;
                stone.girdle = girdle;
                const std::vector<geometry::Boundary> bodies = geometry::boundaries(design);
                const auto body = std::ranges::find(bodies, geometry::PartRole::Stone,
                                                    [](const auto& b) { return b.part.role; });
                ASSERT_NE(body, bodies.end());
                const app::ScratchFolder folder;
                ModelOptions options;
                options.parts = {"stone"};
                writeModel(design, trade::builtInCatalogue(), options, folder / "stone.step");
                const std::vector<ReadSolid> read = readBack(folder / "stone.step");
                ASSERT_EQ(read.size(), 1U);
                const TopoDS_Shape& solid = read[0].shape;
                EXPECT_TRUE(reference::isSound(solid));
                expectSameSurfaces(solid, *body);
                const double area = std::numbers::pi / 4 * kWidth * (length > 0 ? length : kWidth);
                const double wanted = area * kWidth * (2.0 / 3 * dome + girdle) / 100;
                EXPECT_NEAR(reference::exactVolume(solid), wanted, 1e-10 * wanted);
            }
        }
    }
}

TEST(Step, IsEnlargedForCasting) {
    ModelOptions options;
    options.parts = {"band"};
    options.factor = 1.0125;
    const app::ScratchFolder folder;
    const design::Design design = sample("harbour");
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.step");
    const std::vector<ReadSolid> read = readBack(folder / "ring.step");
    ASSERT_EQ(read.size(), 1U);
    EXPECT_TRUE(reference::isSound(read[0].shape));
    const geometry::Boundary band = geometry::boundaries(design).front();
    const double volume = geometry::enclosed(band).volume * std::pow(1.0125, 3);
    EXPECT_NEAR(reference::exactVolume(read[0].shape), volume, 1e-9 * volume);
    expectSameSurfaces(read[0].shape, band);
}

// BANDWRIGHT_DESIGNS=500 is the long run.
TEST(Step, OfDesignsDrawnByLotIsReadBackToo) {
    std::uint64_t left = geometry::designsToDraw(2);
    double worst = 0;
    for (std::uint64_t seed = 1; left > 0; ++seed) {
        const design::Design design = geometry::randomDesign(seed);
        if (!geometry::apartPartsOf(design)) continue;
        --left;
        SCOPED_TRACE(seed);
        worst = std::max(worst, expectStep(design, {}));
    }
    std::printf("Largest error of a volume: %.2g\n", worst);
}

}  // namespace
}  // namespace bandwright::formats
