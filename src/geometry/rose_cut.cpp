// The Dutch rose: a flat base of twelve sides under 24 triangles, six round the top and below them a row of
// six that point down with pairs between them (Andrew Ure, "A Dictionary of Arts, Manufactures, and Mines",
// 1839, "Diamond").

#include <array>
#include <cmath>

#include "arithmetic.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

constexpr int kPoints = 6;
/// Where the upper row ends: as a share of the girdle's radius, and of the dome's height. From memory (Max
/// Bauer, "Precious Stones", 1904).
constexpr double kRowRadius = 0.75;
constexpr double kRowHeight = 0.6;

}  // namespace

std::vector<Plane> roseCut(const design::Stone& stone) {
    const double radius = stone.diameter / 2;
    const double edge = halfGirdle(stone);
    const double dome = stone.dome / 100 * stone.diameter;
    const auto point = [](double r, int twelfth, double z) {
        const double angle = kPi * twelfth / kPoints;
        return Vec3{r * std::cos(angle), r * std::sin(angle), z};
    };
    const auto row = [&](int twelfth) {
        return point(kRowRadius * radius, twelfth, edge + kRowHeight * dome);
    };
    const auto rim = [&](int twelfth) { return point(radius, twelfth, edge); };
    const Tag crown{Feature::Crown};
    std::vector<Plane> planes;
    for (int i = 0; i < 2 * kPoints; i += 2)
        planes.push_back(planeThrough({0, 0, edge + dome}, row(i), row(i + 2), crown));
    for (int i = 0; i < 2 * kPoints; i += 2) {
        planes.push_back(planeThrough(row(i), rim(i), rim(i + 1), crown));
        planes.push_back(planeThrough(row(i), rim(i + 1), row(i + 2), crown));
        planes.push_back(planeThrough(row(i + 2), rim(i + 1), rim(i + 2), crown));
    }
    for (int i = 0; i < 2 * kPoints; ++i) {
        planes.push_back(planeThrough(rim(i), rim(i + 1), point(radius, i, edge + 1), {Feature::Girdle}));
    }
    planes.push_back({{0, 0, -1}, edge, {Feature::Pavilion}});
    if (!(stone.length > 0)) return planes;
    return stretched(std::move(planes), stone.length / stone.diameter);
}

}  // namespace bandwright::geometry
