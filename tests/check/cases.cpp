#include "cases.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/stone.hpp"

#include "plain_ring.hpp"

namespace bandwright::check {

namespace {

design::Design with(std::vector<design::Channel> channels, std::vector<design::Setting> settings = {}) {
    design::Design design = plainRing();
    design.channels = std::move(channels);
    design.settings = std::move(settings);
    return design;
}

/// A setting with one number set: a 4.5 mm seat 1.4 mm deep, a tube 4.5 / 3.4 / 4 mm, 1.7 mm high with a seat
/// 0.8 mm deep, a stone with a flat base, which lies on the tube's ledge.
design::Design withSetting(const std::function<void(design::Setting&)>& change) {
    design::Setting setting;
    setting.hole.steps[0].diameter = setting.tube->outerDiameter = 4.5;
    setting.tube->seatDiameter = 4;
    setting.stone->cut = design::StoneCut::Cabochon;
    setting.stone->girdle = 2;
    change(setting);
    return with({}, {setting});
}

design::Design withFill(double width, double depth,
                        const std::function<void(design::Channel&, design::Fill&)>& change) {
    design::Channel c = channel(0, width, depth);
    change(c, *c.fill);
    return with({c});
}

/// Two pilots that come this near to each other at the bore, along the line between them that touches the
/// bore, in the bore still under size.
design::Design withHolesApart(double land) {
    constexpr double kPilot = 0.75;
    const double bore = 10 - plainRing().allowances.sizing;
    design::Setting hole = bareHole(0, 2 * kPilot, 1.7, 1);
    hole.placement.count = 2;
    // The shortest way touches the bore half-way: land / 2 = (bore sin(half) - pilot) / cos(half).
    hole.placement.spacing = 2 *
                             (std::asin(kPilot / std::hypot(bore, land / 2)) + std::atan(land / 2 / bore)) *
                             180 / std::numbers::pi;
    return with({}, {hole});
}

/// Two seats whose rims, where they face each other on the outside, are this far apart.
design::Design withMouthsApart(double land) {
    constexpr double kSeat = 0.85, kOutside = 12.4;
    design::Setting hole = bareHole(0, 0.5, 2 * kSeat, 1);
    hole.placement.count = 2;
    hole.placement.spacing =
        2 * (std::asin(kSeat / kOutside) + std::asin(land / 2 / kOutside)) * 180 / std::numbers::pi;
    return with({}, {hole});
}

/// A stone set straight in the metal, its flat base on a bearing as wide as the stone.
design::Design withoutTube(const std::function<void(design::Setting&)>& change) {
    return withSetting([&](design::Setting& s) {
        s.tube.reset();
        s.hole.pilotDiameter = 3.4;
        s.hole.steps = {{4, 0.5, 45}};
        change(s);
    });
}

/// A stone whose girdle, 2 % of 4 mm thick, lies this far below the lowest place of the edge round it.
design::Design withGirdleSunk(double depth) {
    const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 4);
    return withoutTube([&](design::Setting& s) { s.hole.steps[0].depth = depth + 0.08 + saddle; });
}

/// The height of lip that reaches this far over the girdle: the volume turned over the stone, by Pappus, over
/// the area of the ring that it stood on. A rose cut lies with its flat base on the ledge.
design::Design withLipOver(double reach) {
    return withSetting([&](design::Setting& s) {
        s.stone->cut = design::StoneCut::RoseCut;
        const geometry::Mesh stone = geometry::stoneMesh(*s.stone);
        double base = 0;
        double girdle = 0;
        for (const geometry::Vec3& p : stone.points) {
            base = std::min(base, p.z);
            if (std::hypot(p.x, p.y) > 2 - 1e-9) girdle = std::max(girdle, p.z);
        }
        double slope = 0;  // of a cone from there over the crown
        for (const geometry::Vec3& p : stone.points) {
            if (p.z > girdle + 1e-9) slope = std::max(slope, (p.z - girdle) / (2 - std::hypot(p.x, p.y)));
        }
        const double lean = std::atan(slope);
        const double wall = (s.tube->outerDiameter - s.tube->seatDiameter) / 2;
        const geometry::Vec2 pivot{2, 0};
        const geometry::Vec2 along = reach * geometry::Vec2{-1, slope};
        const geometry::Vec2 across = wall * geometry::Vec2{std::sin(lean), std::cos(lean)};
        const geometry::Vec2 mitre{wall, wall * std::tan((std::numbers::pi / 2 - lean) / 2)};
        const geometry::Vec2 corners[] = {pivot, pivot + geometry::Vec2{wall, 0}, pivot + mitre,
                                          pivot + along + across, pivot + along};
        geometry::Loop turned;
        for (std::size_t i = 0; i < 5; ++i) {
            const geometry::Vec2 from = corners[i];
            const geometry::Vec2 to = corners[(i + 1) % 5];
            turned.push_back(geometry::line({from.r, from.z}, {to.r, to.z}, {}));
        }
        const double ring = std::numbers::pi * (std::pow(2 + wall, 2) - 4);
        s.tube->seatDepth = std::abs(geometry::properties({turned}).volume) / ring + girdle - base;
    });
}

/// The thickness at which something that grows with it reaches a value.
double thicknessFor(double value, const std::function<double(double)>& of) {
    double low = 0.5, high = 4;
    for (int i = 0; i < 100; ++i)
        (of((low + high) / 2) < value ? low : high) = (low + high) / 2;
    return low;
}

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

design::Design hoop(double value, double (Hoop::*of)() const) {
    design::Design design = plainRing();
    design.band.width = 2;
    design.band.thickness = thicknessFor(value, [&](double t) { return (Hoop(t).*of)(); });
    return design;
}

std::vector<Case> ofMetal() {
    return {
        {"floor-wall", 0.5, 0.6, [](double wall) { return with({channel(0, 4, 2.4 - wall)}); }},
        {"rim-left", 0.75, 0.9, [](double wall) { return with({channel(wall - 2, 4, 1)}); }},
        {"rim-right", 0.75, 0.9, [](double wall) { return with({channel(2 - wall, 4, 1)}); }},
        {"land", 0.5, 0.6,
         [](double wall) {
             return with({channel(1, 1.5, 1), channel(-0.5 - wall, 1.5, 1)});
         }},
        {"thinnest-wall", 0.5, 0.6,
         [](double wall) {
             design::Design design = plainRing();
             design.band.thickness = wall;
             return design;
         }},
        {"liner-wall", 0.25, 0.4,
         [](double wall) {
             design::Design design = plainRing();
             design.band.liner = design::Liner{.thickness = wall};
             return design;
         }},
        {"hole-to-edge", 0.75, 0.9, [](double wall) { return with({}, {bareHole(2.5 - wall, 1.5, 3, 1)}); }},
        {"seat-to-channel", 0.75, 0.9,
         [](double wall) { return with({channel(-2.5, 1, 1.5)}, {bareHole(wall - 1, 1.2, 2, 1)}); }},
        {"hole-to-hole", 0.5, 0.6, withHolesApart},
        {"mouth-to-mouth", 0.4, 0.8, withMouthsApart},
        {"seat-floor", 0.5, 0.6, [](double wall) { return with({}, {bareHole(0, 1.5, 3, 2.4 - wall)}); }},
        {"first-yield", 50, 75, [](double force) { return hoop(force, &Hoop::firstYield); }},
        {"stiffness", 300, 600, [](double stiffness) { return hoop(stiffness, &Hoop::stiffness); }},
        {"chuck-spring", 150, 50, [](double lobes) { return hoop(-lobes, &Hoop::lobes); }, true},
        {"rim-slender", 3, 2, [](double times) { return with({channel(0, 8 - 2 * 1.2 / times, 1.2)}); },
         true},
        {"edge-face-left", 0.2, 0.3,
         [](double flat) {
             design::Design design = plainRing();
             design.band.left = {design::EdgeShape::Bevel, 2.4 - flat, 45};
             return design;
         }},
        {"edge-face-right", 0.2, 0.3,
         [](double flat) {
             design::Design design = plainRing();
             design.band.right = {design::EdgeShape::Round, 2.4 - flat, 45};
             return design;
         }},
    };
}

/// A tube with a gap round it, on the radius, held by a join.
design::Design withGap(double gap, design::Join join) {
    return withSetting([&](design::Setting& s) {
        s.hole.steps[0].diameter = 4.5 + 2 * gap;
        s.tube->join = join;
    });
}
design::Design glued(double gap) {
    return withGap(gap, design::Join::Adhesive);
}
design::Design soldered(double gap) {
    return withGap(gap, design::Join::Solder);
}
design::Design welded(double gap) {
    return withGap(gap, design::Join::LaserWeld);
}
design::Design pressed(double interference) {
    return withGap(-interference / 2, design::Join::Press);
}

/// How much a tube is pressed for its wall round the seat, 2 to 2.25 mm, in a ring of grade 5 to the edge
/// at 4 mm, to have a share of the yield of 18K gold: by Lame's equations as below.
double pressFor(double share) {
    const double a = 2, c = 4;
    double least = 0, most = 0.1;
    for (int i = 0; i < 100; ++i) {
        const double i2 = (least + most) / 2, b = 2.25 - i2 / 2;
        const double sleeve = ((c * c + b * b) / (c * c - b * b) + 0.3) / 114e3;
        const double inner = ((b * b + a * a) / (b * b - a * a) - 0.3) / 80e3;
        const double pressure = i2 / 2 / (b * (sleeve + inner));
        (2 * pressure * b * b / (b * b - a * a) < share * 280 ? least : most) = i2;
    }
    return least;
}

/// The plain ring of 20 to 24.8 mm, grade 5, 114 GPa and 828 MPa, with a liner of 18K gold, 80 GPa and 280
/// MPa, 0.6 mm thick: they meet at 21.2 mm.
design::Design withLiner(double interference) {
    design::Design design = plainRing();
    design.band.liner = design::Liner{"gold-18k-yellow", 0.6, interference};
    return design;
}

/// The pressure in MPa for each mm of interference, by Lame's equations with Poisson's ratio 0.3.
double linerPressure() {
    const double a = 10, b = 10.6, c = 12.4;
    const double sleeve = ((c * c + b * b) / (c * c - b * b) + 0.3) / 114e3;
    const double liner = ((b * b + a * a) / (b * b - a * a) - 0.3) / 80e3;
    return 0.5 / (b * (sleeve + liner));
}

std::vector<Case> ofLiners() {
    return {
        {"liner-fit", 0.005, 0.01, withLiner},
        {"liner-fit", 0.06, 0.03, withLiner, true},
        {"liner-gap", 0.0035, 0.01, [](double gap) { return withLiner(-2 * gap); }},
        {"liner-gap", 0.125, 0.05, [](double gap) { return withLiner(-2 * gap); }, true},
        {"liner-stress", 1, 0.7,
         [](double share) {
             const double factor = 2 * 10.6 * 10.6 / (10.6 * 10.6 - 10 * 10);
             return withLiner(share * 280 / factor / linerPressure());
         },
         true},
        {"sleeve-stress", 1, 0.7,
         [](double share) {
             const double factor = (12.4 * 12.4 + 10.6 * 10.6) / (12.4 * 12.4 - 10.6 * 10.6);
             return withLiner(share * 828 / factor / linerPressure());
         },
         true},
        // 8.6 millionths per degree.
        {"liner-heat", 365, 270, [](double heat) { return withLiner(heat * 8.6e-6 * 21.2); }, true},
    };
}

std::vector<Case> ofTubes() {
    return {
        {"tube-clearance", 0, 0.01, glued},
        {"tube-clearance", 0.125, 0.05, glued, true},
        {"solder-gap", 0.025, 0.025, soldered},
        {"solder-gap", 0.125, 0.125, soldered, true},
        {"weld-gap", 0, 0.002, welded},
        {"weld-gap", 0.05, 0.025, welded, true},
        {"press-fit", 0.002, 0.005, pressed},
        {"press-fit", 0.03, 0.02, pressed, true},
        {"press-stress", 1, 0.7, [](double share) { return pressed(pressFor(share)); }, true},
        {"tube-lip", 0.2, 0.25,
         [](double wall) {
             return withSetting([&](design::Setting& s) { s.tube->outerDiameter = 4 + 2 * wall; });
         }},
        {"tube-ledge", 0.2, 0.25,
         [](double width) {
             return withSetting([&](design::Setting& s) { s.tube->innerDiameter = 4 - 2 * width; });
         }},
        {"tube-proud", 0.6, 0.45,
         [](double height) {
             return withSetting([&](design::Setting& s) {
                 s.tube->height = 1.4 + height;
                 s.stone.reset();
             });
         },
         true},
        {"tube-grip", 0.4, 0.6,
         [](double depth) {
             const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 2.25 * 2.25);
             return withSetting([&](design::Setting& s) { s.hole.steps[0].depth = depth + saddle; });
         }},
    };
}

