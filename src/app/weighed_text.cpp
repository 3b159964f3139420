#include <nlohmann/json.hpp>

#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "check/weighed.hpp"
#include "geometry/boundary.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

std::string place(geometry::Vec3 p) {
    return base::fixed(p.x, 3) + ", " + base::fixed(p.y, 3) + ", " + base::fixed(p.z, 3);
}

/// A line of the table: one part, or the ring.
struct Row {
    std::string part, material;
    geometry::SolidProperties solid;  ///< in grams, except the area
    double volume = 0;                ///< mm3; 0 in the ring's line
};

std::vector<Row> rows(const design::Design& design, const std::vector<geometry::SolidPart>& parts,
                      const trade::Catalogue& catalogue) {
    std::vector<Row> all;
    for (const auto& [part, solid] : parts) {
        Row row{geometry::name(part), materialName(part, design, catalogue),
                check::density(part, design, catalogue) * solid, solid.volume};
        row.solid.area = solid.area;
        all.push_back(std::move(row));
    }
    all.push_back({"ring", "", check::weighed(parts, design, catalogue)});
    return all;
}

nlohmann::ordered_json asJson(const geometry::SolidProperties& grams) {
    const geometry::Inertia spin = geometry::inertia(grams);
    const geometry::Vec3 centre = grams.centroid();
    return {{"mass", grams.volume},
            {"centre", {centre.x, centre.y, centre.z}},
            {"inertia",
             {{spin.xx, -spin.xy, -spin.zx}, {-spin.xy, spin.yy, -spin.yz}, {-spin.zx, -spin.yz, spin.zz}}}};
}

}  // namespace

std::string weighedText(const design::Design& design, const std::vector<geometry::SolidPart>& parts,
                        const trade::Catalogue& catalogue) {
    const std::vector<Row> all = rows(design, parts, catalogue);
    int partWidth = 4;
    int materialWidth = 8;
    for (const Row& row : all) {
        partWidth = std::max(partWidth, columns(row.part));
        materialWidth = std::max(materialWidth, columns(row.material));
    }
    constexpr int kNumber = 11;
    std::string out = design.title + "\n\n" + padded("part", partWidth) + "  " +
                      padded("material", materialWidth) + rightAligned("g", kNumber) +
                      rightAligned("mm3", kNumber) + rightAligned("mm2", kNumber) + "   centre of mass, mm\n";
    for (const Row& row : all) {
        const bool whole = row.volume == 0;
        out += padded(row.part, partWidth) + "  " + padded(row.material, materialWidth) +
               rightAligned(base::fixed(row.solid.volume, 4), kNumber) +
               rightAligned(whole ? "" : base::fixed(row.volume, 3), kNumber) +
               rightAligned(whole ? "" : base::fixed(row.solid.area, 3), kNumber) + "   " +
               place(row.solid.centroid()) + "\n";
    }
    const geometry::Inertia spin = geometry::inertia(all.back().solid);
    out += "\nThe ring about its centre of mass, g mm2: " + base::fixed(spin.zz, 1) + " about its axis, " +
           base::fixed(spin.xx, 1) + " about x, " + base::fixed(spin.yy, 1) + " about y.\n" +
           "The axis is z, the middle of the width z = 0; x points to 0 degrees round the band.\n";
    return out;
}

std::string weighedJson(const design::Design& design, const std::vector<geometry::SolidPart>& parts,
                        const trade::Catalogue& catalogue) {
    Json list = Json::array();
    const std::vector<Row> all = rows(design, parts, catalogue);
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        Json entry = {{"part", all[i].part},
                      {"material", all[i].material},
                      {"volume", all[i].volume},
                      {"area", all[i].solid.area}};
        entry.update(asJson(all[i].solid));
        list.push_back(std::move(entry));
    }
    const Json units = {
        {"mass", "g"}, {"volume", "mm3"}, {"area", "mm2"}, {"centre", "mm"}, {"inertia", "g mm2"}};
    const Json whole = {
        {"design", design.title}, {"units", units}, {"parts", list}, {"ring", asJson(all.back().solid)}};
    return whole.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string weighedAt(const design::Design& design, design::Stage stage, const trade::Catalogue& catalogue,
                      bool asJson) {
    geometry::boundaries(design, stage);
    const std::vector<geometry::SolidPart> parts = geometry::bodies(design, stage);
    return asJson ? weighedJson(design, parts, catalogue) : weighedText(design, parts, catalogue);
}

}  // namespace bandwright::app
