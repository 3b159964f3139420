#include "occt_solid.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_Ax1.hxx>
#include <gp_Lin.hxx>
#include <gp_Mat.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "geometry/ring.hpp"

namespace bandwright::reference {

namespace {

/// A place of the section in the half-plane y = 0, x > 0.
gp_Pnt inPlane(geometry::Vec2 p) {
    return {p.r, 0, p.z};
}

const gp_Ax1 kRingAxis{gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)};

TopoDS_Wire wire(const geometry::Loop& loop) {
    BRepBuilderAPI_MakeWire wire;
    for (const geometry::Segment& s : loop)
        wire.Add(edge(s));
    return wire.Wire();
}

bool isOuter(const geometry::Loop& loop) {
    return geometry::properties({loop}).area > 0;
}

/// The body inside an outer loop, less what the section leaves out of it.
TopoDS_Face face(const geometry::Loop& outer, const geometry::Section& section) {
    BRepBuilderAPI_MakeFace face(wire(outer), true);
    for (const geometry::Loop& loop : section) {
        if (!isOuter(loop) && geometry::contains({outer}, geometry::pointAt(loop.front(), 0.5)))
            face.Add(wire(loop));
    }
    return face;
}

}  // namespace

TopoDS_Edge edge(const geometry::Segment& s) {
    if (!s.isArc()) return BRepBuilderAPI_MakeEdge(inPlane(s.from), inPlane(s.to));
    return BRepBuilderAPI_MakeEdge(
        GC_MakeArcOfCircle(inPlane(s.from), inPlane(geometry::pointAt(s, 0.5)), inPlane(s.to)).Value());
}

TopoDS_Face face(const geometry::Loop& loop) {
    return face(loop, {});
}

TopoDS_Shape turned(const geometry::Section& section) {
    if (section.size() == 1) return BRepPrimAPI_MakeRevol(face(section.front(), section), kRingAxis);
    TopoDS_Compound bodies;
    const BRep_Builder builder;
    builder.MakeCompound(bodies);
    for (const geometry::Loop& loop : section) {
        if (isOuter(loop)) builder.Add(bodies, BRepPrimAPI_MakeRevol(face(loop, section), kRingAxis).Shape());
    }
    return bodies;
}

TopoDS_Shape hole(const geometry::HoleProfile& profile, double angle) {
    // Half the outline, from the axis outwards, turned about the hole's own axis, which is the x axis.
    geometry::Loop half;
    const auto at = [&](double radius, double x) { return geometry::Vec2{profile.offset + radius, x}; };
    const auto add = [&](geometry::Vec2 from, geometry::Vec2 to) {
        if (geometry::distance(from, to) > 0) half.push_back(geometry::line(from, to, {}));
    };
    const geometry::HolePiece& first = profile.pieces.front();
    const geometry::HolePiece& last = profile.pieces.back();
    add(at(0, first.x0), at(first.radius0, first.x0));
    for (const geometry::HolePiece& p : profile.pieces)
        add(at(p.radius0, p.x0), at(p.radius1, p.x1));
    add(at(last.radius1, last.x1), at(0, last.x1));
    add(at(0, last.x1), at(0, first.x0));
    const gp_Ax1 axis(gp_Pnt(0, 0, profile.offset), gp_Dir(1, 0, 0));
    const TopoDS_Shape solid = BRepPrimAPI_MakeRevol(face(half), axis);
    gp_Trsf turn;
    turn.SetRotation(kRingAxis, angle);
    return BRepBuilderAPI_Transform(solid, turn);
}

TopoDS_Shape drilled(const geometry::Section& section, const design::Design& design) {
    TopTools_ListOfShape bodies;
    TopTools_ListOfShape tools;
    bodies.Append(turned(section));
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const geometry::HoleProfile profile = geometry::settingHole(design, i);
        for (const double angle : design::placedAngles(design.settings[i].placement))
            tools.Append(hole(profile, angle * std::numbers::pi / 180));
    }
    if (tools.IsEmpty()) return bodies.First();
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(bodies);
    cut.SetTools(tools);
    cut.Build();
    if (!cut.IsDone()) throw std::runtime_error("OpenCASCADE could not cut");
    return cut.Shape();
}

