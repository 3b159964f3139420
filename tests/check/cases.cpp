#include "cases.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "case_rings.hpp"
#include "geometry/stone.hpp"
#include "plain_ring.hpp"

namespace bandwright::check {

namespace {

std::vector<Case> ofMetal() {
    return {
        {"floor-wall", 0.5, 0.6, [](double wall) { return rings::with({channel(0, 4, 2.4 - wall)}); }},
        {"rim-left", 0.75, 0.9, [](double wall) { return rings::with({channel(wall - 2, 4, 1)}); }},
        {"rim-right", 0.75, 0.9, [](double wall) { return rings::with({channel(2 - wall, 4, 1)}); }},
        {"land", 0.5, 0.6,
         [](double wall) {
             return rings::with({channel(1, 1.5, 1), channel(-0.5 - wall, 1.5, 1)});
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
        {"hole-to-edge", 0.75, 0.9,
         [](double wall) { return rings::with({}, {bareHole(2.5 - wall, 1.5, 3, 1)}); }},
        {"seat-to-channel", 0.75, 0.9,
         [](double wall) { return rings::with({channel(-2.5, 1, 1.5)}, {bareHole(wall - 1, 1.2, 2, 1)}); }},
        {"hole-to-hole", 0.5, 0.6, rings::withHolesApart},
        {"mouth-to-mouth", 0.4, 0.8, rings::withMouthsApart},
        {"seat-floor", 0.5, 0.6,
         [](double wall) { return rings::with({}, {bareHole(0, 1.5, 3, 2.4 - wall)}); }},
        {"first-yield", 50, 75, [](double force) { return rings::hoop(force, &rings::Hoop::firstYield); }},
        {"stiffness", 300, 600,
         [](double stiffness) { return rings::hoop(stiffness, &rings::Hoop::stiffness); }},
        {"chuck-spring", 150, 50, [](double lobes) { return rings::hoop(-lobes, &rings::Hoop::lobes); },
         true},
        {"rim-slender", 3, 2,
         [](double times) { return rings::with({channel(0, 8 - 2 * 1.2 / times, 1.2)}); }, true},
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

std::vector<Case> ofLiners() {
    return {
        {"liner-fit", 0.005, 0.01, rings::withLiner},
        {"liner-fit", 0.06, 0.03, rings::withLiner, true},
        {"liner-gap", 0.0035, 0.01, [](double gap) { return rings::withLiner(-2 * gap); }},
        {"liner-gap", 0.125, 0.05, [](double gap) { return rings::withLiner(-2 * gap); }, true},
        {"liner-stress", 1, 0.7,
         [](double share) {
             const double factor = 2 * 10.6 * 10.6 / (10.6 * 10.6 - 10 * 10);
             return rings::withLiner(share * 280 / factor / rings::linerPressure());
         },
         true},
        {"sleeve-stress", 1, 0.7,
         [](double share) {
             const double factor = (12.4 * 12.4 + 10.6 * 10.6) / (12.4 * 12.4 - 10.6 * 10.6);
             return rings::withLiner(share * 828 / factor / rings::linerPressure());
         },
         true},
        // 8.6 millionths per degree.
        {"liner-heat", 365, 270, [](double heat) { return rings::withLiner(heat * 8.6e-6 * 21.2); }, true},
    };
}

std::vector<Case> ofTubes() {
    return {
        {"tube-clearance", 0, 0.01, rings::glued},
        {"tube-clearance", 0.125, 0.05, rings::glued, true},
        {"solder-gap", 0.025, 0.025, rings::soldered},
        {"solder-gap", 0.125, 0.125, rings::soldered, true},
        {"weld-gap", 0, 0.002, rings::welded},
        {"weld-gap", 0.05, 0.025, rings::welded, true},
        {"press-fit", 0.002, 0.005, rings::pressed},
        {"press-fit", 0.03, 0.02, rings::pressed, true},
        {"press-stress", 1, 0.7, [](double share) { return rings::pressed(rings::pressFor(share)); }, true},
        {"tube-lip", 0.2, 0.25,
         [](double wall) {
             return rings::withSetting([&](design::Setting& s) { s.tube->outerDiameter = 4 + 2 * wall; });
         }},
        {"tube-ledge", 0.2, 0.25,
         [](double width) {
             return rings::withSetting([&](design::Setting& s) { s.tube->innerDiameter = 4 - 2 * width; });
         }},
        {"tube-proud", 0.6, 0.45,
         [](double height) {
             return rings::withSetting([&](design::Setting& s) {
                 s.tube->height = 1.4 + height;
                 s.stone.reset();
             });
         },
         true},
        {"tube-grip", 0.4, 0.6,
         [](double depth) {
             const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 2.25 * 2.25);
             return rings::withSetting([&](design::Setting& s) { s.hole.steps[0].depth = depth + saddle; });
         }},
    };
}

std::vector<Case> ofStones() {
    return {
        // The base lies 0.1 mm above the bottom of the tube.
        {"culet-to-finger", 0.2, 0.3,
         [](double gap) {
             return rings::withSetting([&](design::Setting& s) {
                 s.tube->seatDepth = 0.8;
                 s.tube->height = 0.9;
                 s.hole.steps[0].depth = 2.4 + 0.1 - gap;
             });
         }},
        {"stone-clearance", 0, 0.005,
         [](double gap) {
             return rings::withSetting([&](design::Setting& s) { s.tube->seatDiameter = 4 + 2 * gap; });
         }},
        {"stone-clearance", 0.1, 0.05,
         [](double gap) {
             return rings::withSetting([&](design::Setting& s) { s.tube->seatDiameter = 4 + 2 * gap; });
         },
         true},
        {"stone-on-ledge", 0.2, 0.25,
         [](double reach) {
             return rings::withSetting([&](design::Setting& s) { s.tube->innerDiameter = 4 - 2 * reach; });
         }},
        // The girdle is 2 % of 4 mm thick.
        {"lip-over-girdle", 0.2, 0.3,
         [](double lip) {
             return rings::withSetting([&](design::Setting& s) { s.tube->seatDepth = 0.08 + lip; });
         }},
        {"lip-over-girdle", 0.7, 0.5,
         [](double lip) {
             return rings::withSetting([&](design::Setting& s) { s.tube->seatDepth = 0.08 + lip; });
         },
         true},
        {"lip-cover", 0.05, 0.1, rings::withLipOver},
        {"bearing-width", 0.1, 0.2,
         [](double width) {
             return rings::withoutTube([&](design::Setting& s) { s.hole.pilotDiameter = 4 - 2 * width; });
         }},
        {"girdle-sunk", 0.1, 0.15, rings::withGirdleSunk},
        {"girdle-sunk", 0.8, 0.5, rings::withGirdleSunk, true},
        // A seat 0.1 mm wider lets the stone 0.05 mm deeper into its bearing of 45 degrees, and takes as much
        // from what the edge covers.
        {"edge-cover", 0.05, 0.1,
         [](double cover) {
             design::Design design = rings::withGirdleSunk(cover);
             const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 4);
             const double wider = 12.4 - std::sqrt(12.4 * 12.4 - 2.05 * 2.05);
             design.settings[0].hole.steps[0].diameter = 4.1;
             design.settings[0].hole.steps[0].depth += wider - saddle;
             return design;
         }},
        // A cabochon's dome is 35 % of 4 mm high, on a girdle of 0.08 mm.
        {"stone-proud", 2, 1.2,
         [](double height) {
             return rings::withSetting(
                 [&](design::Setting& s) { s.tube->height = 1.4 + 0.8 - 0.08 - 1.4 + height; });
         },
         true},
        {"pavilion-room", 0.05, 0.1,
         [](double room) {
             return rings::withSetting([&](design::Setting& s) { s.tube->seatDepth = 1.7 - room; });
         }},
    };
}

std::vector<Case> ofFills() {
    return {
        {"grains-deep", 2, 3,
         [](double count) {
             return rings::withFill(4, 1,
                                    [&](design::Channel&, design::Fill& f) { f.grainMost = 1 / count; });
         }},
        {"grains-wide", 2, 3,
         [](double count) {
             return rings::withFill(2, 1,
                                    [&](design::Channel&, design::Fill& f) { f.grainMost = 2 / count; });
         }},
        {"fill-depth", 0.4, 0.75, [](double depth) { return rings::with({channel(0, 4, depth)}); }},
        {"fill-step", 0.2, 0.1,
         [](double step) {
             return rings::withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.proud = -step; });
         },
         true},
        {"fill-packing", 0.4, 0.5,
         [](double share) {
             return rings::withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.packing = share; });
         }},
        {"fill-packing", 0.64, 0.6,
         [](double share) {
             return rings::withFill(4, 1, [&](design::Channel&, design::Fill& f) { f.packing = share; });
         },
         true},
        {"fill-packing-mixed", 0.4, 0.5, rings::withMixedGrains},
        {"fill-packing-mixed", 0.78, 0.7, rings::withMixedGrains, true},
        {"fill-depth-keyed", 0.3, 0.4,
         [](double depth) {
             return rings::withFill(4, depth, [&](design::Channel& c, design::Fill&) { c.draft = -20; });
         }},
        // Cyanoacrylate: layers of 0.4 mm, 12 % lost.
        {"fill-over", 0, 0.05,
         [](double over) {
             design::Design design = rings::with({channel(0, 4, 1)});
             design.allowances.fill = over + 0.4 * 0.12;
             return design;
         }},
        {"fill-draft", 5, 0,
         [](double draft) {
             return rings::withFill(4, 1, [&](design::Channel& c, design::Fill&) { c.draft = draft; });
         },
         true},
        {"channel-reach", 3, 2, [](double reach) { return rings::with({channel(0, 1 / reach, 1)}); }, true},
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
             return rings::with({}, {bareHole(0, (2.4 + left.truing + left.sizing) / depth, 2, 1)});
         },
         true},
    };
}