std::vector<Case> ofStones() {
    return {
        // The base lies 0.1 mm above the bottom of the tube.
        {"culet-to-finger", 0.2, 0.3,
         [](double gap) {
             return withSetting([&](design::Setting& s) {
                 s.tube->seatDepth = 0.8;
                 s.tube->height = 0.9;
                 s.hole.steps[0].depth = 2.4 + 0.1 - gap;
             });
         }},
        {"stone-clearance", 0, 0.005,
         [](double gap) {
             return withSetting([&](design::Setting& s) { s.tube->seatDiameter = 4 + 2 * gap; });
         }},
        {"stone-clearance", 0.1, 0.05,
         [](double gap) {
             return withSetting([&](design::Setting& s) { s.tube->seatDiameter = 4 + 2 * gap; });
         },
         true},
        {"stone-on-ledge", 0.2, 0.25,
         [](double reach) {
             return withSetting([&](design::Setting& s) { s.tube->innerDiameter = 4 - 2 * reach; });
         }},
        // The girdle is 2 % of 4 mm thick.
        {"lip-over-girdle", 0.2, 0.3,
         [](double lip) { return withSetting([&](design::Setting& s) { s.tube->seatDepth = 0.08 + lip; }); }},
        {"lip-over-girdle", 0.7, 0.5,
         [](double lip) { return withSetting([&](design::Setting& s) { s.tube->seatDepth = 0.08 + lip; }); },
         true},
        {"lip-cover", 0.05, 0.1, withLipOver},
        {"bearing-width", 0.1, 0.2,
         [](double width) {
             return withoutTube([&](design::Setting& s) { s.hole.pilotDiameter = 4 - 2 * width; });
         }},
        {"girdle-sunk", 0.1, 0.15, withGirdleSunk},
        {"girdle-sunk", 0.8, 0.5, withGirdleSunk, true},
        // A seat 0.1 mm wider lets the stone 0.05 mm deeper into its bearing of 45 degrees, and takes as much
        // from what the edge covers.
        {"edge-cover", 0.05, 0.1,
         [](double cover) {
             design::Design design = withGirdleSunk(cover);
             const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 4);
             const double wider = 12.4 - std::sqrt(12.4 * 12.4 - 2.05 * 2.05);
             design.settings[0].hole.steps[0].diameter = 4.1;
             design.settings[0].hole.steps[0].depth += wider - saddle;
             return design;
         }},
        // A cabochon's dome is 35 % of 4 mm high, on a girdle of 0.08 mm.
        {"stone-proud", 2, 1.2,
         [](double height) {
             return withSetting(
                 [&](design::Setting& s) { s.tube->height = 1.4 + 0.8 - 0.08 - 1.4 + height; });
         },
         true},
        {"pavilion-room", 0.05, 0.1,
         [](double room) {
             return withSetting([&](design::Setting& s) { s.tube->seatDepth = 1.7 - room; });
         }},
    };
}

