#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "check/mend.hpp"
#include "design/field_table.hpp"
#include "geometry/stone.hpp"
#include "measure.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

std::string millimetres(double value) {
    return base::shortestNumber(base::roundedTo(value, 2)) + " mm";
}

/// What must hold of any ring with these wishes, each a plain inequality between a wish and the limits.
class Bounds {
  public:
    Bounds(const design::Design& design, const trade::Catalogue& catalogue,
           const std::vector<std::string>& locked)
        : design_(design), catalogue_(catalogue), locked_(locked) {}

    std::vector<std::string> all() {
        const double width = design_.band.width;
        if (isLocked("band.width") && width > limit("band-width"))
            sentences_.push_back("the band is " + millimetres(width) + " wide and may be " +
                                 millimetres(limit("band-width")) + " at most");
        for (std::size_t i = 0; i < design_.settings.size(); ++i) {
            const std::string path = "settings[" + std::to_string(i) + "].stone.";
            if (!design_.settings[i].stone || !isLocked(path + "diameter") || !isLocked(path + "length"))
                continue;
            across(i);
            around(i);
            corners(i);
            deep(i);
        }
        return std::move(sentences_);
    }

  private:
    bool isLocked(const std::string& field) const {
        return std::ranges::any_of(locked_,
                                   [&](const std::string& lock) { return design::covers(lock, field); });
    }
    double limit(std::string_view rule) const { return ruleNamed(rule)->limit(design_, catalogue_).limit; }

    /// The upper limit of a fit.
    double loosest(std::string_view rule) const {
        return ruleNamed(rule)->upperLimit(design_, catalogue_).value().limit;
    }

    /// The narrowest mouth of a hole for the stone of a setting, with its tube.
    double mouth(std::size_t number) const {
        const design::Setting& setting = design_.settings[number];
        const double seat = geometry::girdleLength(*setting.stone) + 2 * limit("stone-clearance");
        return setting.tube ? seat + 2 * limit("tube-lip") : seat;
    }

    std::string hole(std::size_t number) const {
        return "the stone" + ofSetting(design_, number) + " needs a hole of " + millimetres(mouth(number));
    }

    void across(std::size_t number) {
        const double wall = limit("hole-to-edge");
        if (!isLocked("band.width") || mouth(number) + 2 * wall <= design_.band.width) return;
        sentences_.push_back(hole(number) + ", which leaves less than " + millimetres(wall) +
                             " to each edge of a band " + millimetres(design_.band.width) + " wide");
    }

    void around(std::size_t number) {
        const design::Placement& placement = design_.settings[number].placement;
        const std::size_t count = design::placedAngles(placement).size();
        const std::string path = design::withPlaces("settings[#].placement.count", {number});
        const bool mayBeFewer = placement.angles.empty() && !isLocked(path);
        if (count < 2 || !isLocked("finger") || mayBeFewer) return;
        const double outside = design::boreRadius(design_) + limit("band-thickness");
        const double apart = 2 * outside * std::sin(std::numbers::pi / static_cast<double>(count));
        if (mouth(number) + limit("mouth-to-mouth") <= apart) return;
        sentences_.push_back(hole(number) + ", and " + std::to_string(count) +
                             " of them do not go round a band " + millimetres(limit("band-thickness")) +
                             " thick");
    }

    /// A stone with corners in a round tube: wide enough for the corners, the seat is loose at the sides.
    void corners(std::size_t number) {
        const design::Setting& setting = design_.settings[number];
        if (!setting.tube) return;
        double corner = 0;
        for (const geometry::Vec3& p : geometry::stoneMesh(*setting.stone).points)
            corner = std::max(corner, std::hypot(p.x, p.y));
        const double side = geometry::girdleLength(*setting.stone) / 2;
        if (corner <= side + loosest("stone-clearance")) return;
        sentences_.push_back("the corners of the stone" + ofSetting(design_, number) + " reach " +
                             millimetres(corner - side) +
                             " further than its sides: no round tube holds both");
    }

    void deep(std::size_t number) {
        const design::Setting& setting = design_.settings[number];
        const double above = setting.tube ? limit("girdle-proud") : -limit("girdle-sunk");
        const double room = limit("band-thickness") + above - limit("culet-to-finger");
        const double pavilion = geometry::heights(*setting.stone).pavilion;
        if (pavilion <= room) return;
        sentences_.push_back("the stone" + ofSetting(design_, number) + " is " + millimetres(pavilion) +
                             " deep below its girdle, and a band of " + millimetres(limit("band-thickness")) +
                             " has room for " + millimetres(room));
    }

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    const std::vector<std::string>& locked_;
    std::vector<std::string> sentences_;
};

}  // namespace

std::vector<std::string> hindrances(const design::Design& design, const trade::Catalogue& catalogue,
                                    const std::vector<std::string>& locked) {
    return Bounds(design, catalogue, locked).all();
}

}  // namespace bandwright::check