TopoDS_Shape turnedSurfaces(const std::vector<geometry::Segment>& segments) {
    TopoDS_Compound all;
    const BRep_Builder builder;
    builder.MakeCompound(all);
    for (const geometry::Segment& s : segments)
        builder.Add(all, BRepPrimAPI_MakeRevol(edge(s), kRingAxis).Shape());
    return all;
}

TopoDS_Shape common(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    BRepAlgoAPI_Common meeting(a, b);
    if (!meeting.IsDone()) throw std::runtime_error("OpenCASCADE could not intersect");
    return meeting.Shape();
}

double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    // Its own estimate of its error is far too low on drilled bodies: at 1e-9 it is off by millionths.
    BRepGProp::VolumeProperties(shape, properties, 1e-11, false);
    return properties.Mass();
}

double area(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(shape, properties, 1e-9, false);
    return properties.Mass();
}

namespace {

Spread spreadOf(const GProp_GProps& properties) {
    const gp_Pnt c = properties.CentreOfMass();
    const gp_Mat m = properties.MatrixOfInertia();
    return {
        properties.Mass(), {c.X(), c.Y(), c.Z()}, {m(1, 1), m(2, 2), m(3, 3), -m(1, 2), -m(2, 3), -m(3, 1)}};
}

}  // namespace

Spread spread(const TopoDS_Shape& solid) {
    GProp_GProps properties;
    // With a given error bound, it keeps the bound for the volume but not for the moments.
    BRepGProp::VolumeProperties(solid, properties);
    return spreadOf(properties);
}

Spread spreadOfFlat(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(shape, properties);
    return spreadOf(properties);
}

TopoDS_Shape cutAt(const TopoDS_Shape& solid, double angle) {
    constexpr double kFar = 40;  // mm, beyond any ring
    const TopoDS_Shape whole = face(
        {geometry::line({-kFar, 0.1}, {kFar, 0.1}, {}), geometry::line({kFar, 0.1}, {kFar, kFar}, {}),
         geometry::line({kFar, kFar}, {-kFar, kFar}, {}), geometry::line({-kFar, kFar}, {-kFar, 0.1}, {})});
    gp_Trsf turn;
    turn.SetRotation(kRingAxis, angle);
    return common(BRepBuilderAPI_Transform(whole, turn), solid);
}

Box box(const TopoDS_Shape& shape, double tolerance) {
    const BRepMesh_IncrementalMesh mesher(shape, tolerance);
    constexpr double kFar = std::numeric_limits<double>::infinity();
    Box box{{kFar, kFar, kFar}, {-kFar, -kFar, -kFar}};
    for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
        TopLoc_Location place;
        const auto mesh = BRep_Tool::Triangulation(TopoDS::Face(at.Current()), place);
        for (int i = 1; !mesh.IsNull() && i <= mesh->NbNodes(); ++i) {
            const gp_Pnt p = mesh->Node(i).Transformed(place);
            box.least = {std::min(box.least.x, p.X()), std::min(box.least.y, p.Y()),
                         std::min(box.least.z, p.Z())};
            box.most = {std::max(box.most.x, p.X()), std::max(box.most.y, p.Y()),
                        std::max(box.most.z, p.Z())};
        }
    }
    return box;
}

std::vector<double> crossings(const TopoDS_Shape& shape, geometry::Vec3 from, geometry::Vec3 direction) {
    IntCurvesFace_ShapeIntersector intersector;
    intersector.Load(shape, 1e-9);
    intersector.Perform(gp_Lin({from.x, from.y, from.z}, {direction.x, direction.y, direction.z}), 0,
                        std::numeric_limits<double>::max());
    std::vector<double> found;
    for (int i = 1; i <= intersector.NbPnt(); ++i)
        found.push_back(intersector.WParameter(i));
    std::ranges::sort(found);
    return found;
}

double shortest(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    return BRepExtrema_DistShapeShape(a, b).Value();
}

std::size_t triangulate(const TopoDS_Shape& shape, double tolerance) {
    const BRepMesh_IncrementalMesh mesher(shape, tolerance);
    std::size_t count = 0;
    for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
        TopLoc_Location place;
        const auto mesh = BRep_Tool::Triangulation(TopoDS::Face(at.Current()), place);
        if (!mesh.IsNull()) count += static_cast<std::size_t>(mesh->NbTriangles());
    }
    return count;
}

}  // namespace bandwright::reference
