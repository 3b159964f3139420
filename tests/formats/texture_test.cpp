// The textures of a GLB file, as assimp and libpng read them, and the validator of Khronos over the files.

#include <assimp/scene.h>
#include <gtest/gtest.h>
#include <png.h>

#include <array>
#include <assimp/Importer.hpp>
#include <cmath>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "design/design_file.hpp"
#include "formats/model.hpp"
#include "program.hpp"
#include "render/bake.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

/// A ring for each kind of pattern.
std::map<std::string, design::Design> patterned() {
    const design::Design harbour = design::readDesign(fs::path(BANDWRIGHT_MODELS) / "harbour.ring.json");
    std::map<std::string, design::Design> rings;
    design::Design layered = harbour;
    layered.band.metal = "steel-304l-316l-layered";
    layered.band.layers.pattern = design::LayerPattern::Ladder;
    layered.channels.front().fill->filler = "glow-powder";
    layered.settings.front().stone->gem = "opal";
    layered.settings.front().stone->cut = design::StoneCut::Cabochon;
    rings["layered"] = layered;
    design::Design wood = harbour;
    wood.channels.clear();
    wood.band.metal = "walnut";
    rings["wood"] = wood;
    wood.settings.clear();
    wood.band.metal = "carbon-fibre";
    wood.band.surface.outside = design::Finish::Hammered;
    rings["cloth"] = wood;
    return rings;
}

void write(const design::Design& design, const fs::path& file) {
    render::Baker baker;
    ModelOptions options;
    options.build = {base::Micrometres(20)};
    options.texture = [&](const scene::Body& flat, const scene::Extent& extent, scene::Size size,
                          scene::Texture what) {
        return render::pngOf(baker.bake(flat, extent, size, what));
    };
    writeModel(design, trade::builtInCatalogue(), options, file);
}

/// As libpng reads it: RGB, rows from the top.
struct Picture {
    int width = 0, height = 0;
    std::vector<png_byte> rgb;

    std::array<double, 3> at(double u, double v) const {
        const int x = static_cast<int>(std::floor(u * width)) % width;
        const int y = std::min(static_cast<int>(std::floor(v * height)), height - 1);
        const png_byte* p = &rgb[3 * static_cast<std::size_t>(y * width + x)];
        return {p[0] / 255.0, p[1] / 255.0, p[2] / 255.0};
    }
};

Picture pictureOf(const aiTexture& texture) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    EXPECT_NE(png_image_begin_read_from_memory(&image, texture.pcData, texture.mWidth), 0) << image.message;
    image.format = PNG_FORMAT_RGB;
    Picture picture{static_cast<int>(image.width), static_cast<int>(image.height), {}};
    picture.rgb.resize(PNG_IMAGE_SIZE(image));
    EXPECT_NE(png_image_finish_read(&image, nullptr, picture.rgb.data(), 0, nullptr), 0) << image.message;
    return picture;
}

struct ReadMesh {
    const aiMesh* mesh;
    const aiMaterial* material;
};
/// The meshes whose material has a texture of this kind, with that texture.
std::vector<std::pair<ReadMesh, Picture>> textured(const aiScene& scene, aiTextureType kind) {
    std::vector<std::pair<ReadMesh, Picture>> found;
    for (unsigned i = 0; i < scene.mNumMeshes; ++i) {
        const aiMesh* mesh = scene.mMeshes[i];
        const aiMaterial* material = scene.mMaterials[mesh->mMaterialIndex];
        aiString path;
        if (material->GetTexture(kind, 0, &path) != AI_SUCCESS) continue;
        found.push_back({{mesh, material}, pictureOf(*scene.GetEmbeddedTexture(path.C_Str()))});
    }
    return found;
}

/// assimp turns the second coordinate round; glTF counts it from the top.
std::array<double, 2> placeOf(const aiMesh& mesh, unsigned vertex) {
    const aiVector3D& uv = mesh.mTextureCoords[0][vertex];
    return {static_cast<double>(uv.x), 1 - static_cast<double>(uv.y)};
}

