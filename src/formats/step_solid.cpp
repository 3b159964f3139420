#include "step_solid.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2dAPI_Interpolate.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <Precision.hxx>
#include <Standard_Failure.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColStd_HArray1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TColgp_HArray1OfPnt2d.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace bandwright::formats {

namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kTolerance = 1e-7;  // mm, the kernel's own

gp_Pnt point(const geometry::Vec3& p) {
    return {p.x, p.y, p.z};
}

gp_Dir direction(const geometry::Vec3& p) {
    return {p.x, p.y, p.z};
}

gp_Ax3 axes(const geometry::AxisPlacement& place) {
    return {point(place.origin), direction(place.axis), direction(place.x)};
}

/// The circle or ellipse that a surface of revolution is turned from, in the plane of x and the axis.
gp_Ax2 profilePlace(const geometry::AxisPlacement& place, double out) {
    return {point(place.origin + out * place.x), direction(geometry::cross(place.x, place.axis)),
            direction(place.x)};
}

/// The profile of a round dome: a quarter of an ellipse from its foot to its top, as a rational spline (Piegl
/// and Tiller, The NURBS Book, 7.3). Its end makes the top an end of the surface: that is where readers seek
/// the point to which a circle shrinks, and a whole ellipse has no end.
Handle(Geom_BSplineCurve) quarterOf(const geometry::FaceSurface& dome) {
    const geometry::Vec3 out = dome.a * dome.place.x, up = dome.c * dome.place.axis;
    TColgp_Array1OfPnt poles(1, 3);
    poles(1) = point(dome.place.origin + out);
    poles(2) = point(dome.place.origin + out + up);
    poles(3) = point(dome.place.origin + up);
    TColStd_Array1OfReal weights(1, 3), knots(1, 2);
    TColStd_Array1OfInteger times(1, 2);
    weights(1) = weights(3) = 1;
    weights(2) = std::numbers::sqrt2 / 2;
    knots(1) = 0;
    knots(2) = 1;
    times(1) = times(2) = 3;
    return new Geom_BSplineCurve(poles, weights, knots, times, 2);
}

/// Where on that quarter, 0..1, the place lies that is so many half axes out and up: x and y of a quarter
/// circle are there as 1 + sqrt2 r to sqrt2 r + r2 with r = t / (1 - t).
double alongQuarter(double out, double up) {
    const double r = (std::numbers::sqrt2 * (up - out) + std::sqrt(2 * (out * out + up * up))) / (2 * out);
    return out > 0 ? r / (1 + r) : 1;
}

/// The kernel's parameter at the top of a sphere or of a dome.
double topOf(const geometry::FaceSurface& s) {
    return s.kind == geometry::SurfaceKind::Ellipsoid ? 1 : std::numbers::pi / 2;
}

Handle(Geom_Surface) surfaceOf(const geometry::FaceSurface& s) {
    const gp_Ax3 place = axes(s.place);
    switch (s.kind) {
        case geometry::SurfaceKind::Plane:
            return new Geom_Plane(place);
        case geometry::SurfaceKind::Cylinder:
            return new Geom_CylindricalSurface(place, s.radius);
        case geometry::SurfaceKind::Cone:
            return new Geom_ConicalSurface(place, std::atan(s.slope), s.radius);
        case geometry::SurfaceKind::Torus:
            if (s.major > s.radius) return new Geom_ToroidalSurface(place, s.major, s.radius);
            return new Geom_SurfaceOfRevolution(new Geom_Circle(profilePlace(s.place, s.major), s.radius),
                                                place.Axis());
        case geometry::SurfaceKind::Sphere:
            return new Geom_SphericalSurface(place, s.radius);
        case geometry::SurfaceKind::EllipticCylinder:
            break;
        case geometry::SurfaceKind::Ellipsoid:
            if (s.a != s.b) break;
            return new Geom_SurfaceOfRevolution(quarterOf(s), place.Axis());
    }
    throw std::runtime_error("a surface of long cabochons alone");
}

/// A place of a face's own plane of parameters.
struct Place {
    double u = 0, v = 0;
};

