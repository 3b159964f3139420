#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <utility>

#include "base/input_error.hpp"
#include "model_source.hpp"
#include "scene/material.hpp"

/// glTF 2.0 in its binary form (ISO/IEC 12113), in metres, with materials by the ratified extensions of
/// Khronos. Patterns (grains, cloth, wood, layers of a billet, dents, opal) are textures where they can be
/// drawn; the lines of a tool are left out.
namespace bandwright::formats {

namespace {

using Json = nlohmann::ordered_json;

constexpr double kMetresPerMm = 1e-3;

template <class... Cases>
struct Either : Cases... {
    using Cases::operator()...;
};
template <class... Cases>
Either(Cases...) -> Either<Cases...>;

Json colourJson(const trade::LinearRgb& colour) {
    Json result = Json::array();
    for (const double share : colour)
        result.push_back(std::clamp(share, 0.0, 1.0));
    return result;
}

trade::LinearRgb between(const trade::LinearRgb& a, const trade::LinearRgb& b) {
    return {(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2};
}

Json surfaceJson(const trade::LinearRgb& colour, double metallic, double roughness) {
    Json factor = colourJson(colour);
    factor.push_back(1);
    return {{"pbrMetallicRoughness",
             {{"baseColorFactor", factor}, {"metallicFactor", metallic}, {"roughnessFactor", roughness}}}};
}

void coat(Json& material) {
    material["extensions"]["KHR_materials_clearcoat"] = {{"clearcoatFactor", 1}};
}

Json metalJson(const scene::MetalLook& look, scene::Zone zone, const geometry::Part& part,
               const ModelSource& source) {
    const double roughness = scene::roughness(look.finish[static_cast<std::size_t>(zone)]);
    const bool bare = !look.skin || zone == scene::Zone::Cuts;
    const trade::Metal& metal = *source.catalogue.metal(part.material);
    const design::Surface& surface = source.design.band.surface;
    if (!bare && surface.treatment == design::Treatment::Blackened && metal.blackOxide) {
        Json material = surfaceJson({0, 0, 0}, 0, roughness);
        material["extensions"]["KHR_materials_ior"] = {{"ior", metal.blackOxide->value}};
        return material;
    }
    const trade::LinearRgb colour =
        look.layers ? between(look.reflectance, look.layers->dark) : look.reflectance;
    Json material = surfaceJson(colour, 1, roughness);
    if (!bare && metal.anodising) {
        const std::vector<trade::OpticalConstants>& constants = metal.anodising->constants;
        material["extensions"]["KHR_materials_iridescence"] = {
            {"iridescenceFactor", 1},
            {"iridescenceIor", constants[constants.size() / 2].oxide},
            {"iridescenceThicknessMinimum", surface.oxide},
            {"iridescenceThicknessMaximum", surface.oxide}};
    }
    return material;
}

Json fibreJson(const scene::FibreLook& look, scene::Zone zone) {
    Json material = surfaceJson(between(look.light, look.dark), 0, 0.5);
    if (look.finish[static_cast<std::size_t>(zone)] == design::Finish::Polished) coat(material);
    return material;
}

Json fillJson(const scene::FillLook& look) {
    Json material = surfaceJson(between(look.colour, look.colour2), 0, 0.5);
    coat(material);
    if (look.glows) {
        constexpr double kDusk = 0.2;  // chosen by eye: seen in a dim room and hardly by day
        material["emissiveFactor"] = colourJson(look.glow);
        material["extensions"]["KHR_materials_emissive_strength"] = {{"emissiveStrength", kDusk}};
    }
    return material;
}

/// Opal as it is seen from above: no extension tells that its hue changes with the direction.
Json opalJson(const scene::GemLook& look) {
    Json material = surfaceJson({1, 1, 1}, 0, 0.05);
    material["extensions"]["KHR_materials_ior"] = {{"ior", look.refractiveIndex}};
    return material;
}

/// About how far light goes through it: the side of a cube of its volume, mm.
double thickness(const geometry::Mesh& mesh) {
    return std::cbrt(std::max(0.0, geometry::volume(mesh)));
}

Json gemJson(const scene::GemLook& look, const geometry::Part& part) {
    // The extension's own formula, whose indices at 430.8 and 686.7 nm differ by 1.711 (n - 1) / V and which
    // asks for 20 / V.
    constexpr double kSpan = 523655 * (1 / (430.8 * 430.8) - 1 / (686.7 * 686.7));
    const double mm = thickness(part.mesh);
    const double cloud = (look.cloud[0] + look.cloud[1] + look.cloud[2]) / 3;
    Json material = surfaceJson({1, 1, 1}, 0, 0);
    Json& extensions = material["extensions"];
    extensions["KHR_materials_ior"] = {{"ior", look.refractiveIndex}};
    extensions["KHR_materials_transmission"] = {{"transmissionFactor", std::pow(1 - cloud, mm)}};
    extensions["KHR_materials_volume"] = {{"thicknessFactor", mm * kMetresPerMm},
                                          {"attenuationDistance", kMetresPerMm},
                                          {"attenuationColor", colourJson(look.transmission)}};
    if (look.dispersion > 0)
        extensions["KHR_materials_dispersion"] = {
            {"dispersion", 20 * look.dispersion / (kSpan * (look.refractiveIndex - 1))}};
    return material;
}

Json materialJson(const scene::Material& look, scene::Zone zone, const geometry::Part& part,
                  const ModelSource& source) {
    return std::visit(
        Either{[&](const scene::MetalLook& metal) { return metalJson(metal, zone, part, source); },
               [&](const scene::FibreLook& fibre) { return fibreJson(fibre, zone); },
               [](const scene::FillLook& fill) { return fillJson(fill); },
               [&](const scene::GemLook& gem) { return gemJson(gem, part); }},
        look);
}

std::array<float, 3> metres(const geometry::Vec3& p) {
    constexpr float kZero = 0;  // makes 0 of -0
    return {static_cast<float>(kMetresPerMm * p.x) + kZero, static_cast<float>(kMetresPerMm * p.y) + kZero,
            static_cast<float>(kMetresPerMm * p.z) + kZero};
}

/// The runs of triangles of each zone that a part is finished in.
using Zones = std::array<std::vector<geometry::MeshFace>, scene::kZones>;
Zones zonesOf(const geometry::Mesh& mesh) {
    Zones zones;
    for (const geometry::MeshFace& face : mesh.faces)
        zones[static_cast<std::size_t>(scene::zoneOf(face.tag.feature))].push_back(face);
    return zones;
}

/// A part as the file holds it.
struct Shape {
    const geometry::Part& part;
    std::optional<scene::Unwrapped> flat;                          ///< where it has textures
    std::vector<std::pair<scene::Texture, std::string>> pictures;  ///< PNG

    std::size_t count() const { return flat ? flat->corners.size() : part.mesh.pointOf.size(); }
    std::uint32_t vertex(std::size_t i) const {
        return flat ? flat->corners[i].vertex : static_cast<std::uint32_t>(i);
    }
    bool hasRelief() const {
        return std::ranges::any_of(pictures,
                                   [](const auto& one) { return one.first == scene::Texture::Relief; });
    }
    const std::array<std::uint32_t, 3>& triangle(std::size_t i) const {
        return flat ? flat->triangles[i] : part.mesh.triangles[i];
    }
};

std::vector<Shape> shapesOf(const ModelSource& source, const std::vector<geometry::Part>& parts) {
    constexpr double kTexelsPerMm = 24;  // some five across the finest grain
    constexpr int kMostTexels = 4096;    // either way; larger textures are not shown everywhere
    const scene::Extent extent = scene::extentOf(parts);
    std::vector<Shape> shapes;
    for (const geometry::Part& part : parts) {
        Shape shape{part, {}, {}};
        const scene::Material look = scene::materialOf(source.design, source.catalogue, part);
        const std::vector<scene::Texture> wanted =
            source.options.texture ? scene::texturesOf(look) : std::vector<scene::Texture>{};
        if (!wanted.empty()) {
            shape.flat = scene::unwrapped(part.mesh, kTexelsPerMm, kMostTexels);
            const scene::Body body = scene::flatBody(part, *shape.flat, look);
            for (const scene::Texture what : wanted)
                shape.pictures.emplace_back(what,
                                            source.options.texture(body, extent, shape.flat->size, what));
        }
        shapes.push_back(std::move(shape));
    }
    return shapes;
}

/// Puts the texture in the place of the number that stands for it without one.
void putTexture(Json& material, scene::Texture what, std::size_t index) {
    const Json texture = {{"index", index}};
    Json& surface = material["pbrMetallicRoughness"];
    switch (what) {
        case scene::Texture::Colour:
            surface["baseColorFactor"] = {1, 1, 1, 1};
            surface["baseColorTexture"] = texture;
            break;
        case scene::Texture::Glow:
            material["emissiveFactor"] = {1, 1, 1};
            material["emissiveTexture"] = texture;
            break;
        case scene::Texture::Surface:
            surface["roughnessFactor"] = 1;
            surface["metallicRoughnessTexture"] = texture;
            break;
        case scene::Texture::Relief:
            material["normalTexture"] = texture;
            break;
    }
}

class Document {
  public:
    Document(const ModelSource& source, const std::vector<Shape>& shapes) : source_(source) {
        Json children = Json::array();
        Json nodes = Json::array({Json{{"name", oneLine(source.design.title)}}});
        for (const Shape& shape : shapes) {
            children.push_back(nodes.size());
            nodes.push_back({{"name", geometry::name(shape.part)}, {"mesh", meshes_.size()}});
            addMesh(shape);
        }
        for (const Shape& shape : shapes)
            for (const auto& [what, png] : shape.pictures)
                images_.push_back({{"bufferView", addView(png.size())}, {"mimeType", "image/png"}});
        nodes[0]["children"] = children;
        json_ = {{"asset", {{"version", "2.0"}, {"generator", "Bandwright"}}},
                 {"scene", 0},
                 {"scenes", Json::array({Json{{"nodes", Json::array({0})}}})},
                 {"nodes", nodes},
                 {"meshes", meshes_},
                 {"materials", materials_},
                 {"accessors", accessors_},
                 {"bufferViews", views_},
                 {"buffers", Json::array({Json{{"byteLength", bytes_}}})}};
        if (!images_.empty()) {
            // Round the ring it repeats, across it does not; from afar it is blurred.
            constexpr int kRepeat = 10497, kClamp = 33071, kLinear = 9729, kSmallerLinear = 9987;
            json_["images"] = images_;
            json_["textures"] = textures_;
            json_["samplers"] = Json::array({Json{{"magFilter", kLinear},
                                                  {"minFilter", kSmallerLinear},
                                                  {"wrapS", kRepeat},
                                                  {"wrapT", kClamp}}});
        }
        if (!used_.empty()) json_["extensionsUsed"] = used_;
    }

    const Json& json() const { return json_; }
    std::uint64_t bytes() const { return bytes_; }

  private:
    /// Each begins at a multiple of four bytes. `target`: what the buffer is bound as; 0 = as nothing.
    std::size_t addView(std::uint64_t bytes, int target = 0) {
        views_.push_back({{"buffer", 0}, {"byteOffset", bytes_}, {"byteLength", bytes}});
        if (target != 0) views_.back()["target"] = target;
        bytes_ += (bytes + 3) / 4 * 4;
        return views_.size() - 1;
    }

    std::size_t addAccessor(Json accessor) {
        accessors_.push_back(std::move(accessor));
        return accessors_.size() - 1;
    }

    std::size_t addMaterial(Json material, const std::string& name) {
        material["name"] = name;
        if (material.contains("extensions"))
            for (const auto& [extension, ignored] : material["extensions"].items())
                used_.insert(extension);
        for (std::size_t i = 0; i < materials_.size(); ++i)
            if (materials_[i] == material) return i;
        materials_.push_back(std::move(material));
        return materials_.size() - 1;
    }

    Json attributesOf(const Shape& shape) {
        constexpr int kFloat = 5126, kVertices = 34962;
        constexpr std::size_t kVector = 12, kPlace = 8, kTangent = 16;
        const std::size_t count = shape.count();
        std::array<float, 3> low{}, high{};
        low.fill(std::numeric_limits<float>::max());
        high.fill(std::numeric_limits<float>::lowest());
        for (const std::uint32_t point : shape.part.mesh.pointOf) {
            const std::array<float, 3> p = metres(shape.part.mesh.points[point]);
            for (std::size_t k = 0; k < 3; ++k) {
                low[k] = std::min(low[k], p[k]);
                high[k] = std::max(high[k], p[k]);
            }
        }
        const Json vectors = {{"componentType", kFloat}, {"count", count}, {"type", "VEC3"}};
        Json positions = vectors, normals = vectors;
        positions["bufferView"] = addView(count * kVector, kVertices);
        positions["min"] = low;
        positions["max"] = high;
        normals["bufferView"] = addView(count * kVector, kVertices);
        Json attributes = {{"POSITION", addAccessor(positions)}, {"NORMAL", addAccessor(normals)}};
        if (shape.flat) {
            const std::size_t view = addView(count * kPlace, kVertices);
            attributes["TEXCOORD_0"] = addAccessor(
                {{"bufferView", view}, {"componentType", kFloat}, {"count", count}, {"type", "VEC2"}});
        }
        if (shape.hasRelief()) {
            const std::size_t view = addView(count * kTangent, kVertices);
            attributes["TANGENT"] = addAccessor(
                {{"bufferView", view}, {"componentType", kFloat}, {"count", count}, {"type", "VEC4"}});
        }
        return attributes;
    }

    void addMesh(const Shape& shape) {
        constexpr int kUnsigned = 5125, kIndices = 34963;
        constexpr std::size_t kIndex = 4;
        const geometry::Part& part = shape.part;
        const Json attributes = attributesOf(shape);
        const scene::Material look = scene::materialOf(source_.design, source_.catalogue, part);
        const std::string material = materialOf(part, source_.catalogue).name;
        const std::size_t firstTexture = textures_.size();
        for (std::size_t i = 0; i < shape.pictures.size(); ++i)
            textures_.push_back({{"sampler", 0}, {"source", textures_.size()}});
        const Zones zones = zonesOf(part.mesh);
        Json primitives = Json::array();
        for (std::size_t z = 0; z < zones.size(); ++z) {
            std::size_t triangles = 0;
            for (const geometry::MeshFace& face : zones[z])
                triangles += face.triangleCount;
            if (triangles == 0) continue;
            const std::size_t indices =
                addAccessor({{"bufferView", addView(3 * triangles * kIndex, kIndices)},
                             {"componentType", kUnsigned},
                             {"count", 3 * triangles},
                             {"type", "SCALAR"}});
            const auto* gem = std::get_if<scene::GemLook>(&look);
            Json surface = gem != nullptr && shape.flat
                               ? opalJson(*gem)
                               : materialJson(look, static_cast<scene::Zone>(z), part, source_);
            for (std::size_t i = 0; i < shape.pictures.size(); ++i)
                putTexture(surface, shape.pictures[i].first, firstTexture + i);
            primitives.push_back({{"attributes", attributes},
                                  {"indices", indices},
                                  {"material", addMaterial(std::move(surface), material)}});
        }
        meshes_.push_back({{"name", geometry::name(part)}, {"primitives", primitives}});
    }

    const ModelSource& source_;
    Json meshes_ = Json::array(), materials_ = Json::array(), accessors_ = Json::array(),
         views_ = Json::array(), images_ = Json::array(), textures_ = Json::array(), json_;
    std::set<std::string> used_;
    std::uint64_t bytes_ = 0;
};

/// In the order of the document's views.
void putBuffer(FileWriter& out, const std::vector<Shape>& shapes, Share& share) {
    for (const Shape& shape : shapes) {
        const geometry::Mesh& mesh = shape.part.mesh;
        for (std::size_t i = 0; i < shape.count(); ++i)
            for (const float c : metres(mesh.points[mesh.pointOf[shape.vertex(i)]]))
                out.binary(c);
        for (std::size_t i = 0; i < shape.count(); ++i)
            for (const float c : mesh.normals[shape.vertex(i)])
                out.binary(c);
        if (shape.flat)
            for (const scene::Corner& corner : shape.flat->corners)
                for (const float c : corner.place)
                    out.binary(c);
        if (shape.hasRelief())
            for (const scene::Corner& corner : shape.flat->corners)
                for (const float c : corner.tangent)
                    out.binary(c);
        for (const std::vector<geometry::MeshFace>& faces : zonesOf(mesh)) {
            for (const geometry::MeshFace& face : faces) {
                for (std::uint32_t t = 0; t < face.triangleCount; ++t)
                    for (const std::uint32_t v : shape.triangle(face.firstTriangle + t))
                        out.binary(v);
                share.step(face.triangleCount);
            }
        }
    }
    for (const Shape& shape : shapes)
        for (const auto& [what, png] : shape.pictures)
            out.put(png + std::string((4 - png.size() % 4) % 4, '\0'));
}

}  // namespace

Written writeGlb(const ModelSource& source, const std::filesystem::path& file) {
    constexpr std::uint32_t kMagic = 0x46546C67, kVersion = 2, kJson = 0x4E4F534A, kBinary = 0x004E4942;
    constexpr std::uint64_t kHead = 12, kChunk = 8;
    const std::vector<geometry::Part> parts = source.parts();
    const std::vector<Shape> shapes = shapesOf(source, parts);
    const Document document(source, shapes);
    std::string text = document.json().dump(-1, ' ', false, Json::error_handler_t::replace);
    text.resize((text.size() + 3) / 4 * 4, ' ');
    const std::uint64_t all = kHead + kChunk + text.size() + kChunk + document.bytes();
    if (all > std::numeric_limits<std::uint32_t>::max())
        throw base::InputError(file.string() + ": a GLB file holds at most 4 GiB; use a larger --chord.");
    Share share(source.options, trianglesOf(parts));
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        FileWriter out(sink);
        for (const std::uint32_t number : {kMagic, kVersion, static_cast<std::uint32_t>(all),
                                           static_cast<std::uint32_t>(text.size()), kJson})
            out.binary(number);
        out.put(text);
        out.binary(static_cast<std::uint32_t>(document.bytes()));
        out.binary(kBinary);
        putBuffer(out, shapes, share);
        out.finish();
    });
    return {file};
}

}  // namespace bandwright::formats