/// Grains of 0.04 to 0.3 mm.
design::Design withMixedGrains(double share) {
    return withFill(4, 1, [&](design::Channel&, design::Fill& f) {
        f.grainLeast = 0.04;
        f.grainMost = 0.3;
        f.packing = share;
    });
}

std::vector<Case> ofFills() {
    return {
        {"grains-deep", 2, 3,
         [](double count) {
             return withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.grainMost = 1 / count; });
         }},
        {"grains-wide", 2, 3,
         [](double count) {
             return withFill(2, 1, [&](design::Channel&, design::Fill& f) { f.grainMost = 2 / count; });
         }},
        {"fill-depth", 0.4, 0.75, [](double depth) { return with({channel(0, 4, depth)}); }},
        {"fill-step", 0.2, 0.1,
         [](double step) {
             return withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.proud = -step; });
         },
         true},
        {"fill-packing", 0.4, 0.5,
         [](double share) {
             return withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.packing = share; });
         }},
        {"fill-packing", 0.64, 0.6,
         [](double share) {
             return withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.packing = share; });
         },
         true},
        {"fill-packing-mixed", 0.4, 0.5, withMixedGrains},
        {"fill-packing-mixed", 0.78, 0.7, withMixedGrains, true},
        {"fill-depth-keyed", 0.3, 0.4,
         [](double depth) {
             return withFill(4, depth, [&](design::Channel& c, design::Fill&) { c.draft = -20; });
         }},
        // Cyanoacrylate: layers of 0.4 mm, 12 % lost.
        {"fill-over", 0, 0.05,
         [](double over) {
             design::Design design = with({channel(0, 4, 1)});
             design.allowances.fill = over + 0.4 * 0.12;
             return design;
         }},
        {"fill-draft", 5, 0,
         [](double draft) {
             return withFill(4, 1, [&](design::Channel& c, design::Fill&) { c.draft = draft; });
         },
         true},
        {"channel-reach", 3, 2, [](double reach) { return with({channel(0, 1 / reach, 1)}); }, true},
    };
}

