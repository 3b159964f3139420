#include "compare/compare.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "nominal.hpp"

namespace bandwright::compare {

using geometry::Vec3;

namespace {

constexpr std::array<LengthUnit, 4> kUnits = {
    {{"mm", "millimetres", 1}, {"cm", "centimetres", 10}, {"m", "metres", 1000}, {"in", "inches", 25.4}}};
/// Less than the root of 2.54, the least that two units differ by.
constexpr double kMostUnlike = 1.5;

/// Twice the distance of the farthest point from the middle of all triangles, by area: however it is turned,
/// the same.
class Extent {
  public:
    void add(const Vec3& a, const Vec3& b, const Vec3& c) {
        const double area = length(cross(b - a, c - a));
        area_ += area;
        sum_ = sum_ + area / 3 * (a + b + c);
    }
    void reach(const Vec3& p) { farthest_ = std::max(farthest_, distance(p, 1 / area_ * sum_)); }
    double across() const { return 2 * farthest_; }

  private:
    double area_ = 0, farthest_ = 0;
    Vec3 sum_;
};

double extentOf(const geometry::Triangles& body) {
    Extent extent;
    for (const auto& t : body.triangles)
        extent.add(body.points[t[0]], body.points[t[1]], body.points[t[2]]);
    for (const Vec3& p : body.points)
        extent.reach(p);
    return extent.across();
}

double extentOf(const std::vector<geometry::Part>& parts) {
    Extent extent;
    for (const geometry::Part& part : parts) {
        const auto at = [&](std::uint32_t vertex) { return part.mesh.points[part.mesh.pointOf[vertex]]; };
        for (const auto& t : part.mesh.triangles)
            extent.add(at(t[0]), at(t[1]), at(t[2]));
    }
    for (const geometry::Part& part : parts)
        for (const Vec3& p : part.mesh.points)
            extent.reach(p);
    return extent.across();
}

bool fits(double body, double design) {
    return body < kMostUnlike * design && design < kMostUnlike * body;
}

}  // namespace

Designed::Designed(std::vector<geometry::Part> parts, const std::vector<geometry::Boundary>& exact)
    : parts_(std::move(parts)), nominal_(std::make_shared<Nominal>(parts_, exact)) {}

const LengthUnit& lengthUnit(const std::string& id) {
    const auto* const found = std::ranges::find(kUnits, id, &LengthUnit::id);
    if (found == kUnits.end())
        throw base::InputError("--unit: found " + base::inQuotes(id) + "; allowed is mm, cm, m or in.");
    return *found;
}

void requireUnit(const geometry::Triangles& body, const LengthUnit& unit, const Designed& designed,
                 const std::string& file) {
    const double extent = extentOf(body), wanted = extentOf(designed.parts());
    if (fits(extent * unit.mm, wanted)) return;
    constexpr int kDecimals = 2;
    const std::string found = file + ": the body is " + base::fixed(extent, 4) + " " + std::string(unit.id) +
                              " across, and the design " + base::fixed(wanted, kDecimals) + " mm";
    for (const LengthUnit& other : kUnits) {
        if (fits(extent * other.mm, wanted))
            throw base::InputError(found + "; if the file is in " + std::string(other.inWords) +
                                   ", say --unit " + std::string(other.id) + ".");
    }
    throw base::InputError(found + "; it is no body of this ring in any unit that is known.");
}

}  // namespace bandwright::compare
