#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "design/design.hpp"

/// Rings in which one number of the checks has just the value asked for, by school geometry.
namespace bandwright::check::rings {

design::Design with(std::vector<design::Channel> channels, std::vector<design::Setting> settings = {});

/// A setting with one number set: a 4.5 mm seat 1.4 mm deep, a tube 4.5 / 3.4 / 4 mm, 1.7 mm high with a seat
/// 0.8 mm deep, a stone with a flat base, which lies on the tube's ledge.
design::Design withSetting(const std::function<void(design::Setting&)>& change);

design::Design withFill(double width, double depth,
                        const std::function<void(design::Channel&, design::Fill&)>& change);

/// Two pilots that come this near to each other at the bore, along the line between them that touches the
/// bore, in the bore still under size.
design::Design withHolesApart(double land);

/// Two seats whose rims, where they face each other on the outside, are this far apart.
design::Design withMouthsApart(double land);

/// A stone set straight in the metal, its flat base on a bearing as wide as the stone.
design::Design withoutTube(const std::function<void(design::Setting&)>& change);

/// A stone whose girdle, 2 % of 4 mm thick, lies this far below the lowest place of the edge round it.
design::Design withGirdleSunk(double depth);

/// The height of lip that reaches this far over the girdle: the volume turned over the stone, by Pappus, over
/// the area of the ring that it stood on. A rose cut lies with its flat base on the ledge.
design::Design withLipOver(double reach);

/// The thickness at which something that grows with it reaches a value.
double thicknessFor(double value, const std::function<double(double)>& of);

/// A ring 2 mm wide, so thick that `of`, told from its curved beam, is the value asked for.
struct Hoop {
    double thickness, R, e;

    explicit Hoop(double t) : thickness(t), R(10 + t / 2), e(R - t / std::log(1 + t / 10)) {}
    /// Titanium grade 5: 828 MPa; Winkler and Bach at the inside, Roark's moment under the force.
    double firstYield() const {
        const double moment = (R - e) / std::numbers::pi;
        return 828 * 2 * thickness * e * 10 / (moment * (R - e - 10));
    }
    /// Roark, circular rings, case 7, three jaws of 100 N: R^3 / (2 E I) times 0.0319 in and 0.0285 out,
    /// worked out from its table's formulas; negative, so that it grows with the thickness.
    double lobes() const {
        const double s = std::sqrt(0.75), half = std::numbers::pi / 3;
        const double in = (half + s / 2) / 1.5 - 1 / half, out = 1 / half - 1 / (2 * s) - half / 3;
        return -1000 * 100 * (in + out) * R * R / (2 * 114e3 * 2 * thickness * e);
    }
    /// 114 GPa; Roark, circular rings, case 1, thick.
    double stiffness() const {
        const double k1 = 1 + e / R * (2 * 1.2 * 1.3 - 1), k2 = 1 - e / R, pi = std::numbers::pi;
        return 114e3 * 2 * thickness * e / (R * R) / (pi * k1 / 4 - 2 * k2 * k2 / pi);
    }
};

design::Design hoop(double value, double (Hoop::*of)() const);

/// A tube with a gap round it, on the radius, held by a join.
design::Design withGap(double gap, design::Join join);

design::Design glued(double gap);

design::Design soldered(double gap);

design::Design welded(double gap);

design::Design pressed(double interference);

/// How much a tube is pressed for its wall round the seat, 2 to 2.25 mm, in a ring of grade 5 to the edge
/// at 4 mm, to have a share of the yield of 18K gold: by Lame's equations as below.
double pressFor(double share);

/// The plain ring of 20 to 24.8 mm, grade 5, 114 GPa and 828 MPa, with a liner of 18K gold, 80 GPa and 280
/// MPa, 0.6 mm thick: they meet at 21.2 mm.
design::Design withLiner(double interference);

/// The pressure in MPa for each mm of interference, by Lame's equations with Poisson's ratio 0.3.
double linerPressure();

/// Grains of 0.04 to 0.3 mm.
design::Design withMixedGrains(double share);

design::Design withTube();

design::Design layered(design::Design design);

design::Design etchedLast(design::Design design);

/// A channel 4 mm wide and 1 mm deep with a tube in it.
design::Design tubeInChannel(const std::function<void(design::Setting&)>& change);

/// Joined after the fill is in.
design::Design withTubeJoinedBesideAFill(design::Join join);

design::Design withTubeJoined(design::Join join);

/// The stone is set into the tube before the tube is joined to the ring.
design::Design setOnTheBench(design::Join join);

}  // namespace bandwright::check::rings