std::vector<Case> ofWork() {
    return {
        {"bore-ease", 0.05, 0.1,
         [](double ease) {
             design::Design design = plainRing();
             design.band.bore.ease = ease;
             return design;
         }},
        {"sizing-allowance", 0.4064, 0.3,
         [](double left) {
             design::Design design = plainRing();
             design.allowances.sizing = left;
             return design;
         },
         true},
        {"band-thickness", 3.5, 2.5,
         [](double thickness) {
             design::Design design = plainRing();
             design.band.thickness = thickness;
             return design;
         },
         true},
        // Also through the metal left for truing and sizing.
        {"drill-depth", 6, 3,
         [](double depth) {
             const design::Allowances left;
             return with({}, {bareHole(0, (2.4 + left.truing + left.sizing) / depth, 2, 1)});
         },
         true},
    };
}

design::Design withTube() {
    return withSetting([](design::Setting&) {});
}

design::Design layered(design::Design design) {
    design.band.metal = "steel-304l-316l-layered";
    return design;
}

design::Design etchedLast(design::Design design) {
    const auto etched = std::ranges::find(design.route, design::Stage::Etched);
    std::rotate(etched, etched + 1, design.route.end());
    return design;
}

/// A channel 4 mm wide and 1 mm deep with a tube in it.
design::Design tubeInChannel(const std::function<void(design::Setting&)>& change) {
    design::Design design = withSetting(change);
    design.channels = {channel(0, 4, 1)};
    return design;
}