std::vector<Case> ofMaterials() {
    const auto any = [](double) { return rings::withTube(); };
    const auto filled = [](double) { return rings::with({channel(0, 4, 1)}); };
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
        {"etch-fill", 0, 1, [](double) { return rings::layered(rings::with({channel(0, 4, 1)})); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Filler& f : c.fillers)
                 f.etchResistance.value = value;
             for (trade::Adhesive& a : c.adhesives)
                 a.etchResistance.value = 2;
         }},
        {"etch-setting", 0, 1, [](double) { return rings::etchedLast(rings::layered(rings::withTube())); },
         false,
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
             design::Design design = rings::layered(plainRing());
             design.allowances.sizing = cut;
             design.route = design::movedBefore(design.route, design::Stage::Etched, design::Stage::Sized);
             return design;
         },
         true},
        // Easy solder flows at 718 degrees C, a weld in the fingers reaches 45.
        {"join-heat-fill", 0, 20,
         [](double) { return rings::withTubeJoinedBesideAFill(design::Join::LaserWeld); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Adhesive& a : c.adhesives)
                 a.serviceTemperature.value = 45 + value;
         }},
        {"join-heat-stone", 0, 30, [](double) { return rings::setOnTheBench(design::Join::Solder); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Gem& g : c.gems)
                 g.heatResistance.value = 718 + value;
         }},
        // Easy solder over a liner that is glued in with any of them.
        {"join-heat-liner", 0, 20,
         [](double) {
             design::Design design = rings::withTubeJoined(design::Join::Solder);
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
             design::Design design = rings::withTubeJoinedBesideAFill(design::Join::LaserWeld);
             design.band.width = 14;
             design.channels = {channel(-2.25 - away - 0.5, 1, 1)};
             return design;
         }},
        {"solder-metal", 0.5, 1.5, [](double) { return rings::withTubeJoined(design::Join::Solder); }, false,
         [](trade::Catalogue& c, double value) {
             for (trade::Metal& m : c.metals)
                 m.soldering.value = m.id == "titanium-grade-5" ? value : 2;
         }},
        {"solder-melt", 0, 20, [](double) { return rings::withTubeJoined(design::Join::Solder); }, false,
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
        {"fill-layers", 5, 3, [](double layers) { return rings::with({channel(0, 4, 0.4 * layers)}); }, true},
        {"fill-shrinkage", 0.12, 0.06,
         [](double sunk) {
             return rings::withFill(
                 4, 2, [&](design::Channel&, design::Fill& f) { f.packing = 1 - sunk / 0.12 / 2; });
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
             return rings::tubeInChannel(
                 [&](design::Setting& s) { s.hole.steps[0].diameter = 4 + 2 * bite; });
         }},
        {"seat-in-floor", 0.2, 0.3,
         [](double depth) {
             return rings::tubeInChannel([&](design::Setting& s) { s.hole.steps[0].depth = 1 + depth; });
         }},
        // The stone's flat base lies on the ledge, its girdle is 0.08 mm thick.
        {"girdle-proud", 0.5, 0.3,
         [](double height) {
             return rings::withSetting(
                 [&](design::Setting& s) { s.tube->height = 1.4 + 0.8 - 0.08 + height; });
         },
         true},
        // A radius of 4 drill diameters: asin(1/8).
        {"drill-start", 31, 7.18,
         [](double slope) {
             design::Design design = rings::with({}, {bareHole(2, 0.5, 0.8, 1)});
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
             design::Design design = rings::with({}, {bareHole(0, 1, 2, 1)});
             design.settings[0].placement.count = 2;
             design.settings[0].placement.spacing = 90 - error;
             return design;
         },
         true,
         [](trade::Catalogue& c, double) {
             c.tools.dividing = {1, {24}};
         }},
        {"channel-width", 0.4, 0.8, [](double width) { return rings::with({channel(0, width, 0.5)}); }},
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