/// The kernel's parameters of a place of a surface; `first` is a v near by.
Place placeOn(const geometry::FaceSurface& s, const geometry::Vec3& point, double first) {
    const geometry::Vec3 d = point - s.place.origin;
    const geometry::Vec3 p{geometry::dot(d, s.place.x),
                           geometry::dot(d, geometry::cross(s.place.axis, s.place.x)),
                           geometry::dot(d, s.place.axis)};
    const double out = std::hypot(p.x, p.y);
    const double u = std::atan2(p.y, p.x);
    switch (s.kind) {
        case geometry::SurfaceKind::Plane:
            return {p.x, p.y};
        case geometry::SurfaceKind::Cylinder:
        case geometry::SurfaceKind::EllipticCylinder:
            return {u, p.z};
        case geometry::SurfaceKind::Cone:
            return {u, p.z * std::hypot(1, s.slope)};
        case geometry::SurfaceKind::Torus:
            return {u, first + std::remainder(std::atan2(p.z, out - s.major) - first, kTurn)};
        case geometry::SurfaceKind::Sphere:
            return {u, std::atan2(p.z, out)};
        case geometry::SurfaceKind::Ellipsoid:
            return {u, alongQuarter(out / s.a, p.z / s.c)};
    }
    return {};
}

/// Tangent of a curve at an end of 0..1, by one-sided differences of fourth order.
template <class At>
auto endTangent(const At& at, double end) {
    constexpr double kStep = 1e-3;
    const double h = end == 0 ? kStep : -kStep;
    return (1 / (12 * h)) * (-25.0 * at(end) + 48.0 * at(end + h) + -36.0 * at(end + 2 * h) +
                             16.0 * at(end + 3 * h) + -3.0 * at(end + 4 * h));
}

/// Where a spline goes through the curve that it follows: ascending, from 0 to 1.
using Knots = std::vector<double>;

Handle(TColStd_HArray1OfReal) parametersOf(const Knots& knots) {
    Handle(TColStd_HArray1OfReal) parameters = new TColStd_HArray1OfReal(1, static_cast<int>(knots.size()));
    for (std::size_t k = 0; k < knots.size(); ++k)
        parameters->SetValue(static_cast<int>(k) + 1, knots[k]);
    return parameters;
}

/// A spline through places of a curve over 0..1.
template <class At>
Handle(Geom_BSplineCurve) spline(const At& at, const Knots& knots) {
    Handle(TColgp_HArray1OfPnt) points = new TColgp_HArray1OfPnt(1, static_cast<int>(knots.size()));
    for (std::size_t k = 0; k < knots.size(); ++k)
        points->SetValue(static_cast<int>(k) + 1, point(at(knots[k])));
    GeomAPI_Interpolate through(points, parametersOf(knots), false, Precision::PConfusion());
    const geometry::Vec3 a = endTangent(at, 0);
    const geometry::Vec3 b = endTangent(at, 1);
    through.Load(gp_Vec(a.x, a.y, a.z), gp_Vec(b.x, b.y, b.z), false);
    through.Perform();
    if (!through.IsDone()) throw std::runtime_error("no spline through a curve");
    return through.Curve();
}

/// As a Vec3, which has sums; z stays 0.
template <class At>
Handle(Geom2d_BSplineCurve) flatSpline(const At& at, const Knots& knots) {
    Handle(TColgp_HArray1OfPnt2d) points = new TColgp_HArray1OfPnt2d(1, static_cast<int>(knots.size()));
    for (std::size_t k = 0; k < knots.size(); ++k) {
        const geometry::Vec3 p = at(knots[k]);
        points->SetValue(static_cast<int>(k) + 1, gp_Pnt2d(p.x, p.y));
    }
    Geom2dAPI_Interpolate through(points, parametersOf(knots), false, Precision::PConfusion());
    const geometry::Vec3 a = endTangent(at, 0);
    const geometry::Vec3 b = endTangent(at, 1);
    through.Load(gp_Vec2d(a.x, a.y), gp_Vec2d(b.x, b.y), false);
    through.Perform();
    if (!through.IsDone()) throw std::runtime_error("no spline through a curve on a surface");
    return through.Curve();
}

