#include <array>
#include <cstdio>
#include <map>
#include <stdexcept>

#include "base/input_error.hpp"
#include "model_source.hpp"
#include "zip.hpp"

/// 3MF (core specification 1.3; ISO/IEC 25422): one object for each part, with its name and material, and one
/// that holds them all in their places, so that a printer's program loads the ring as one thing.
namespace bandwright::formats {

namespace {

constexpr int kDecimals = 6;

std::string escaped(const std::string& text) {
    std::string result;
    for (const char c : oneLine(text)) {
        switch (c) {
            case '&':
                result += "&amp;";
                break;
            case '<':
                result += "&lt;";
                break;
            case '"':
                result += "&quot;";
                break;
            default:
                result += c;
        }
    }
    return result;
}

std::string hexColour(const trade::LinearRgb& colour) {
    const std::array<unsigned char, 3> c = bytesOf(colour);
    std::array<char, 16> text{};
    std::snprintf(text.data(), text.size(), "#%02X%02X%02X", c[0], c[1], c[2]);
    return text.data();
}

/// Each material once, and which of them each part has.
struct Materials {
    std::string bases;
    std::vector<std::size_t> ofPart;
};

Materials materials(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue) {
    Materials result;
    std::map<std::string, std::size_t> known;
    for (const geometry::Part& part : parts) {
        const PartMaterial material = materialOf(part, catalogue);
        const auto [at, isNew] = known.try_emplace(material.id, known.size());
        if (isNew)
            result.bases += "   <base name=\"" + escaped(material.name) + "\" displaycolor=\"" +
                            hexColour(material.colour) + "\"/>\n";
        result.ofPart.push_back(at->second);
    }
    return result;
}

void putMesh(FileWriter& out, const geometry::Mesh& mesh, Share& share) {
    out.put("   <mesh>\n    <vertices>\n");
    for (const geometry::Vec3& p : mesh.points) {
        out.put("<vertex x=\"");
        out.number(p.x, kDecimals);
        out.put("\" y=\"");
        out.number(p.y, kDecimals);
        out.put("\" z=\"");
        out.number(p.z, kDecimals);
        out.put("\"/>\n");
    }
    out.put("    </vertices>\n    <triangles>\n");
    for (const auto& t : mesh.triangles) {
        out.put("<triangle v1=\"");
        out.count(mesh.pointOf[t[0]]);
        out.put("\" v2=\"");
        out.count(mesh.pointOf[t[1]]);
        out.put("\" v3=\"");
        out.count(mesh.pointOf[t[2]]);
        out.put("\"/>\n");
        share.step(1);
    }
    out.put("    </triangles>\n   </mesh>\n");
}

void putModel(FileWriter& out, const ModelSource& source, const std::vector<geometry::Part>& parts) {
    const Materials known = materials(parts, source.catalogue);
    Share share(source.options, trianglesOf(parts));
    out.put(R"(<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
 <metadata name="Title">)" +
            escaped(source.design.title) +
            "</metadata>\n <metadata name=\"Application\">Bandwright</metadata>\n"
            " <resources>\n  <basematerials id=\"1\">\n" +
            known.bases + "  </basematerials>\n");
    constexpr std::size_t kFirst = 2;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        out.put("  <object id=\"" + std::to_string(kFirst + i) + "\" name=\"" + geometry::name(parts[i]) +
                "\" type=\"model\" pid=\"1\" pindex=\"" + std::to_string(known.ofPart[i]) + "\">\n");
        putMesh(out, parts[i].mesh, share);
        out.put("  </object>\n");
    }
    const std::string ring = std::to_string(kFirst + parts.size());
    out.put("  <object id=\"" + ring + "\" name=\"" + escaped(source.design.title) +
            "\" type=\"model\">\n   <components>\n");
    for (std::size_t i = 0; i < parts.size(); ++i)
        out.put("    <component objectid=\"" + std::to_string(kFirst + i) + "\"/>\n");
    out.put("   </components>\n  </object>\n </resources>\n <build>\n  <item objectid=\"" + ring +
            "\"/>\n </build>\n</model>\n");
    out.finish();
}

constexpr std::string_view kTypes = R"(<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
 <Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
 <Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
)";
constexpr std::string_view kRelations = R"(<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
 <Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
)";

}  // namespace

Written writeThreeMf(const ModelSource& source, const std::filesystem::path& file) {
    const std::vector<geometry::Part> parts = source.parts();
    try {
        platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
            ZipWriter zip(sink);
            zip.add("[Content_Types].xml", kTypes);
            zip.add("_rels/.rels", kRelations);
            zip.add("3D/3dmodel.model", [&](const platform::ByteSink& model) {
                FileWriter out(model);
                putModel(out, source, parts);
            });
            zip.finish();
        });
    } catch (const std::length_error&) {
        throw base::InputError(file.string() +
                               ": a 3MF file holds at most 4 GiB of text; use a larger --chord.");
    }
    return {file};
}

}  // namespace bandwright::formats