// Each triangle has about as many texels as it has area, and no texel is of two triangles: a count over the
// texture, from the file alone.
TEST(Textures, AreRightGltfAndShowEachPlaceOfTheSurfaceOnceAndAboutAsLarge) {
    const app::ScratchFolder folder;
    for (const std::string name : {"layered", "cloth"}) {
        SCOPED_TRACE(name);
        write(patterned().at(name), folder / "ring.glb");
        const app::Outcome told =
            app::runProgram({"node", std::string(BANDWRIGHT_TESTS) + "/formats/validate_glb.cjs",
                             BANDWRIGHT_NODE, folder / "ring.glb"});
        EXPECT_EQ(told.code, 0) << told.out << told.err;
        Assimp::Importer importer;
        const aiScene* scene = importer.ReadFile(folder / "ring.glb", 0);
        ASSERT_NE(scene, nullptr) << importer.GetErrorString();
        const auto meshes = textured(*scene, aiTextureType_DIFFUSE);
        ASSERT_FALSE(meshes.empty());
        std::map<std::string, std::vector<int>> owners;
        std::size_t twice = 0, once = 0;
        for (const auto& [read, picture] : meshes) {
            aiString path;
            read.material->GetTexture(aiTextureType_DIFFUSE, 0, &path);
            std::vector<int>& owner = owners[path.C_Str()];
            owner.resize(static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height));
            double least = 1e9, most = 0;
            for (unsigned f = 0; f < read.mesh->mNumFaces; ++f) {
                std::array<std::array<double, 2>, 3> p{};
                std::array<aiVector3D, 3> at;
                for (unsigned k = 0; k < 3; ++k) {
                    const unsigned vertex = read.mesh->mFaces[f].mIndices[k];
                    p[k] = placeOf(*read.mesh, vertex);
                    p[k] = {p[k][0] * picture.width, p[k][1] * picture.height};
                    at[k] = 1000.0F * read.mesh->mVertices[vertex];
                }
                const double texels = std::abs((p[1][0] - p[0][0]) * (p[2][1] - p[0][1]) -
                                               (p[2][0] - p[0][0]) * (p[1][1] - p[0][1])) /
                                      2;
                const double area = static_cast<double>(((at[1] - at[0]) ^ (at[2] - at[0])).Length()) / 2;
                if (area > 1e-3) {  // of less, single precision of the places tells too little
                    least = std::min(least, texels / area);
                    most = std::max(most, texels / area);
                }
                // Texels whose middle lies clearly inside.
                const auto side = [&](double x, double y, std::size_t k) {
                    const auto &a = p[k], &b = p[(k + 1) % 3];
                    return ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) /
                           std::hypot(b[0] - a[0], b[1] - a[1]);
                };
                const auto [x0, x1] = std::minmax({p[0][0], p[1][0], p[2][0]});
                const auto [y0, y1] = std::minmax({p[0][1], p[1][1], p[2][1]});
                for (int y = static_cast<int>(y0); y <= static_cast<int>(y1); ++y) {
                    for (int x = static_cast<int>(x0); x <= static_cast<int>(x1); ++x) {
                        const std::array<double, 3> d = {side(x + 0.5, y + 0.5, 0), side(x + 0.5, y + 0.5, 1),
                                                         side(x + 0.5, y + 0.5, 2)};
                        constexpr double kInside = 0.02;
                        const bool in = (d[0] > kInside && d[1] > kInside && d[2] > kInside) ||
                                        (d[0] < -kInside && d[1] < -kInside && d[2] < -kInside);
                        if (!in) continue;
                        int& count = owner[static_cast<std::size_t>(y * picture.width + x % picture.width)];
                        twice += count > 0 ? 1 : 0;
                        ++count;
                        ++once;
                    }
                }
            }
            // A projection shows a slope of up to 54.7 degrees, a strip up to 45; the narrow side of a strip
            // is drawn as long as its wide one, here by no more than the thickness of the band.
            const double wanted = 24 * 24;
            EXPECT_GT(least, 0.55 * wanted);
            EXPECT_LT(most, 1.45 * wanted);
        }
        EXPECT_GT(once, 10000U);
        EXPECT_EQ(twice, 0U) << "of " << once;
    }
}

// Wood, layers and grains fill space, so two places of the texture that show one point of the ring, where it
// was cut to be laid flat, have one colour.
TEST(Textures, AgreeWhereTheSurfaceWasCutToBeLaidFlat) {
    const app::ScratchFolder folder;
    write(patterned().at("wood"), folder / "ring.glb");
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(folder / "ring.glb", 0);
    ASSERT_NE(scene, nullptr);
    std::map<std::array<float, 3>, std::vector<std::array<double, 3>>> seen;
    for (const auto& [read, picture] : textured(*scene, aiTextureType_DIFFUSE)) {
        for (unsigned i = 0; i < read.mesh->mNumVertices; ++i) {
            const aiVector3D& p = read.mesh->mVertices[i];
            const auto place = placeOf(*read.mesh, i);
            seen[{p.x, p.y, p.z}].push_back(picture.at(place[0], place[1]));
        }
    }
    double apart = 0, across = 0;
    int pairs = 0;
    std::array<double, 3> before{};
    for (const auto& [p, colours] : seen) {
        across += std::abs(colours.front()[1] - before[1]);  // of places that have nothing in common
        before = colours.front();
        for (std::size_t i = 1; i < colours.size(); ++i, ++pairs)
            apart += std::abs(colours[i][1] - colours[0][1]);
    }
    ASSERT_GT(pairs, 300);
    EXPECT_LT(apart / pairs, 0.35 * across / static_cast<double>(seen.size()));
}

TEST(Textures, OfReliefAreUnitNormalsThatStandOutOfTheSurface) {
    const app::ScratchFolder folder;
    write(patterned().at("cloth"), folder / "ring.glb");
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(folder / "ring.glb", 0);
    ASSERT_NE(scene, nullptr);
    const auto meshes = textured(*scene, aiTextureType_NORMALS);
    ASSERT_FALSE(meshes.empty());
    double leaning = 0;
    int count = 0;
    for (const auto& [read, picture] : meshes) {
        ASSERT_TRUE(read.mesh->HasTangentsAndBitangents());
        for (unsigned i = 0; i < read.mesh->mNumVertices; ++i, ++count) {
            const auto place = placeOf(*read.mesh, i);
            const std::array<double, 3> c = picture.at(place[0], place[1]);
            const std::array<double, 3> n = {2 * c[0] - 1, 2 * c[1] - 1, 2 * c[2] - 1};
            EXPECT_NEAR(std::hypot(n[0], n[1], n[2]), 1, 0.06);
            EXPECT_GT(n[2], 0.7);
            leaning += std::hypot(n[0], n[1]);
            // The tangent lies in the surface.
            EXPECT_NEAR(static_cast<double>(read.mesh->mTangents[i] * read.mesh->mNormals[i]), 0, 1e-3);
        }
    }
    EXPECT_GT(leaning / count, 0.01);
}

}  // namespace
}  // namespace bandwright::formats
