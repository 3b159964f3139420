#include "passes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fresnel.hpp"
#include "looks.hpp"
#include "mark_lines.hpp"
#include "wall_legend.hpp"

namespace bandwright {

namespace {

constexpr std::size_t kMostCuts = 2;
constexpr int kWallColours = 256;
constexpr float kLightsOut =
    0.012F;  // what is left of the studio's light, so that the ring's outline stays visible
constexpr float kGlow = 1.1F;

using Vec4f = std::array<float, 4>;

// frame.glsl: Frame, std140.
struct FrameBlock {
    Matrix4 stageToClip, ringToStage;
    Vec4f eye, extent, picture, tent;
    std::array<Vec4f, kMostCuts> cut;
};

float toFloat(double value) {
    return static_cast<float>(value);
}

std::array<float, 3> floats(Vec3 v) {
    return {toFloat(v.x), toFloat(v.y), toFloat(v.z)};
}

Matrix4 product(const Matrix4& a, const Matrix4& b) {
    Matrix4 out{};
    for (std::size_t column = 0; column < 4; ++column) {
        for (std::size_t row = 0; row < 4; ++row) {
            for (std::size_t k = 0; k < 4; ++k)
                out[4 * column + row] += a[4 * k + row] * b[4 * column + k];
        }
    }
    return out;
}

Matrix4 ringToStage(double top) {
    const Vec3 x = toStage({1, 0, 0}, top), y = toStage({0, 1, 0}, top);
    return {toFloat(x.x), toFloat(x.y), 0, 0, toFloat(y.x), toFloat(y.y), 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};
}

GlTexture wallColourTexture() {
    std::vector<std::array<float, 3>> row;
    for (int i = 0; i < kWallColours; ++i) {
        const LinearRgb c = wallColour((i + 0.5) / kWallColours);
        row.push_back({toFloat(c[0]), toFloat(c[1]), toFloat(c[2])});
    }
    auto texture = GlTexture::make();
    glActiveTexture(GL_TEXTURE0 + kSourceUnit);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB16F, kWallColours, 1, 0, GL_RGB, GL_FLOAT, row.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glBindTexture(GL_TEXTURE_2D, 0);
    return texture;
}

// The direction from the ring's axis through the middle of a body.
std::array<float, 3> outward(const BodyMesh& mesh) {
    double x = 0, y = 0;
    for (const auto& vertex : mesh.vertices) {
        x += static_cast<double>(vertex.position[0]);
        y += static_cast<double>(vertex.position[1]);
    }
    const double size = std::max(std::hypot(x, y), 1e-9);
    return {toFloat(x / size), toFloat(y / size), 0};
}

GlVertexArray floatLayout(GLuint buffer, std::initializer_list<std::pair<GLuint, GLint>> attributes,
                          GLsizei stride) {
    auto layout = GlVertexArray::make();
    glBindVertexArray(layout);
    glBindBuffer(GL_ARRAY_BUFFER, buffer);
    std::size_t offset = 0;
    for (const auto& [place, numbers] : attributes) {
        glEnableVertexAttribArray(place);
        glVertexAttribPointer(
            place, numbers, GL_FLOAT, GL_FALSE, stride,
            reinterpret_cast<const void*>(offset));  // NOLINT(performance-no-int-to-ptr): OpenGL's way
        offset += static_cast<std::size_t>(numbers) * sizeof(float);
    }
    glBindVertexArray(0);
    return layout;
}

void setMetal(const Program& program, const MetalLook& look) {
    const FinishLook finish = finishLook(look.finish);
    const LinearRgb dip = edgeDip(look.reflectance, look.reflectance82);
    if (look.darkLayers) {
        program.set("brightReflectance", look.reflectance);
        program.set("brightDip", dip);
        program.set("darkReflectance", *look.darkLayers);
        program.set("darkDip", edgeDip(*look.darkLayers, *look.darkLayers));
    } else {
        program.set("reflectance", look.reflectance);
        program.set("edgeDip", dip);
    }
    program.set("level", finish.level);
    program.set("roughness", finish.roughness);
    program.set("spread", finish.spread);
    program.set("relief", finish.relief);
    program.set("roundRing", finish.roundRing ? 1 : 0);
}

void setFill(const Program& program, const FillLook& look) {
    const double mean = std::max((look.grainLeast + look.grainMost) / 2, 0.02);
    program.set("grainColour", look.colour);
    program.set("grainColour2", look.colour2);
    program.set("grainSize", toFloat(mean));
    program.set("grainSpread", toFloat((look.grainMost - look.grainLeast) / mean));
    program.set("packing", toFloat(look.packing));
    program.set("glows", look.glows ? 1 : 0);
    program.set("glow", look.glow);
}

void setGem(const Program& program, const GemLook& look, const BodyMesh& mesh, const PassOptions& options) {
    program.set("facetCount", static_cast<int>(look.facets.size()));
    program.set("bounces", options.bounces);
    program.set("colours", options.fine && look.dispersion > 0 ? 3 : 1);
    program.set("index", refractiveIndices(look, options.hue));
    program.set("absorbance", absorbance(look.transmission));
    program.set("seat", look.seat);
    program.set("outward", outward(mesh));
}

void enableClipping(std::size_t cuts) {
    for (GLenum i = 0; i < kMostCuts; ++i)
        (i < cuts ? glEnable : glDisable)(GL_CLIP_DISTANCE0 + i);
}

// A rectangle that faces what is taken away and reaches as far as the body; a hair inside the cut, so that no
// rounding takes it away, too.
std::array<BodyMesh::Vertex, 4> capCorners(const BodyMesh& mesh, const CutPlane& cut) {
    double reach = 0;
    for (const auto& vertex : mesh.vertices) {
        for (const float place : vertex.position)
            reach = std::max(reach, static_cast<double>(std::abs(place)));
    }
    constexpr double kHair = 1e-4;  // mm
    const Vec3 other = std::abs(cut.normal.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
    const Vec3 side = cross(other, cut.normal), up = cross(cut.normal, side);
    std::array<BodyMesh::Vertex, 4> corners;
    for (std::size_t i = 0; i < 4; ++i) {
        const double across = (i & 1U) != 0 ? 2 * reach : -2 * reach;
        const double along = (i & 2U) != 0 ? 2 * reach : -2 * reach;
        corners[i].position = floats((cut.offset - kHair) * cut.normal + across * side + along * up);
        corners[i].normal = floats(cut.normal);
    }
    return corners;
}

// A legend grows with the picture, so that it can be read in a large one that is shown or printed small.
double legendPoint(Size size) {
    return std::max(0.6, std::min(size.width, size.height) / 800.0);
}

void drawRuns(const Runs& runs) {
    glMultiDrawElements(GL_TRIANGLES, runs.counts.data(), GL_UNSIGNED_INT, runs.offsets.data(),
                        static_cast<GLsizei>(runs.counts.size()));
}

}  // namespace

ScenePasses::ScenePasses(const std::filesystem::path& folder)
    : shaderFolder_(folder),
      backdrop_("screen.vert", "backdrop.frag", folder),
      floor_("floor.vert", "floor.frag", folder),
      mark_("mark.vert", "mark.frag", folder),
      plain_(GlVertexArray::make()),
      frame_(GlBuffer::make()),
      marks_(GlBuffer::make()),
      cap_(GlBuffer::make()),
      wallColours_(wallColourTexture()) {
    markLayout_ = floatLayout(marks_, {{0, 2}, {1, 4}}, sizeof(MarkVertex));
    capLayout_ = floatLayout(cap_, {{0, 3}, {1, 3}, {2, 1}, {3, 1}}, sizeof(BodyMesh::Vertex));
}

ScenePasses ScenePasses::reloaded() const {
    ScenePasses fresh(shaderFolder_);
    for (const auto& [key, program] : bodyPrograms_)
        fresh.use(key.first, key.second);
    return fresh;
}

void ScenePasses::setFrame(const Scene& scene, const Viewpoint& view, Size size, const PassOptions& options) {
    Matrix4 projection = view.projection;
    projection[8] += toFloat(2 * options.jitter[0] / size.width);
    projection[9] += toFloat(2 * options.jitter[1] / size.height);
    const double azimuth = scene.view.camera.azimuth * std::numbers::pi / 180;
    const Extent& extent = scene.extent;
    const bool dark = scene.view.lightsOut;
    FrameBlock block{
        product(projection, view.view),
        ringToStage(scene.top),
        {toFloat(view.eye.x), toFloat(view.eye.y), toFloat(view.eye.z), 1},
        {toFloat(extent.radius), toFloat(extent.halfWidth), toFloat(extent.boreRadius),
         toFloat(extent.floor)},
        {toFloat(size.width), toFloat(size.height), toFloat(view.pixelsPerMm), toFloat(options.number)},
        {toFloat(std::cos(azimuth)), toFloat(std::sin(azimuth)), dark ? kLightsOut : 1.0F,
         dark ? kGlow : 0.0F},
        {}};
    const std::vector<CutPlane> cuts = cutPlanes(scene.view);
    for (std::size_t i = 0; i < cuts.size(); ++i)
        block.cut[i] = {toFloat(-cuts[i].normal.x), toFloat(-cuts[i].normal.y), toFloat(-cuts[i].normal.z),
                        toFloat(cuts[i].offset)};
    glBindBuffer(GL_UNIFORM_BUFFER, frame_);
    glBufferData(GL_UNIFORM_BUFFER, sizeof(block), &block, GL_STREAM_DRAW);
    glBindBufferBase(GL_UNIFORM_BUFFER, kFrameBlock, frame_);
}

void ScenePasses::drawBackdrop(const Scene& scene, const Viewpoint& view) {
    glBindVertexArray(plain_);
    glDepthMask(GL_FALSE);
    if (scene.view.backdrop == Backdrop::Tent) {
        backdrop_.use();
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }
    if (view.eye.y > scene.extent.floor) {
        glEnable(GL_BLEND);
        glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
        floor_.use();
        glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
        glDisable(GL_BLEND);
    }
    glDepthMask(GL_TRUE);
}

const Program& ScenePasses::use(const std::string& fragment, const std::vector<std::string>& defines) {
    auto [place, added] = bodyPrograms_.try_emplace({fragment, defines});
    if (added) place->second = Program("body.vert", fragment, shaderFolder_, defines);
    place->second.use();
    return place->second;
}

const Program& ScenePasses::useMetal(const MetalLook& look, bool bore) {
    std::vector<std::string> defines;
    if (bore) defines.emplace_back("BORE");
    if (finishLook(look.finish).spread > 0) defines.emplace_back("LINES");
    if (look.darkLayers) defines.emplace_back("LAYERS");
    const Program& program = use("metal.frag", defines);
    setMetal(program, look);
    return program;
}

const Program& ScenePasses::useFill(const FillLook& look, bool fine) {
    std::vector<std::string> defines;
    if (look.opalescent) defines.emplace_back("OPALESCENT");
    if (fine) defines.emplace_back("FINE");
    const Program& program = use("fill.frag", defines);
    setFill(program, look);
    return program;
}

const Program& ScenePasses::useGem(const GemLook& look, const BodyBuffers& body, const PassOptions& options) {
    const Program& program = use("gem.frag");
    setGem(program, look, *body.mesh, options);
    glBindBufferBase(GL_UNIFORM_BUFFER, kFacetBlock, body.facets);
    return program;
}

const Program& ScenePasses::useWallMap(const WallScale& scale) {
    const Program& program = use("wall_map.frag");
    program.set("wallScale", std::array{toFloat(scale.least), toFloat(scale.most)});
    glActiveTexture(GL_TEXTURE0 + kSourceUnit);
    glBindTexture(GL_TEXTURE_2D, wallColours_);
    return program;
}

const Program& ScenePasses::useMaterial(const BodyBuffers& body, bool bore,
                                        const std::optional<WallScale>& wallMap, const PassOptions& options) {
    if (const auto* gem = std::get_if<GemLook>(&body.material)) return useGem(*gem, body, options);
    if (const auto* fill = std::get_if<FillLook>(&body.material)) return useFill(*fill, options.fine);
    if (wallMap && body.mesh->hasWalls) return useWallMap(*wallMap);
    return useMetal(std::get<MetalLook>(body.material), bore);
}

void ScenePasses::drawBody(const View& view, Vec3 away, const BodyBuffers& body, const PassOptions& options) {
    const bool whole = std::holds_alternative<GemLook>(body.material);
    const std::vector<CutPlane> cuts = whole ? std::vector<CutPlane>{} : cutPlanes(view);
    enableClipping(cuts.size());
    glBindVertexArray(body.layout);
    for (const bool bore : {false, true}) {
        const Runs& runs = bore ? body.bore : body.rest;
        if (runs.counts.empty()) continue;
        useMaterial(body, bore, view.wallMap, options).set("shift", floats(away));
        drawRuns(runs);
    }
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        useMaterial(body, false, std::nullopt, options).set("shift", floats(away));
        drawCap(body, cuts, i);
    }
    enableClipping(0);
}

// With the body's material in use. Where the ray to the eye leaves the body through more of its faces than it
// comes in by, the cut lies open: there its plane is drawn with the body's own material, as far as the other
// cuts leave it.
void ScenePasses::drawCap(const BodyBuffers& body, const std::vector<CutPlane>& cuts, std::size_t which) {
    glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    glDepthMask(GL_FALSE);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_CULL_FACE);
    glEnable(GL_STENCIL_TEST);
    glStencilFunc(GL_ALWAYS, 0, 0xFF);
    glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
    glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
    enableClipping(0);
    glEnable(GL_CLIP_DISTANCE0 + static_cast<GLenum>(which));
    glBindVertexArray(body.layout);
    drawRuns(body.bore);
    drawRuns(body.rest);

