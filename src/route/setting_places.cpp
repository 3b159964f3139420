#include "setting_places.hpp"

#include <algorithm>
#include <cmath>

#include "base/wording.hpp"
#include "drawer.hpp"
#include "geometry/tolerance.hpp"
#include "sentences.hpp"

namespace bandwright::route {

namespace {

/// The farthest place of a section over z, its upright sides included.
std::optional<Place> farthestAt(const geometry::Section& section, double z) {
    std::optional<Place> best;
    const auto offer = [&](const geometry::Segment& s, double r) {
        if (!best || r > best->at.r) best = Place{s.tag, {z, r}};
    };
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& s : loop) {
            if (const auto r = radiusAt(s, z)) offer(s, *r);
            if (s.from.z == z) offer(s, s.from.r);
        }
    }
    return best;
}

bool carriesGauge(geometry::Tag tag) {
    const geometry::Region region = geometry::regionOf(tag.feature);
    return region == geometry::Region::Outside || region == geometry::Region::FillTop;
}

std::string inDrawer(const std::vector<double>& diameters) {
    if (diameters.empty()) return "the workshop file names none";
    std::vector<std::string> names;
    names.reserve(diameters.size());
    for (const double d : diameters)
        names.push_back(inMm(d));
    return "the drawer has " + base::listed(names);
}

}  // namespace

std::optional<Place> surfaceAt(const geometry::RingSections& ring, double z) {
    std::optional<Place> best = farthestAt(ring.band, z);
    const auto offer = [&](const std::optional<Place>& place) {
        if (place && (!best || place->at.r > best->at.r)) best = place;
    };
    offer(farthestAt(ring.liner, z));
    for (const geometry::Section& fill : ring.fills)
        offer(farthestAt(fill, z));
    return best;
}

Outlines outlinesThrough(const Job& job, std::size_t setting) {
    const geometry::SettingSection through = geometry::sectionThrough(job.design, setting, job.stage);
    Outlines all;
    const auto add = [&](const geometry::Section& section) {
        for (const geometry::Loop& loop : section)
            all.insert(all.end(), loop.begin(), loop.end());
    };
    add(through.band);
    add(through.liner);
    for (const geometry::Section& fill : through.fills)
        add(fill);
    add(through.tube);
    add(through.stone);
    return all;
}

std::optional<Place> besideHole(const Outlines& outlines, const design::Setting& setting,
                                std::size_t number) {
    const auto wall =
        endWhere(outlines, setting.placement.offset, sideInwards(setting), true, [&](geometry::Tag tag) {
            return geometry::settingOf(tag) == number && geometry::isHoleWall(tag.feature);
        });
    if (!wall) return std::nullopt;
    for (const geometry::Segment& s : outlines) {
        if (!carriesGauge(s.tag)) continue;
        for (const geometry::Vec2 p : {s.from, s.to})
            if (geometry::distance(p, wall->at) < geometry::kFilm) return Place{s.tag, p};
    }
    return std::nullopt;
}

Reading acrossReading(std::string what, Instrument instrument, const Place& left, const Place& right,
                      double plusMinus, std::string field) {
    Reading reading = alongReading(std::move(what), instrument, left, right, plusMinus);
    reading.span = Span::HoleDiameter;
    reading.field = std::move(field);
    return reading;
}

std::string ofSetting(const design::Design& design, std::size_t setting) {
    return design.settings.size() > 1 ? " of setting " + std::to_string(setting + 1) : "";
}

int sideInwards(const design::Setting& setting) {
    return setting.placement.offset > 0 ? -1 : 1;
}

std::string settingField(std::size_t setting, const std::string& field) {
    return "settings[" + std::to_string(setting) + "]." + field;
}

int placesOf(const design::Setting& setting) {
    return static_cast<int>(design::placedAngles(setting.placement).size());
}

std::string toolOf(const std::string& kind, double diameter, const std::vector<double>& drawer,
                   Operation& operation) {
    constexpr double kSame = 0.005;  // mm, half of the last digit on a shank
    std::string tool = kind + " of " + inMm(diameter);
    const bool there = std::ranges::any_of(drawer, [&](double d) { return std::abs(d - diameter) <= kSame; });
    if (!there) operation.missing.push_back(tool + ": " + inDrawer(drawer));
    const auto smaller = largestUpTo(drawer, diameter - kSame);
    if (!there && smaller)
        operation.doing.push_back("There is no " + tool + ": begin with that of " + inMm(*smaller) +
                                  " and bring it to size with a boring head or one ground to " +
                                  inMm(diameter) + ".");
    return tool;
}

}  // namespace bandwright::route