/// Joined after the fill is in.
design::Design withTubeJoinedBesideAFill(design::Join join) {
    design::Design design = withSetting([&](design::Setting& s) { s.tube->join = join; });
    design.band.width = 14;
    design.channels = {channel(-5, 1, 1)};
    return design;
}

design::Design withTubeJoined(design::Join join) {
    return withSetting([&](design::Setting& s) { s.tube->join = join; });
}

/// The stone is set into the tube before the tube is joined to the ring.
design::Design setOnTheBench(design::Join join) {
    design::Design design = withSetting([&](design::Setting& s) { s.tube->join = join; });
    design.route = design::movedBefore(design.route, design::Stage::Closed, design::Stage::Joined);
    return design;
}

std::vector<Case> ofMaterials() {
    const auto any = [](double) { return withTube(); };
    const auto filled = [](double) { return with({channel(0, 4, 1)}); };
    return {
        {"nickel-release", 0.5, 0.35, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.nickelRelease = trade::Sourced{value, "a test"};
         }},
        {"lead-content", 0.05, 0.04, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 if (m.id == "gold-18k-yellow") m.lead = trade::Sourced{value, "a test"};
         }},
        {"cadmium-content", 0.01, 0.008, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.cadmium = trade::Sourced{value, "a test"};
         }},
        // Titanium is passive and is not eaten: taken as a metal that is not.
        {"galvanic-pair", 0.25, 0.15, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals) {
                 m.anodicIndex.value = m.id == "titanium-grade-5" ? 0.1 + value : 0.1;
                 m.passive = false;
             }
         }},
        {"etch-fill", 0, 1, [](double) { return layered(with({channel(0, 4, 1)})); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Filler& f : c.fillers)
                 f.etchResistance.value = value;
             for (trade::Adhesive& a : c.adhesives)
                 a.etchResistance.value = 2;
         }},
        {"etch-setting", 0, 1, [](double) { return etchedLast(layered(withTube())); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Gem& g : c.gems)
                 g.etchResistance.value = value;
         }},
        // The bore is straight: sizing takes off what was left for it.
        {"colour-cut", 0, 0,
         [](double cut) {
             design::Design design = plainRing();
             design.band.surface.treatment = design::Treatment::Anodised;
             design.allowances.sizing = cut;
             return design;
         },
         true},
        {"etch-cut", 0, 0,
         [](double cut) {
             design::Design design = layered(plainRing());
             design.allowances.sizing = cut;
             design.route = design::movedBefore(design.route, design::Stage::Etched, design::Stage::Sized);
             return design;
         },
         true},
        // Easy solder flows at 718 degrees C, a weld in the fingers reaches 45.
        {"join-heat-fill", 0, 20, [](double) { return withTubeJoinedBesideAFill(design::Join::LaserWeld); },
         false,
         [](trade::Catalogue& c, double value) {
             for (trade::Adhesive& a : c.adhesives)
                 a.serviceTemperature.value = 45 + value;
         }},
        {"join-heat-stone", 0, 30, [](double) { return setOnTheBench(design::Join::Solder); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Gem& g : c.gems)
                 g.heatResistance.value = 718 + value;
         }},
        // Easy solder over a liner that is glued in with any of them.
        {"join-heat-liner", 0, 20,
         [](double) {
             design::Design design = withTubeJoined(design::Join::Solder);
             design.band.liner = design::Liner{.interference = -0.03};
             return design;
         },
         false,
         [](trade::Catalogue& c, double value) {
             for (trade::Adhesive& a : c.adhesives)
                 a.serviceTemperature.value = 718 + value;
         }},
        // From the tube, 4.5 mm wide, to a channel that begins this far beside it.
        {"weld-to-fill", 1, 2,
         [](double away) {
             design::Design design = withTubeJoinedBesideAFill(design::Join::LaserWeld);
             design.band.width = 14;
             design.channels = {channel(-2.25 - away - 0.5, 1, 1)};
             return design;
         }},
        {"solder-metal", 0.5, 1.5, [](double) { return withTubeJoined(design::Join::Solder); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.soldering.value = m.id == "titanium-grade-5" ? value : 2;
         }},
        {"solder-melt", 0, 20, [](double) { return withTubeJoined(design::Join::Solder); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 if (m.id == "gold-18k-yellow") m.melting = trade::Sourced{718 + value, "a test"};
         }},
        // Burnished, a stone needs fair toughness, 1.
        {"stone-toughness", -1, 0, any, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Gem& g : c.gems)
                 g.toughness.value = 1 + value;
         }},
        {"fill-water", 0.5, 1, filled, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Filler& f : c.fillers)
                 f.waterResistance.value = value;
             for (trade::Adhesive& a : c.adhesives)
                 a.waterResistance.value = 2;
         }},
        {"fill-light", 0.5, 1, filled, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Adhesive& a : c.adhesives)
                 a.lightResistance.value = value;
         }},
        // The band's section is 8 by 2.4 mm; 18K gold has 130 HV.
        {"cut-off", 100, 60, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.hardness.value = value * 130 / (8 * 2.4);
         }},
        {"cut-bite", 700, 400, any, true,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.hardness.value = value;
         }},
        {"wear-hardness", 25, 60, any, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.hardness.value = value;
         }},
        {"fill-heat", 40, 45, filled, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Adhesive& a : c.adhesives)
                 a.serviceTemperature.value = value;
         }},
        {"fill-softness", 2, 3, filled, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Filler& f : c.fillers)
                 f.mohs.value = value;
         }},
        // Cyanoacrylate: layers of 0.4 mm, 12 % lost.
        {"fill-layers", 5, 3, [](double layers) { return with({channel(0, 4, 0.4 * layers)}); }, true},
        {"fill-shrinkage", 0.12, 0.06,
         [](double sunk) {
             return withFill(4, 2,
                             [&](design::Channel&, design::Fill& f) { f.packing = 1 - sunk / 0.12 / 2; });
         },
         true},
    };
}

