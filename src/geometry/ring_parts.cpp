#include <array>
#include <cmath>
#include <utility>

#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "hole_cut.hpp"
#include "revolve.hpp"
#include "ring_bodies.hpp"
#include "setting.hpp"

namespace bandwright::geometry {

namespace {

/// The frame of a hole at its place round the band: its axis, round the band, along the ring's axis.
std::array<Vec3, 3> holeFrame(double angle) {
    return {Vec3{std::cos(angle), std::sin(angle), 0}, Vec3{-std::sin(angle), std::cos(angle), 0},
            Vec3{0, 0, 1}};
}

}  // namespace

Stand standAt(double angle, double offset, double height) {
    const auto [out, round, along] = holeFrame(angle);
    return {{round, along, out}, height * out + offset * along};
}

namespace {

Mesh placed(const Mesh& mesh, const Stand& stand) {
    const auto rotated = [&](double x, double y, double z) {
        return x * stand.axes[0] + y * stand.axes[1] + z * stand.axes[2];
    };
    Mesh result = mesh;
    for (Vec3& p : result.points)
        p = stand.origin + rotated(p.x, p.y, p.z);
    for (auto& n : result.normals) {
        const Vec3 v = rotated(n[0], n[1], n[2]);
        n = {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
    }
    return result;
}

SolidProperties drilledSolid(const Section& section, const std::vector<HoleRow>& holes) {
    SolidProperties solid = turnedSolid(section);
    for (const HoleRow& row : holes) {
        const SolidProperties change = changeByHole(section, row.profile);
        for (const double angle : row.angles)
            solid += placed(change, holeFrame(angle), {});
    }
    return solid;
}

}  // namespace

std::vector<std::pair<Part, const Section*>> turnedBodies(const design::Design& design,
                                                          const RingSections& plain) {
    std::vector<std::pair<Part, const Section*>> bodies;
    bodies.push_back({{PartRole::Band, 1, design.band.metal, 0}, &plain.band});
    if (!plain.liner.empty())
        bodies.push_back({{PartRole::Liner, 1, design.band.liner->metal, 0}, &plain.liner});
    for (std::size_t i = 0; i < plain.fills.size(); ++i) {
        const std::uint16_t channel = plain.fillChannel[i];
        const std::string& filler = design.channels[channel].fill->filler;
        // Numbered as its channel, which may not be the first that is filled.
        bodies.push_back({{PartRole::Fill, channel + 1, filler, channel}, &plain.fills[i]});
    }
    return bodies;
}

namespace {

/// Every body of the ring: its mesh when options are given, else what is inside it.
std::vector<SolidPart> allParts(const design::Design& design, design::Stage stage,
                                const std::optional<BuildOptions>& options) {
    const Workpiece piece = workpiece(design, stage);
    const RingSections plain = sections(design, piece);
    const std::vector<HoleRow> holes = piece.drilled ? holeRows(design) : std::vector<HoleRow>();
    if (options) {
        const auto expected = [&](double within) {
            return expectedTriangles(design, stage, piece, plain, holes, within);
        };
        requireFewTriangles(expected, options->tolerance.mm());
    }
    std::vector<SolidPart> parts;
    for (auto& [part, section] : turnedBodies(design, plain)) {
        parts.push_back({std::move(part), {}});
        SolidPart& own = parts.back();
        if (options) {
            own.part.mesh = revolved(*section, holes, options->tolerance.mm(), options->apart);
        } else {
            own.solid = drilledSolid(*section, holes);
        }
    }
    int tubes = 0;
    int stones = 0;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        const auto addAll = [&](const SolidPart& own, double height, int& number) {
            for (const double angle : holes[i].angles) {
                const Stand stand = standAt(angle, setting.placement.offset, height);
                parts.push_back({{own.part.role, ++number, own.part.material, static_cast<std::uint16_t>(i),
                                  placed(own.part.mesh, stand)},
                                 placed(own.solid, stand.axes, stand.origin)});
            }
        };
        if (hasTube(piece, setting)) {
            const Section wall = tubeSection(design, i, stage);
            SolidPart own{{.role = PartRole::Tube, .material = setting.tube->metal}, {}};
            if (options) {
                own.part.mesh = revolved(wall, {}, options->tolerance.mm());
            } else {
                own.solid = turnedSolid(wall);
            }
            addAll(own, 0, tubes);
        }
        if (hasStone(piece, setting)) {
            Mesh mesh = options ? stoneMesh(*setting.stone, options->tolerance) : stoneMesh(*setting.stone);
            for (MeshFace& face : mesh.faces)
                face.tag = {face.tag.feature, i};
            const double height = girdleHeight(design, i, mesh);
            SolidPart own{{.role = PartRole::Stone, .material = setting.stone->gem}, {}};
            if (options) {
                own.part.mesh = std::move(mesh);
            } else {
                own.solid = stoneSolid(*setting.stone);
            }
            addAll(own, height, stones);
        }
    }
    return parts;
}

}  // namespace

std::vector<SolidPart> bodies(const design::Design& design, design::Stage stage) {
    requireBuildable(design);
    return allParts(design, stage, std::nullopt);
}

std::vector<Part> buildParts(const design::Design& design, design::Stage stage, const BuildOptions& options) {
    requireBuildable(design);
    std::vector<Part> parts;
    for (SolidPart& own : allParts(design, stage, options))
        parts.push_back(std::move(own.part));
    return parts;
}

}  // namespace bandwright::geometry
