#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <BRep_Builder.hxx>
#include <GeomConvert.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Solid.hxx>
#include <algorithm>
#include <numbers>
#include <stdexcept>

#include "step_solid.hpp"

namespace bandwright::formats {

namespace {

constexpr double kTolerance = 1e-7;  // mm, the kernel's own

gp_Dir direction(const geometry::Vec3& p) {
    return {p.x, p.y, p.z};
}

/// The upper half of an ellipsoid. Half a unit sphere is exactly a rational surface, and stays so when its
/// poles are stretched (Piegl and Tiller, The NURBS Book, 4.4: invariance under affine maps).
Handle(Geom_BSplineSurface) upperHalf(const geometry::FaceSurface& s) {
    const Handle(Geom_SphericalSurface) sphere = new Geom_SphericalSurface(gp_Ax3(), 1);
    Handle(Geom_BSplineSurface) dome = GeomConvert::SurfaceToBSplineSurface(
        new Geom_RectangularTrimmedSurface(sphere, 0, 2 * std::numbers::pi, 0, std::numbers::pi / 2));
    const geometry::Vec3 y = geometry::cross(s.place.axis, s.place.x);
    for (int i = 1; i <= dome->NbUPoles(); ++i) {
        for (int j = 1; j <= dome->NbVPoles(); ++j) {
            const gp_Pnt pole = dome->Pole(i, j);
            const geometry::Vec3 p = s.place.origin + s.a * pole.X() * s.place.x + s.b * pole.Y() * y +
                                     s.c * pole.Z() * s.place.axis;
            dome->SetPole(i, j, {p.x, p.y, p.z});
        }
    }
    return dome;
}

const geometry::FaceSurface& surfaceOf(const geometry::Boundary& body, geometry::SurfaceKind kind) {
    const auto found = std::ranges::find_if(
        body.faces, [&](const geometry::BoundaryFace& face) { return face.surface.kind == kind; });
    if (found == body.faces.end()) throw std::runtime_error("a long cabochon lacks a face");
    return found->surface;
}

}  // namespace

TopoDS_Shape longCabochon(const geometry::Boundary& body) {
    const geometry::FaceSurface& ellipsoid = surfaceOf(body, geometry::SurfaceKind::Ellipsoid);
    const geometry::FaceSurface& base = surfaceOf(body, geometry::SurfaceKind::Plane);
    const double wall = geometry::dot(ellipsoid.place.axis, ellipsoid.place.origin - base.place.origin);
    const Handle(Geom_BSplineSurface) dome = upperHalf(ellipsoid);
    double first = 0, last = 0, low = 0, high = 0;
    dome->Bounds(first, last, low, high);
    const Handle(Geom_Curve) girdle = dome->VIso(low);
    const gp_Dir up = direction(ellipsoid.place.axis);

    BRepBuilderAPI_Sewing sewing(kTolerance);
    sewing.Add(BRepBuilderAPI_MakeFace(dome, first, last, low, high, kTolerance).Face());
    if (wall > 0)
        sewing.Add(BRepBuilderAPI_MakeFace(new Geom_SurfaceOfLinearExtrusion(girdle, up), first, last, -wall,
                                           0, kTolerance)
                       .Face());
    const Handle(Geom_Curve) foot = Handle(Geom_Curve)::DownCast(girdle->Translated(-wall * gp_Vec(up)));
    const gp_Pnt origin(base.place.origin.x, base.place.origin.y, base.place.origin.z);
    const TopoDS_Wire outline =
        BRepBuilderAPI_MakeWire(TopoDS::Edge(BRepBuilderAPI_MakeEdge(foot).Edge().Reversed())).Wire();
    sewing.Add(BRepBuilderAPI_MakeFace(new Geom_Plane(origin, direction(base.place.axis)), outline).Face());
    sewing.Perform();
    const TopoDS_Shape& shell = sewing.SewedShape();
    if (shell.IsNull() || shell.ShapeType() != TopAbs_SHELL)
        throw std::runtime_error("a long cabochon does not close");

    BRep_Builder builder;
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    BRepLib::OrientClosedSolid(solid);
    TopoDS_Compound all;
    builder.MakeCompound(all);
    builder.Add(all, solid);
    return all;
}

}  // namespace bandwright::formats