std::vector<Case> ofFit() {
    constexpr double kUsSize = 0.8128;
    return {
        // Half a US size for a straight bore.
        {"width-correction", 0.6, 0.3,
         [](double lacking) {
             design::Design design = plainRing();
             design.finger.widthCorrection = kUsSize / 2 - lacking;
             return design;
         },
         true},
        {"band-width", 14, 10,
         [](double width) {
             design::Design design = plainRing();
             design.band.width = width;
             return design;
         },
         true},
        // Titanium, 4.42 g/cm3, as a plain tube.
        {"ring-mass", 30, 18,
         [](double mass) {
             design::Design design = plainRing();
             design.band.width = 20;
             design.band.thickness = std::sqrt(100 + mass / 4.42e-3 / 20 / std::numbers::pi) - 10;
             return design;
         },
         true},
    };
}

std::vector<Case> ofHolding() {
    return {
        {"seat-bite", 0.1, 0.2,
         [](double bite) {
             return tubeInChannel([&](design::Setting& s) { s.hole.steps[0].diameter = 4 + 2 * bite; });
         }},
        {"seat-in-floor", 0.2, 0.3,
         [](double depth) {
             return tubeInChannel([&](design::Setting& s) { s.hole.steps[0].depth = 1 + depth; });
         }},
        // The stone's flat base lies on the ledge, its girdle is 0.08 mm thick.
        {"girdle-proud", 0.5, 0.3,
         [](double height) {
             return withSetting([&](design::Setting& s) { s.tube->height = 1.4 + 0.8 - 0.08 + height; });
         },
         true},
        // A radius of 4 drill diameters: asin(1/8).
        {"drill-start", 31, 7.18,
         [](double slope) {
             design::Design design = with({}, {bareHole(2, 0.5, 0.8, 1)});
             design.band.thickness = 4;
             design.band.outside = {design::OutsideShape::KnifeEdge,
                                    4 * std::tan(slope * std::numbers::pi / 180)};
             return design;
         },
         true},
        {"mandrel-grip", 0.5, 1,
         [](double length) {
             design::Design design = plainRing();
             design.band.width = 2;
             design.band.bore.ease = 1 - length / 2;
             design.route = design::movedBefore(design.route, design::Stage::Sized, design::Stage::Polished);
             return design;
         }},
        {"boring-reach", 4, 3,
         [](double reach) {
             design::Design design = plainRing();
             // Of the usual bars that of 4 mm is the thickest within 0.7 of 8 mm; 0.5 mm left on each face.
             design.finger.size = {trade::SizeSystem::Diameter, 8};
             design.band.width = reach * 4 - 2 - 1;
             return design;
         },
         true},
        // The usual blade of 2 mm; 0.1 and 1 mm more on the blank.
        {"parting-blade", 20, 15,
         [](double widths) {
             design::Design design = plainRing();
             design.band.thickness = widths * 2 / 2 - 1.1 - 10;
             return design;
         },
         true},
        {"parting-room", 0.05, 0.1,
         [](double widths) {
             design::Design design = plainRing();
             design.allowances.parting = 2 * widths;
             return design;
         }},
        // On the usual head every spacing is near a hole; on one of 15 degrees, 24 holes, none is.
        {"dividing-error", 1, 0.1,
         [](double error) {
             design::Design design = with({}, {bareHole(0, 1, 2, 1)});
             design.settings[0].placement.count = 2;
             design.settings[0].placement.spacing = 90 - error;
             return design;
         },
         true,
         [](trade::Catalogue& c, double) {
             c.tools.dividing = {1, {24}};
         }},
        {"channel-width", 0.4, 0.8, [](double width) { return with({channel(0, width, 0.5)}); }},
    };
}

}  // namespace

std::vector<Case> cases() {
    std::vector<Case> all;
    for (const std::vector<Case>& part : {ofMetal(), ofLiners(), ofTubes(), ofStones(), ofFills(),
                                          ofMaterials(), ofFit(), ofHolding(), ofWork()})
        all.insert(all.end(), part.begin(), part.end());
    return all;
}

}  // namespace bandwright::check
