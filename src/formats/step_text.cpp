// The module that writes STEP (ISO 10303-21, AP242) with OpenCASCADE.

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPConstruct_Styles.hxx>
#include <STEPControl_Controller.hxx>
#include <Standard_Failure.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <StepShape_SolidModel.hxx>
#include <StepVisual_Colour.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_StyledItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_MaterialTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_WorkSession.hxx>
#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "step_bodies.hpp"
#include "step_solid.hpp"

namespace bandwright::formats {

namespace {

Handle(TCollection_HAsciiString) text(const std::string& words) {
    return new TCollection_HAsciiString(words.c_str());
}

TCollection_ExtendedString wide(const std::string& words) {
    return {words.c_str(), true};
}

/// One solid where there is one, enlarged as asked.
TopoDS_Shape shapeOf(const StepBody& body, const StepRing& ring) {
    TopoDS_Shape all = solidOf(*body.body, ring.pointAt);
    if (body.body->shells == 1) all = TopExp_Explorer(all, TopAbs_SOLID).Current();
    if (ring.factor == 1) return all;
    gp_Trsf larger;
    larger.SetScale(gp_Pnt(0, 0, 0), ring.factor);
    return BRepBuilderAPI_Transform(all, larger, true).Shape();
}

/// An assembly of all bodies.
Handle(TDocStd_Document) documentOf(const StepRing& ring) {
    Handle(TDocStd_Document) document;
    XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", document);
    const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
    const Handle(XCAFDoc_MaterialTool) materials = XCAFDoc_DocumentTool::MaterialTool(document->Main());
    const TDF_Label assembly = shapes->NewShape();
    TDataStd_Name::Set(assembly, wide(ring.title));
    for (const StepBody& body : ring.bodies) {
        const TDF_Label label = shapes->AddShape(shapeOf(body, ring), false);
        TDataStd_Name::Set(label, wide(body.name));
        materials->SetMaterial(label, text(body.material), text(""), body.density, text("g/cm3"),
                               text("POSITIVE_RATIO_MEASURE"));
        const TDF_Label component = shapes->AddComponent(assembly, label, TopLoc_Location());
        TDataStd_Name::Set(component, wide(body.name));
    }
    shapes->UpdateAssemblies();
    return document;
}

/// A body in several pieces is no advanced brep representation but a plain one, as is the assembly.
bool hasSolids(const Handle(StepShape_ShapeRepresentation) & shape) {
    for (int k = 1; k <= shape->NbItems(); ++k)
        if (shape->ItemsValue(k)->IsKind(STANDARD_TYPE(StepShape_SolidModel))) return true;
    return false;
}

/// Colours the solids of each body, in their order. The document's own writer would do so in an order that
/// changes from run to run.
void addColours(const Handle(StepData_StepModel) & model, const Handle(XSControl_WorkSession) & session,
                const StepRing& ring) {
    auto body = ring.bodies.begin();
    const int last = model->NbEntities();
    for (int i = 1; i <= last && body != ring.bodies.end(); ++i) {
        const auto shape = Handle(StepShape_ShapeRepresentation)::DownCast(model->Value(i));
        if (shape.IsNull() || !hasSolids(shape)) continue;
        const auto share = [&](std::size_t k) { return std::clamp(body->colour[k], 0.0, 1.0); };
        const Quantity_Color colour(share(0), share(1), share(2), Quantity_TOC_RGB);
        STEPConstruct_Styles styles(session);
        for (int k = 1; k <= shape->NbItems(); ++k) {
            const Handle(StepRepr_RepresentationItem) item = shape->ItemsValue(k);
            if (!item->IsKind(STANDARD_TYPE(StepShape_SolidModel))) continue;
            const Handle(StepVisual_Colour) surface = STEPConstruct_Styles::EncodeColor(colour);
            styles.AddStyle(item, styles.MakeColorPSA(item, surface, nullptr, nullptr, 0), nullptr);
        }
        Handle(StepVisual_MechanicalDesignGeometricPresentationRepresentation) shown;
        if (styles.CreateMDGPR(shape->ContextOfItems(), shown)) model->AddWithRefs(shown);
        ++body;
    }
}

/// The kernel goes on counting from one file to the next.
void countUses(const Handle(StepData_StepModel) & model) {
    int count = 0;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto use = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
        if (!use.IsNull()) use->SetId(text(std::to_string(++count)));
    }
}

/// No clock and no path in the bytes.
void setHead(const Handle(StepData_StepModel) & model, const StepRing& ring) {
    APIHeaderSection_MakeHeader head(model);
    head.SetName(text(ring.title));
    head.SetTimeStamp(text("1980-01-01T00:00:00"));
    head.SetAuthorValue(1, text(""));
    head.SetOrganizationValue(1, text(""));
    head.SetOriginatingSystem(text("Bandwright"));
    head.SetAuthorisation(text(""));
}

std::string stepText(const StepRing& ring) {
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
    STEPControl_Controller::Init();
    Interface_Static::SetCVal("write.step.schema", "AP242DIS");  // before the writer is made
    Interface_Static::SetCVal("write.step.product.name", "ring");
    STEPCAFControl_Writer writer;
    writer.SetColorMode(false);
    const Handle(TDocStd_Document) document = documentOf(ring);
    if (!writer.Transfer(document, STEPControl_AsIs)) throw std::runtime_error("STEP: nothing was written");
    const Handle(StepData_StepModel) model = writer.ChangeWriter().Model();
    addColours(model, writer.ChangeWriter().WS(), ring);
    countUses(model);
    setHead(model, ring);
    StepData_StepWriter lines(model);
    // Places to 1e-15 mm: by the 12 decimals that are usual the volume of a film of 2 um is off by 2e-9 of
    // it.
    lines.FloatWriter().SetFormat("%.15E");
    lines.FloatWriter().SetFormatForRange("%.15f", 0.1, 1000);
    lines.SendModel(Handle(StepData_Protocol)::DownCast(model->Protocol()));
    std::ostringstream out;
    if (!lines.Print(out)) throw std::runtime_error("STEP: the lines could not be made");
    XCAFApp_Application::GetApplication()->Close(document);
    return std::move(out).str();
}

}  // namespace

extern "C" __attribute__((visibility("default"))) void bandwrightStepText(const StepRing& ring,
                                                                          std::string& text) {
    try {
        text = stepText(ring);
    } catch (const Standard_Failure& failure) {
        throw std::runtime_error(std::string("STEP: ") + failure.DynamicType()->Name() + ": " +
                                 failure.GetMessageString());
    }
}

}  // namespace bandwright::formats
