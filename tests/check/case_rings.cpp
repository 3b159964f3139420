#include "case_rings.hpp"

#include <algorithm>
#include <utility>

#include "geometry/stone.hpp"
#include "plain_ring.hpp"

namespace bandwright::check::rings {

design::Design with(std::vector<design::Channel> channels, std::vector<design::Setting> settings) {
    design::Design design = plainRing();
    design.channels = std::move(channels);
    design.settings = std::move(settings);
    return design;
}

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

design::Design withMouthsApart(double land) {
    constexpr double kSeat = 0.85, kOutside = 12.4;
    design::Setting hole = bareHole(0, 0.5, 2 * kSeat, 1);
    hole.placement.count = 2;
    hole.placement.spacing =
        2 * (std::asin(kSeat / kOutside) + std::asin(land / 2 / kOutside)) * 180 / std::numbers::pi;
    return with({}, {hole});
}

design::Design withoutTube(const std::function<void(design::Setting&)>& change) {
    return withSetting([&](design::Setting& s) {
        s.tube.reset();
        s.hole.pilotDiameter = 3.4;
        s.hole.steps = {{4, 0.5, 45}};
        change(s);
    });
}

design::Design withGirdleSunk(double depth) {
    const double saddle = 12.4 - std::sqrt(12.4 * 12.4 - 4);
    return withoutTube([&](design::Setting& s) { s.hole.steps[0].depth = depth + 0.08 + saddle; });
}

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

double thicknessFor(double value, const std::function<double(double)>& of) {
    double low = 0.5, high = 4;
    for (int i = 0; i < 100; ++i)
        (of((low + high) / 2) < value ? low : high) = (low + high) / 2;
    return low;
}

design::Design hoop(double value, double (Hoop::*of)() const) {
    design::Design design = plainRing();
    design.band.width = 2;
    design.band.thickness = thicknessFor(value, [&](double t) { return (Hoop(t).*of)(); });
    return design;
}

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

design::Design withLiner(double interference) {
    design::Design design = plainRing();
    design.band.liner = design::Liner{"gold-18k-yellow", 0.6, interference};
    return design;
}

double linerPressure() {
    const double a = 10, b = 10.6, c = 12.4;
    const double sleeve = ((c * c + b * b) / (c * c - b * b) + 0.3) / 114e3;
    const double liner = ((b * b + a * a) / (b * b - a * a) - 0.3) / 80e3;
    return 0.5 / (b * (sleeve + liner));
}

design::Design withMixedGrains(double share) {
    return withFill(4, 1, [&](design::Channel&, design::Fill& f) {
        f.grainLeast = 0.04;
        f.grainMost = 0.3;
        f.packing = share;
    });
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

design::Design tubeInChannel(const std::function<void(design::Setting&)>& change) {
    design::Design design = withSetting(change);
    design.channels = {channel(0, 4, 1)};
    return design;
}

design::Design withTubeJoinedBesideAFill(design::Join join) {
    design::Design design = withSetting([&](design::Setting& s) { s.tube->join = join; });
    design.band.width = 14;
    design.channels = {channel(-5, 1, 1)};
    return design;
}

design::Design withTubeJoined(design::Join join) {
    return withSetting([&](design::Setting& s) { s.tube->join = join; });
}

design::Design setOnTheBench(design::Join join) {
    design::Design design = withSetting([&](design::Setting& s) { s.tube->join = join; });
    design.route = design::movedBefore(design.route, design::Stage::Closed, design::Stage::Joined);
    return design;
}

}  // namespace bandwright::check::rings
