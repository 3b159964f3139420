#include "geometry/stone.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "latest.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

/// Throws when a value is not between two limits (which it may not reach).
void requireBetween(const char* what, double value, double least, double most, const char* unit) {
    if (value > least && value < most) return;
    throw base::InputError("Stone: " + std::string(what) + " of " + base::shortestNumber(value) + " " + unit +
                           " found; more than " + base::shortestNumber(least) + " and less than " +
                           base::shortestNumber(most) + " " + unit + " is needed.");
}

bool isBrilliant(design::StoneCut cut) {
    switch (cut) {
        case design::StoneCut::RoundBrilliant:
        case design::StoneCut::Oval:
        case design::StoneCut::Marquise:
        case design::StoneCut::Pear:
            return true;
        case design::StoneCut::StepOctagon:
        case design::StoneCut::StepSquare:
        case design::StoneCut::RoseCut:
        case design::StoneCut::Cabochon:
            return false;
    }
    return false;
}

bool isModelled(const design::Stone& stone) {
    return !stone.model.empty();
}

bool hasLength(design::StoneCut cut) {
    return cut != design::StoneCut::RoundBrilliant && cut != design::StoneCut::StepSquare;
}

/// The limits within which the facets close to a solid. The checks judge what is sensible to set.
void requireCuttable(const design::Stone& stone) {
    requireBetween("a diameter", stone.diameter, 0, 1000, "mm");
    if (isModelled(stone)) return;
    if (hasLength(stone.cut) && stone.length != 0 &&
        !(stone.length >= stone.diameter && stone.length < 1000)) {
        throw base::InputError("Stone: a length of " + base::shortestNumber(stone.length) +
                               " mm found; 0, or at least the width of " +
                               base::shortestNumber(stone.diameter) + " mm and less than 1000 mm is needed.");
    }
    if (!(stone.girdle >= 0 && stone.girdle <= 100)) {
        throw base::InputError("Stone: a girdle of " + base::shortestNumber(stone.girdle) +
                               " % found; 0 to 100 % is allowed.");
    }
    if (hasFlatBase(stone.cut)) {
        requireBetween("a dome", stone.dome, 0, 200, "%");
        return;
    }
    const double margin = isBrilliant(stone.cut) ? 0 : kStepSpread;
    requireBetween("a table", stone.table, 0, 100, "%");
    requireBetween("a crown angle", stone.crownAngle, margin, 90 - margin, "degrees");
    requireBetween("a pavilion angle", stone.pavilionAngle, margin, 90 - margin, "degrees");
    if (!isBrilliant(stone.cut)) return;
    requireBetween("a star length", stone.starLength, 0, 100, "%");
    requireBetween("a lower girdle facet length", stone.lowerLength, 0, 100, "%");
}

std::vector<Plane> cut(const design::Stone& stone) {
    if (isModelled(stone)) return {};
    switch (stone.cut) {
        case design::StoneCut::RoundBrilliant:
        case design::StoneCut::Oval:
        case design::StoneCut::Marquise:
        case design::StoneCut::Pear:
            return brilliant(stone);
        case design::StoneCut::StepOctagon:
        case design::StoneCut::StepSquare:
            return stepCut(stone);
        case design::StoneCut::RoseCut:
            return roseCut(stone);
        case design::StoneCut::Cabochon:
            return {};
    }
    return {};
}

Mesh made(const design::Stone& stone, base::Micrometres tolerance) {
    if (isModelled(stone)) return modelledStone(stone);
    if (stone.cut == design::StoneCut::Cabochon) return cabochon(stone, tolerance);
    const std::vector<Plane> planes = cut(stone);
    return mesh(polyhedron(planes), planes);
}

struct CutStone {
    Mesh mesh;
    SolidProperties solid;
};

/// What a stone is worked out from.
struct Asked {
    design::Stone stone;
    double tolerance;
    bool operator==(const Asked&) const = default;
};

/// While a ring is worked on its stones stay as they are and are asked for at every step, by several threads.
/// A ring has up to 32 settings, whose stones may each be asked for at two tolerances, beside those of
/// remedies being tried. A triangle takes some 80 bytes; only stones from large models come near the weight.
Latest<Asked, CutStone>& latestStones() {
    constexpr std::size_t kMost = 128, kMostTriangles = 4'000'000;
    static Latest<Asked, CutStone> latest(kMost, kMostTriangles);
    return latest;
}