/// How finely a curve must be followed, and where, for its spline to stand off by less than 1e-9 mm:
/// stretches in whose middle it stands off are halved.
template <class At>
Knots knotsFor(const At& at) {
    constexpr double kOff = 1e-11;
    constexpr double kLeast = 1e-5;  // of 1, and mm: in shorter stretches rounding is all that is left to see
    constexpr int kFirst = 16;
    constexpr std::size_t kMost = 2048;
    Knots knots;
    for (int k = 0; k <= kFirst; ++k)
        knots.push_back(static_cast<double>(k) / kFirst);
    for (bool isGood = false; !isGood && knots.size() < kMost;) {
        const Handle(Geom_BSplineCurve) curve = spline(at, knots);
        Knots finer{0};
        for (std::size_t k = 0; k + 1 < knots.size(); ++k) {
            const double middle = 0.5 * (knots[k] + knots[k + 1]);
            const bool isLong = knots[k + 1] - knots[k] > kLeast &&
                                geometry::distance(at(knots[k]), at(knots[k + 1])) > kLeast;
            if (isLong && curve->Value(middle).Distance(point(at(middle))) > kOff) finer.push_back(middle);
            finer.push_back(knots[k + 1]);
        }
        isGood = finer.size() == knots.size();
        knots = std::move(finer);
    }
    return knots;
}

/// A loop of a face on its plane of parameters, without a jump.
struct FlatLoop {
    geometry::BoundaryLoop uses;             ///< as run about the surface's own normal
    std::vector<std::vector<Place>> places;  ///< of each use, ends and all
    double rounds = 0;
};

class SolidBuilder {
  public:
    SolidBuilder(const geometry::Boundary& body, PointAt pointAt) : body_(body), pointAt_(pointAt) {}

    TopoDS_Shape run() {
        for (const geometry::Vec3& p : body_.vertices)
            vertices_.push_back(vertexAt(p));
        for (std::uint32_t i = 0; i < body_.edges.size(); ++i)
            addEdge(i);
        std::vector<TopoDS_Shell> shells(body_.shells);
        for (TopoDS_Shell& shell : shells)
            builder_.MakeShell(shell);
        for (const geometry::BoundaryFace& face : body_.faces) {
            TopoDS_Face made = faceOf(face);
            if (face.reversed) made.Reverse();
            builder_.Add(shells[face.shell], made);
        }
        TopoDS_Compound all;
        builder_.MakeCompound(all);
        for (TopoDS_Shell& shell : shells) {
            shell.Closed(BRep_Tool::IsClosed(shell));
            TopoDS_Solid solid;
            builder_.MakeSolid(solid);
            builder_.Add(solid, shell);
            builder_.Add(all, solid);
        }
        return all;
    }

  private:
    TopoDS_Vertex vertexAt(const geometry::Vec3& p) const {
        TopoDS_Vertex vertex;
        builder_.MakeVertex(vertex, point(p), kTolerance);
        return vertex;
    }

    TopoDS_Edge edgeBetween(const TopoDS_Vertex& from, const TopoDS_Vertex& to,
                            const Handle(Geom_Curve) & curve, double length) const {
        TopoDS_Edge edge;
        builder_.MakeEdge(edge, curve, kTolerance);
        builder_.Add(edge, from.Oriented(TopAbs_FORWARD));
        builder_.Add(edge, to.Oriented(TopAbs_REVERSED));
        builder_.Range(edge, 0, length);
        return edge;
    }

    void addEdge(std::uint32_t number) {
        const geometry::BoundaryEdge& edge = body_.edges[number];
        const geometry::EdgeCurve& c = edge.curve;
        const auto at = [&](double t) { return pointAt_(body_, number, t); };
        Handle(Geom_Curve) curve;
        Knots knots;
        double length = 1;
        if (c.kind == geometry::CurveKind::Line) {
            const geometry::Vec3 from = body_.vertices[edge.from];
            const geometry::Vec3 to = body_.vertices[edge.to];
            length = geometry::distance(from, to);
            curve = new Geom_Line(point(from), direction(to - from));
        } else if (c.kind == geometry::CurveKind::Intersection) {
            knots = knotsFor(at);
            curve = spline(at, knots);
        } else {
            length = c.sweep;
            curve = new Geom_Circle(axes(c.place).Ax2(), c.radius);
        }
        knots_.push_back(std::move(knots));
        lengths_.push_back(length);
        edges_.push_back(edgeBetween(vertices_[edge.from], vertices_[edge.to], curve, length));
    }