    const auto corners = capCorners(*body.mesh, cuts[which]);
    glBindBuffer(GL_ARRAY_BUFFER, cap_);
    glBufferData(GL_ARRAY_BUFFER, sizeof(corners), corners.data(), GL_STREAM_DRAW);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthMask(GL_TRUE);
    glEnable(GL_DEPTH_TEST);
    glEnable(GL_CULL_FACE);
    enableClipping(cuts.size());
    glStencilFunc(GL_NOTEQUAL, 0, 0xFF);
    glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
    glBindVertexArray(capLayout_);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    glDisable(GL_STENCIL_TEST);
    glClear(GL_STENCIL_BUFFER_BIT);
}

void ScenePasses::drawMarks(const Scene& scene, const Viewpoint& view, Size size, double scale) {
    std::vector<MarkVertex> triangles = markTriangles(scene, view, size, scale);
    if (scene.view.wallMap && scene.view.wallMap->legend) {
        const auto legend = wallLegend(*scene.view.wallMap, size, legendPoint(size));
        triangles.insert(triangles.end(), legend.begin(), legend.end());
    }
    if (triangles.empty()) return;
    glBindBuffer(GL_ARRAY_BUFFER, marks_);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(triangles.size() * sizeof(MarkVertex)),
                 triangles.data(), GL_STREAM_DRAW);
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    mark_.use();
    glBindVertexArray(markLayout_);
    glDrawArrays(GL_TRIANGLES, 0, static_cast<GLsizei>(triangles.size()));
    glDisable(GL_BLEND);
}

void ScenePasses::draw(const Scene& scene, Size size, const std::vector<BodyBuffers>& bodies,
                       const PassOptions& options) {
    const Viewpoint view = viewpoint(scene, size);
    setFrame(scene, view, size, options);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glEnable(GL_CULL_FACE);
    glCullFace(GL_BACK);
    // What hides comes before what it hides: stones, tubes and fills before the band, all before the
    // backdrop.
    for (std::size_t i = bodies.size(); i-- > 0;)
        drawBody(scene.view, shift(scene, scene.bodies[i]), bodies[i], options);
    glDisable(GL_CULL_FACE);
    drawBackdrop(scene, view);
    drawMarks(scene, view, size, options.scale);
    glDisable(GL_DEPTH_TEST);
}

}  // namespace bandwright
