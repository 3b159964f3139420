#include "occt_boundary.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>
#include <math.hxx>
#include <math_Vector.hxx>
#include <optional>
#include <vector>

#include "step_solid.hpp"

namespace bandwright::reference {

TopoDS_Shape solidOf(const geometry::Boundary& body) {
    return formats::solidOf(body, geometry::pointAt);
}

bool isSound(const TopoDS_Shape& shape) {
    for (TopExp_Explorer shell(shape, TopAbs_SHELL); shell.More(); shell.Next()) {
        if (!BRep_Tool::IsClosed(shell.Current())) return false;
    }
    return BRepCheck_Analyzer(shape).IsValid();
}

namespace {

/// Gauss' rule with so many places, over one smooth span.
class Rule {
  public:
    explicit Rule(int count) : places_(1, count), weights_(1, count) {
        math::GaussPoints(count, places_);
        math::GaussWeights(count, weights_);
    }

    template <class Function>
    double operator()(double from, double to, const Function& value) const {
        const double middle = (from + to) / 2, half = (to - from) / 2;
        double sum = 0;
        for (int i = places_.Lower(); i <= places_.Upper(); ++i)
            sum += weights_(i) * value(middle + half * places_(i));
        return half * sum;
    }

  private:
    math_Vector places_, weights_;
};

/// Halves a span until both halves agree with the whole.
template <class Function>
double settled(const Rule& rule, double from, double to, double whole, const Function& value, int halvings) {
    const double middle = (from + to) / 2;
    const double first = rule(from, middle, value), second = rule(middle, to, value);
    if (std::abs(first + second - whole) < 1e-13 * (1 + std::abs(whole)) || halvings == 0)
        return first + second;
    return settled(rule, from, middle, first, value, halvings - 1) +
           settled(rule, middle, to, second, value, halvings - 1);
}

/// The ends of the smooth spans of `curve`, within from..to, these two among them.
template <class Adaptor>
std::vector<double> spans(const Adaptor& curve, double from, double to) {
    TColStd_Array1OfReal knots(1, curve.NbIntervals(GeomAbs_CN) + 1);
    curve.Intervals(knots, GeomAbs_CN);
    std::vector<double> ends{from};
    for (const double knot : knots) {
        if (knot > from && knot < to) ends.push_back(knot);
    }
    ends.push_back(to);
    return ends;
}

/// The flux of (x, y, z) / 3 through a face.
class Flux {
  public:
    explicit Flux(const TopoDS_Face& face) : face_(face), surface_(face, false) {}

    /// By Green's theorem an integral along the edges: that of `upTo` over u.
    double operator()() {
        double sum = 0;
        for (TopExp_Explorer each(face_.Oriented(TopAbs_FORWARD), TopAbs_EDGE); each.More(); each.Next())
            sum -= along(TopoDS::Edge(each.Current()));
        return face_.Orientation() == TopAbs_REVERSED ? -sum : sum;
    }

  private:
    double along(const TopoDS_Edge& edge) {
        static const Rule kRule(20);
        double from = 0, to = 0;
        const Handle(Geom2d_Curve) flat = BRep_Tool::CurveOnSurface(edge, face_, from, to);
        std::optional<BRepAdaptor_Curve> curve;
        if (!BRep_Tool::Degenerated(edge)) curve.emplace(edge);
        const auto value = [&](double t) {
            gp_Pnt2d place;
            gp_Vec2d change;
            flat->D1(t, place, change);
            if (curve) follow(*curve, t, place, change);
            return upTo(place) * change.X();
        };
        const std::vector<double> ends = curve ? spans(*curve, from, to) : std::vector{from, to};
        double sum = 0;
        for (std::size_t i = 0; i + 1 < ends.size(); ++i)
            sum += settled(kRule, ends[i], ends[i + 1], kRule(ends[i], ends[i + 1], value), value, 12);
        return edge.Orientation() == TopAbs_REVERSED ? -sum : sum;
    }

    /// Where the edge's curve in space lies on the surface. The reader follows it there to its own tolerance
    /// only: that is where the search begins.
    void follow(const BRepAdaptor_Curve& edge, double t, gp_Pnt2d& place, gp_Vec2d& change) const {
        gp_Pnt wanted, at;
        gp_Vec way, x, y;
        edge.D1(t, wanted, way);
        for (int step = 0; step < 4; ++step) {
            surface_.D1(place.X(), place.Y(), at, x, y);
            const double xx = x.Dot(x), xy = x.Dot(y), yy = y.Dot(y);
            const double determinant = xx * yy - xy * xy;
            if (determinant < 1e-12 * yy * yy) return;
            const auto solved = [&](const gp_Vec& by) {
                return gp_Vec2d(yy * x.Dot(by) - xy * y.Dot(by), xx * y.Dot(by) - xy * x.Dot(by)) /
                       determinant;
            };
            place.Translate(solved(gp_Vec(at, wanted)));
            change = solved(way);
        }
    }

    /// The integral of the flux over v, from one v for the whole face.
    double upTo(const gp_Pnt2d& place) {
        static const Rule kRule(24);
        if (!begun_) begun_ = place.Y();
        const auto value = [&](double v) {
            gp_Pnt at;
            gp_Vec x, y;
            surface_.D1(place.X(), v, at, x, y);
            return gp_Vec(at.XYZ()).Dot(x.Crossed(y)) / 3;
        };
        const double low = std::min(*begun_, place.Y()), high = std::max(*begun_, place.Y());
        TColStd_Array1OfReal knots(1, surface_.NbVIntervals(GeomAbs_CN) + 1);
        surface_.VIntervals(knots, GeomAbs_CN);
        double sum = 0, last = low;
        for (const double knot : knots) {
            if (knot <= last || knot >= high) continue;
            sum += kRule(last, knot, value);
            last = knot;
        }
        sum += kRule(last, high, value);
        return place.Y() < *begun_ ? -sum : sum;
    }

    TopoDS_Face face_;
    BRepAdaptor_Surface surface_;
    std::optional<double> begun_;
};

}  // namespace

double exactVolume(const TopoDS_Shape& shape) {
    double sum = 0;
    for (TopExp_Explorer each(shape, TopAbs_FACE); each.More(); each.Next())
        sum += Flux(TopoDS::Face(each.Current()))();
    return sum;
}

}  // namespace bandwright::reference