    geometry::Vec3 at(geometry::EdgeUse use, double t) const {
        return pointAt_(body_, use.edge, use.forward ? t : 1 - t);
    }

    std::uint32_t startOf(geometry::EdgeUse use) const {
        const geometry::BoundaryEdge& edge = body_.edges[use.edge];
        return use.forward ? edge.from : edge.to;
    }

    /// As run about the surface's own normal, beginning at one of its uses.
    FlatLoop flattened(const geometry::BoundaryFace& face, geometry::BoundaryLoop uses, double first) const {
        // Close together at the ends, where a loop may turn at once.
        constexpr int kPlaces = 128;
        FlatLoop loop{std::move(uses), {}, 0};
        double u = 0;
        bool begun = false;
        double start = 0;
        for (const geometry::EdgeUse& use : loop.uses) {
            std::vector<Place>& places = loop.places.emplace_back();
            for (int k = 0; k <= kPlaces; ++k) {
                const double t = (1 - std::cos(k * std::numbers::pi / kPlaces)) / 2;
                Place p = placeOn(face.surface, at(use, t), first);
                p.u = begun ? u + std::remainder(p.u - u, kTurn) : p.u;
                if (!begun) start = p.u;
                begun = true;
                u = p.u;
                places.push_back(p);
            }
        }
        loop.rounds = std::round((u - start) / kTurn);
        return loop;
    }

    static geometry::BoundaryLoop backwards(const geometry::BoundaryLoop& loop) {
        geometry::BoundaryLoop result;
        for (auto use = loop.rbegin(); use != loop.rend(); ++use)
            result.push_back({use->edge, !use->forward});
        return result;
    }

    /// The edge's curve on the surface, moved round by whole turns to where the loop has it.
    Handle(Geom2d_Curve) curveOn(const geometry::BoundaryFace& face, geometry::EdgeUse use,
                                 const std::vector<Place>& places, double first) const {
        const Place from = use.forward ? places.front() : places.back();
        const Place to = use.forward ? places.back() : places.front();
        const double du = to.u - from.u;
        const double dv = to.v - from.v;
        if (knots_[use.edge].empty())
            return std::abs(du) > std::abs(dv)
                       ? new Geom2d_Line({from.u, from.v}, gp_Dir2d(du > 0 ? 1 : -1, 0))
                       : new Geom2d_Line({from.u, from.v}, gp_Dir2d(0, dv > 0 ? 1 : -1));
        const auto onPlane = [&](double t) {
            const Place p = placeOn(face.surface, pointAt_(body_, use.edge, t), first);
            const double near = std::acos(1 - 2 * (use.forward ? t : 1 - t)) / std::numbers::pi;
            const Place& about =
                places[static_cast<std::size_t>(std::lround(near * static_cast<double>(places.size() - 1)))];
            return geometry::Vec3{about.u + std::remainder(p.u - about.u, kTurn), p.v, 0};
        };
        return flatSpline(onPlane, knots_[use.edge]);
    }

    void addUses(TopoDS_Wire& wire, const TopoDS_Face& made, const geometry::BoundaryFace& face,
                 const FlatLoop& loop, double shift, double first) const {
        for (std::size_t i = 0; i < loop.uses.size(); ++i) {
            const TopoDS_Edge& edge = edges_[loop.uses[i].edge];
            if (face.surface.kind != geometry::SurfaceKind::Plane) {
                const Handle(Geom2d_Curve) curve = curveOn(face, loop.uses[i], loop.places[i], first);
                curve->Translate(gp_Vec2d(shift, 0));
                builder_.UpdateEdge(edge, curve, made, kTolerance);
            }
            builder_.Add(wire, edge.Oriented(loop.uses[i].forward ? TopAbs_FORWARD : TopAbs_REVERSED));
        }
    }

