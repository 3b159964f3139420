#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "hole_cut.hpp"
#include "outline.hpp"
#include "revolve.hpp"
#include "setting.hpp"

namespace bandwright {

namespace {

double radians(double degrees) {
    return degrees * std::numbers::pi / 180;
}

std::vector<HoleRow> holeRows(const Design& design) {
    std::vector<HoleRow> rows;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        HoleRow row{settingHole(design, i), {}};
        for (const double angle : placedAngles(design.settings[i].placement))
            row.angles.push_back(radians(angle));
        rows.push_back(std::move(row));
    }
    return rows;
}

double volumeOf(const Section& section, const std::vector<HoleRow>& holes) {
    double result = properties(section).volume;
    for (const HoleRow& row : holes)
        result -= static_cast<double>(row.angles.size()) * removedVolume(section, row.profile);
    return result;
}

/// The mesh moved from its own frame, axis up, to a place on the band: its axis along the hole's, its x round
/// the band and its y along the ring's axis.
Mesh placed(const Mesh& mesh, double angle, double offset, double height) {
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    Mesh result = mesh;
    for (Vec3& p : result.points) {
        const double up = p.z + height;
        p = {up * c - p.x * s, up * s + p.x * c, offset + p.y};
    }
    for (auto& n : result.normals) {
        const double x = n[0];
        const double up = n[2];
        n = {static_cast<float>(up * c - x * s), static_cast<float>(up * s + x * c), n[1]};
    }
    return result;
}

/// The tube's wall as a section about its own axis: z up the tube, r away from its axis.
Section tubeSection(const Design& design, std::size_t setting, Stage stage) {
    const Loop wall = tubeWall(design, setting, stage);
    Loop loop;
    for (auto s = wall.rbegin(); s != wall.rend(); ++s)
        loop.push_back(line({s->to.r, s->to.z}, {s->from.r, s->from.z}, s->tag));
    return {loop};
}

void addCopies(std::vector<Part>& parts, const Part& model, const Placement& placement, double height,
               int& number) {
    for (const double angle : placedAngles(placement)) {
        Part copy = model;
        copy.number = ++number;
        copy.mesh = placed(model.mesh, radians(angle), placement.offset, height);
        parts.push_back(std::move(copy));
    }
}

}  // namespace

RingVolumes volumes(const Design& design, const RingSections& plain) {
    const std::vector<HoleRow> holes = holeRows(design);
    RingVolumes result{volumeOf(plain.band, holes), volumeOf(plain.liner, holes), {}};
    for (const Section& fill : plain.fills)
        result.fills.push_back(volumeOf(fill, holes));
    return result;
}

std::vector<Part> buildParts(const Design& design, Stage stage, const BuildOptions& options) {
    requireBuildable(design);
    const double tolerance = options.tolerance / 1000;
    const RingSections plain = sections(design, stage);
    const std::vector<HoleRow> holes = holeRows(design);

    std::vector<Part> parts;
    parts.push_back({PartRole::Band, 1, design.band.metal, 0, volumeOf(plain.band, holes),
                     revolved(plain.band, holes, tolerance)});
    if (!plain.liner.empty())
        parts.push_back({PartRole::Liner, 1, design.band.liner->metal, 0, volumeOf(plain.liner, holes),
                         revolved(plain.liner, holes, tolerance)});
    int fills = 0;
    for (std::size_t i = 0; i < plain.fills.size(); ++i) {
        const std::uint16_t channel = plain.fillChannel[i];
        parts.push_back({PartRole::Fill, ++fills, design.channels[channel].fill->filler, channel,
                         volumeOf(plain.fills[i], holes), revolved(plain.fills[i], holes, tolerance)});
    }
    int tubes = 0;
    int stones = 0;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const Setting& setting = design.settings[i];
        const auto index = static_cast<std::uint16_t>(i);
        if (setting.tube) {
            const Section section = tubeSection(design, i, stage);
            addCopies(parts,
                      {PartRole::Tube, 1, setting.tube->metal, index, properties(section).volume,
                       revolved(section, {}, tolerance)},
                      setting.placement, 0, tubes);
        }
        if (setting.stone) {
            Mesh mesh = stoneMesh(*setting.stone, options.tolerance);
            for (MeshFace& face : mesh.faces)
                face.tag.index = index;
            const double height = girdleHeight(design, i, mesh);
            addCopies(
                parts,
                {PartRole::Stone, 1, setting.stone->gem, index, volume(*setting.stone), std::move(mesh)},
                setting.placement, height, stones);
        }
    }
    return parts;
}

}  // namespace bandwright