/// Where the mesh of a curved stone is not asked for.
constexpr base::Micrometres kUsual(10);

std::shared_ptr<const CutStone> remembered(const design::Stone& stone, base::Micrometres tolerance) {
    const Asked asked{stone, isCurved(stone) ? tolerance.count() : 0};  // flat facets are exact
    const auto make = [&] {
        CutStone cut{made(stone, tolerance), {}};
        cut.solid = isCurved(stone) ? cabochonSolid(stone) : meshSolid(cut.mesh);
        return cut;
    };
    return latestStones().get(asked, make, [](const CutStone& cut) { return cut.mesh.triangles.size(); });
}

}  // namespace

bool isCurved(const design::Stone& stone) {
    return stone.cut == design::StoneCut::Cabochon && !isModelled(stone);
}

Plane planeThrough(const Vec3& a, const Vec3& b, const Vec3& c, Tag tag) {
    const Vec3 normal = cross(b - a, c - a);
    const Vec3 unit = (1 / length(normal)) * normal;
    const double offset = dot(unit, a);
    if (offset < 0) return {-1 * unit, -offset, tag};
    return {unit, offset, tag};
}

Plane leaning(const Vec3& direction, double reach, double z, double slope, Tag tag) {
    const double size = std::sqrt(slope * slope + 1);
    const double up = slope < 0 ? -1 : 1;
    const Vec3 normal = {std::abs(slope) / size * direction.x, std::abs(slope) / size * direction.y,
                         up / size};
    return {normal, dot(normal, Vec3{reach * direction.x, reach * direction.y, z}), tag};
}

std::vector<Plane> stretched(std::vector<Plane> planes, double factor) {
    for (Plane& plane : planes) {
        const Vec3 normal = {plane.normal.x / factor, plane.normal.y, plane.normal.z};
        const double size = length(normal);
        plane.normal = (1 / size) * normal;
        plane.offset /= size;
    }
    return planes;
}

std::vector<Plane> facets(const design::Stone& stone) {
    requireCuttable(stone);
    return cut(stone);
}

Mesh stoneMesh(const design::Stone& stone, base::Micrometres tolerance) {
    requireCuttable(stone);
    return remembered(stone, tolerance)->mesh;
}

StoneHeights heights(const design::Stone& stone) {
    requireCuttable(stone);
    if (isModelled(stone)) return modelledHeights(remembered(stone, kUsual)->mesh);
    StoneHeights result;
    result.girdle = 2 * halfGirdle(stone);
    if (hasFlatBase(stone.cut)) {
        result.crown = stone.dome / 100 * stone.diameter;
    } else if (isBrilliant(stone.cut)) {
        const double radius = stone.diameter / 2;
        result.crown = (1 - stone.table / 100) * radius * std::tan(radians(stone.crownAngle));
        result.pavilion = radius * std::tan(radians(stone.pavilionAngle));
    } else {
        result.crown = stepCrown(stone);
        result.pavilion = stepPavilion(stone);
    }
    return result;
}

double girdleLength(const design::Stone& stone) {
    if (isModelled(stone)) {
        double half = 0;
        const auto known = remembered(stone, kUsual);
        for (const Vec3& p : known->mesh.points)
            half = std::max(half, p.x);
        return 2 * half;
    }
    return hasLength(stone.cut) && stone.length > 0 ? stone.length : stone.diameter;
}

double volume(const design::Stone& stone) {
    requireCuttable(stone);
    return stoneSolid(stone).volume;
}

SolidProperties stoneSolid(const design::Stone& stone) {
    requireCuttable(stone);
    return remembered(stone, kUsual)->solid;
}

std::size_t stonesWorkedOut() {
    return latestStones().made();
}

double carats(const design::Stone& stone, double density) {
    constexpr double kGramsPerCarat = 0.2;
    return volume(stone) * density / 1000 / kGramsPerCarat;
}

}  // namespace bandwright::geometry