    TopoDS_Face faceOf(const geometry::BoundaryFace& face) {
        TopoDS_Face made;
        builder_.MakeFace(made, surfaceOf(face.surface), kTolerance);
        const double first = placeOn(face.surface, at(face.loops[0][0], 0), 0).v;
        std::vector<FlatLoop> loops;
        for (const geometry::BoundaryLoop& loop : face.loops)
            loops.push_back(flattened(face, face.reversed ? backwards(loop) : loop, first));
        std::vector<Place> outline;
        std::size_t inner = 1;
        if (face.span == geometry::FaceSpan::Patch) {
            TopoDS_Wire wire;
            builder_.MakeWire(wire);
            addUses(wire, made, face, loops[0], 0, first);
            wire.Closed(true);
            builder_.Add(made, wire);
            for (const auto& places : loops[0].places)
                outline.insert(outline.end(), places.begin(), places.end());
        } else if (face.span == geometry::FaceSpan::Belt) {
            outline = addBelt(made, face, loops, first);
            inner = 2;
        } else {
            outline = addCap(made, face, loops[0], first);
        }
        for (; inner < loops.size(); ++inner) {
            TopoDS_Wire wire;
            builder_.MakeWire(wire);
            addUses(wire, made, face, loops[inner], shiftInto(outline, loops[inner].places[0][1]), first);
            wire.Closed(true);
            builder_.Add(made, wire);
        }
        return made;
    }

    /// By how many turns a place must be moved to lie inside an outline.
    static double shiftInto(const std::vector<Place>& outline, Place p) {
        for (const double shift : {0.0, kTurn, -kTurn, 2 * kTurn, -2 * kTurn}) {
            bool inside = false;
            for (std::size_t i = 0; i < outline.size(); ++i) {
                const Place& a = outline[i];
                const Place& b = outline[(i + 1) % outline.size()];
                if ((a.v <= p.v) == (b.v <= p.v)) continue;
                if (a.u + (p.v - a.v) / (b.v - a.v) * (b.u - a.u) > p.u + shift) inside = !inside;
            }
            if (inside) return shift;
        }
        return 0;
    }

    /// Begins a loop at another of its uses.
    FlatLoop begunAt(const geometry::BoundaryFace& face, const FlatLoop& loop, std::size_t begin,
                     double first) const {
        geometry::BoundaryLoop uses = loop.uses;
        std::rotate(uses.begin(), uses.begin() + static_cast<std::ptrdiff_t>(begin), uses.end());
        return flattened(face, std::move(uses), first);
    }

    static bool cross2(Place a, Place b, Place c, Place d) {
        const auto side = [](Place p, Place q, Place r) {
            return (q.u - p.u) * (r.v - p.v) - (q.v - p.v) * (r.u - p.u);
        };
        return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
    }

    /// Whether a straight seam, without its ends, meets none of the loops.
    static bool isFree(Place a, Place b, const std::vector<FlatLoop>& loops) {
        constexpr double kEnds = 1e-6;
        const Place from{a.u + kEnds * (b.u - a.u), a.v + kEnds * (b.v - a.v)};
        const Place to{b.u + kEnds * (a.u - b.u), b.v + kEnds * (a.v - b.v)};
        for (const FlatLoop& loop : loops) {
            for (const auto& places : loop.places) {
                for (std::size_t k = 0; k + 1 < places.size(); ++k) {
                    for (const double shift : {-2 * kTurn, -kTurn, 0.0, kTurn, 2 * kTurn}) {
                        if (cross2(from, to, {places[k].u + shift, places[k].v},
                                   {places[k + 1].u + shift, places[k + 1].v}))
                            return false;
                    }
                }
            }
        }
        return true;
    }

    /// The same with room beside it: at its ends a loop may set out nearly along it.
    static bool isClear(Place a, Place b, const std::vector<FlatLoop>& loops) {
        constexpr double kRoom = 0.03;
        constexpr double kMost = 0.97;
        for (const double room : {-kRoom, 0.0, kRoom}) {
            for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
                const Place end{from.u + kMost * (to.u + room - from.u), from.v + kMost * (to.v - from.v)};
                if (!isFree(from, end, loops)) return false;
            }
        }
        return true;
    }

    /// Along a meridian: the very line or arc that the surface is turned from. Nothing where the places do
    /// not lie on one.
    std::optional<TopoDS_Edge> exactSeam(const TopoDS_Face& made, const TopoDS_Vertex& low,
                                         const TopoDS_Vertex& high, Place from, Place to) const {
        if (from.u != to.u) return std::nullopt;
        Handle(Geom_Curve) curve = BRep_Tool::Surface(made)->UIso(from.u);
        if (const auto part = Handle(Geom_TrimmedCurve)::DownCast(curve)) curve = part->BasisCurve();
        const double way = to.v < from.v ? -1 : 1;
        // Where the parameter of the curve is 0.
        double zero = 0;
        if (way < 0) {
            zero = curve->ReversedParameter(0);
            curve = curve->Reversed();
        }
        TopoDS_Edge edge;
        builder_.MakeEdge(edge, curve, kTolerance);
        builder_.Add(edge, low.Oriented(TopAbs_FORWARD));
        builder_.Add(edge, high.Oriented(TopAbs_REVERSED));
        builder_.Range(edge, way * (from.v - zero), way * (to.v - zero));
        const Handle(Geom2d_Line) left = new Geom2d_Line({from.u, zero}, gp_Dir2d(0, way));
        const Handle(Geom2d_Line) right = new Geom2d_Line({from.u + kTurn, zero}, gp_Dir2d(0, way));
        builder_.UpdateEdge(edge, right, left, made, kTolerance);
        return edge;
    }

    /// A seam from a place of the surface to another, once on each side of the face.
    TopoDS_Edge addSeam(const TopoDS_Face& made, const TopoDS_Vertex& low, const TopoDS_Vertex& high,
                        Place from, Place to) const {
        const Handle(Geom_Surface) surface = BRep_Tool::Surface(made);
        if (const std::optional<TopoDS_Edge> edge = exactSeam(made, low, high, from, to)) return *edge;
        const auto at = [&](double t) {
            const gp_Pnt p = surface->Value(from.u + t * (to.u - from.u), from.v + t * (to.v - from.v));
            return geometry::Vec3{p.X(), p.Y(), p.Z()};
        };
        // Both curves on the surface run at the speed of the line between their ends.
        const double length = std::hypot(to.u - from.u, to.v - from.v);
        Handle(Geom_BSplineCurve) curve = spline(at, knotsFor(at));
        TColStd_Array1OfReal knots(1, curve->NbKnots());
        curve->Knots(knots);
        for (int k = knots.Lower(); k <= knots.Upper(); ++k)
            knots(k) *= length;
        curve->SetKnots(knots);
        TopoDS_Edge edge = edgeBetween(low, high, curve, length);
        const gp_Dir2d way(to.u - from.u, to.v - from.v);
        const Handle(Geom2d_Line) left = new Geom2d_Line({from.u, from.v}, way);
        const Handle(Geom2d_Line) right = new Geom2d_Line({from.u + kTurn, from.v}, way);
        builder_.UpdateEdge(edge, right, left, made, kTolerance);
        return edge;
    }

    std::vector<Place> addBelt(TopoDS_Face& made, const geometry::BoundaryFace& face,
                               const std::vector<FlatLoop>& loops, double first) const {
        // About the surface's own normal the lower loop runs with u.
        const std::size_t low = loops[0].rounds > 0 ? 0 : 1;
        struct Seam {
            std::size_t from, to;
            Place a, b;
        };
        std::vector<Seam> seams;
        for (std::size_t i = 0; i < loops[low].uses.size(); ++i) {
            for (std::size_t j = 0; j < loops[1 - low].uses.size(); ++j) {
                const Place a = loops[low].places[i].front();
                Place b = loops[1 - low].places[j].front();
                b.u = a.u + std::remainder(b.u - a.u, kTurn);
                seams.push_back({i, j, a, b});
            }
        }
        std::sort(seams.begin(), seams.end(), [](const Seam& p, const Seam& q) {
            return std::abs(p.b.u - p.a.u) < std::abs(q.b.u - q.a.u);
        });
        auto seam = std::ranges::find_if(seams, [&](const Seam& s) { return isClear(s.a, s.b, loops); });
        if (seam == seams.end())
            seam = std::ranges::find_if(seams, [&](const Seam& s) { return isFree(s.a, s.b, loops); });
        if (seam == seams.end()) throw std::runtime_error("no room for a seam");
        FlatLoop lower = begunAt(face, loops[low], seam->from, first);
        FlatLoop upper = begunAt(face, loops[1 - low], seam->to, first);
        const Place a = lower.places.front().front();
        Place b = upper.places.front().front();
        const double shift = a.u + std::remainder(b.u - a.u, kTurn) + kTurn - b.u;
        b.u += shift - kTurn;
        const TopoDS_Edge edge =
            addSeam(made, vertices_[startOf(lower.uses[0])], vertices_[startOf(upper.uses[0])], a, b);
        TopoDS_Wire wire;
        builder_.MakeWire(wire);
        addUses(wire, made, face, lower, 0, first);
        builder_.Add(wire, edge.Oriented(TopAbs_FORWARD));
        addUses(wire, made, face, upper, shift, first);
        builder_.Add(wire, edge.Oriented(TopAbs_REVERSED));
        wire.Closed(true);
        builder_.Add(made, wire);
        std::vector<Place> outline;
        for (const auto& places : lower.places)
            outline.insert(outline.end(), places.begin(), places.end());
        for (const auto& places : upper.places) {
            for (const Place& p : places)
                outline.push_back({p.u + shift, p.v});
        }
        return outline;
    }

    std::vector<Place> addCap(TopoDS_Face& made, const geometry::BoundaryFace& face, const FlatLoop& loop,
                              double first) const {
        const geometry::FaceSurface& s = face.surface;
        const bool cone = s.kind == geometry::SurfaceKind::Cone;
        const double v = cone ? -s.radius / s.slope * std::hypot(1, s.slope) : topOf(s);
        const gp_Pnt top = BRep_Tool::Surface(made)->Value(0, v);
        const TopoDS_Vertex apex = vertexAt({top.X(), top.Y(), top.Z()});
        const TopoDS_Vertex& vertex = vertices_[startOf(loop.uses[0])];
        const Place begin = loop.places.front().front();
        // Where the loop runs against u the point lies under it, and its own degenerate edge runs with u.
        const double shift = loop.rounds > 0 ? 0 : kTurn;
        const Place place{begin.u, begin.v};
        const Place point{begin.u, v};
        const TopoDS_Edge seam = loop.rounds > 0 ? addSeam(made, vertex, apex, place, point)
                                                 : addSeam(made, apex, vertex, point, place);
        TopoDS_Edge none;
        builder_.MakeEdge(none);
        builder_.Add(none, apex.Oriented(TopAbs_FORWARD));
        builder_.Add(none, apex.Oriented(TopAbs_REVERSED));
        const Handle(Geom2d_Line) line = new Geom2d_Line({begin.u, v}, gp_Dir2d(1, 0));
        builder_.UpdateEdge(none, line, made, kTolerance);
        builder_.Range(none, made, 0, kTurn);
        builder_.Degenerated(none, true);
        TopoDS_Wire wire;
        builder_.MakeWire(wire);
        std::vector<Place> outline;
        if (loop.rounds > 0) {
            addUses(wire, made, face, loop, shift, first);
            builder_.Add(wire, seam.Oriented(TopAbs_FORWARD));
            builder_.Add(wire, none.Oriented(TopAbs_REVERSED));
        } else {
            builder_.Add(wire, none.Oriented(TopAbs_FORWARD));
            builder_.Add(wire, seam.Oriented(TopAbs_FORWARD));
            addUses(wire, made, face, loop, shift, first);
        }
        builder_.Add(wire, seam.Oriented(TopAbs_REVERSED));
        wire.Closed(true);
        builder_.Add(made, wire);
        for (const auto& places : loop.places) {
            for (const Place& p : places)
                outline.push_back({p.u + shift, p.v});
        }
        outline.push_back({loop.places.back().back().u + shift, v});
        outline.push_back({begin.u + shift, v});
        return outline;
    }

    const geometry::Boundary& body_;
    PointAt pointAt_;
    BRep_Builder builder_;
    std::vector<TopoDS_Vertex> vertices_;
    std::vector<TopoDS_Edge> edges_;
    std::vector<Knots> knots_;  ///< of each edge's spline; none where it is another curve
    std::vector<double> lengths_;
};

}  // namespace

TopoDS_Shape solidOf(const geometry::Boundary& body, PointAt pointAt) {
    const bool isLongCabochon = std::ranges::any_of(body.edges, [](const geometry::BoundaryEdge& edge) {
        return edge.curve.kind == geometry::CurveKind::Ellipse;
    });
    try {
        return isLongCabochon ? longCabochon(body) : SolidBuilder(body, pointAt).run();
    } catch (const Standard_Failure& failure) {
        throw std::runtime_error(std::string(failure.DynamicType()->Name()) + ": " +
                                 failure.GetMessageString());
    }
}

}  // namespace bandwright::formats
