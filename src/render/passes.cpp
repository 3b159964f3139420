#include "passes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fresnel.hpp"
#include "looks.hpp"
#include "mark_lines.hpp"
#include "scale_bar.hpp"
#include "targets.hpp"
#include "wall_legend.hpp"

namespace bandwright::render {

namespace {

constexpr std::size_t kMostCuts = 2;
constexpr int kWallColours = 256;
constexpr float kLightsOut =
    0.012F;  // share of the studio's light that stays, so that the ring's outline is visible
constexpr double kGlow = 1.1;
// The afterglow of strontium aluminate falls about as one over the time (from memory); minutes to half.
constexpr double kGlowMinutes = 4;

using Vec4f = std::array<float, 4>;

// frame.glsl: Frame, std140.
struct FrameBlock {
    scene::Matrix4 stageToClip, ringToStage;
    Vec4f eye, extent, picture, tent;
    std::array<Vec4f, kMostCuts> cut;
};

void bindFrame(const FrameBlock& block, GLuint buffer) {
    glBindBuffer(GL_UNIFORM_BUFFER, buffer);
    glBufferData(GL_UNIFORM_BUFFER, sizeof(block), &block, GL_STREAM_DRAW);
    glBindBufferBase(GL_UNIFORM_BUFFER, kFrameBlock, buffer);
}

float toFloat(double value) {
    return static_cast<float>(value);
}

std::array<float, 3> floats(geometry::Vec3 v) {
    return {toFloat(v.x), toFloat(v.y), toFloat(v.z)};
}

scene::Matrix4 product(const scene::Matrix4& a, const scene::Matrix4& b) {
    scene::Matrix4 out{};
    for (std::size_t column = 0; column < 4; ++column) {
        for (std::size_t row = 0; row < 4; ++row) {
            for (std::size_t k = 0; k < 4; ++k)
                out[4 * column + row] += a[4 * k + row] * b[4 * column + k];
        }
    }
    return out;
}

scene::Matrix4 ringToStage(double top) {
    const geometry::Vec3 x = scene::toStage({1, 0, 0}, top), y = scene::toStage({0, 1, 0}, top);
    return {toFloat(x.x), toFloat(x.y), 0, 0, toFloat(y.x), toFloat(y.y), 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};
}

GlTexture scaleTexture(trade::LinearRgb (*colourAt)(double)) {
    std::vector<std::array<float, 3>> row;
    for (int i = 0; i < kWallColours; ++i) {
        const trade::LinearRgb c = colourAt((i + 0.5) / kWallColours);
        row.push_back({toFloat(c[0]), toFloat(c[1]), toFloat(c[2])});
    }
    auto texture = GlTexture::make();
    fillRow(texture, row);
    return texture;
}

// The direction from the ring's axis through the middle of a body.
std::array<float, 3> outward(const scene::BodyMesh& mesh) {
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

void setFinish(const Program& program, const FinishLook& finish) {
    program.set("finishLevel", finish.level);
    program.set("finishRoughness", finish.roughness);
    program.set("spread", finish.spread);
    program.set("relief", finish.relief);
    program.set("roundRing", finish.roundRing ? 1 : 0);
}

void setMetal(const Program& program, const scene::MetalLook& look, scene::Zone zone) {
    setFinish(program, finishLook(look.finish[static_cast<std::size_t>(zone)]));
    const trade::LinearRgb dip = edgeDip(look.reflectance, look.reflectance82);
    if (look.layers) {
        program.set("brightReflectance", look.reflectance);
        program.set("brightDip", dip);
        program.set("darkReflectance", look.layers->dark);
        program.set("darkDip", edgeDip(look.layers->dark, look.layers->dark));
        program.set("pattern", static_cast<int>(look.layers->billet.pattern));
        program.set("layer", toFloat(look.layers->billet.thickness));
        program.set("etch", toFloat(look.layers->billet.etch));
    } else {
        program.set("reflectance", look.reflectance);
        program.set("edgeDip", dip);
    }
}

void setFibre(const Program& program, const scene::FibreLook& look, scene::Zone zone) {
    setFinish(program, finishLook(look.finish[static_cast<std::size_t>(zone)]));
    program.set("lighter", look.light);
    program.set("darker", look.dark);
}

void setFill(const Program& program, const scene::FillLook& look) {
    const double mean = std::max((look.grainLeast + look.grainMost) / 2, 0.02);
    program.set("grainColour", look.colour);
    program.set("grainColour2", look.colour2);
    program.set("grainSize", toFloat(mean));
    program.set("grainSpread", toFloat((look.grainMost - look.grainLeast) / mean));
    program.set("packing", toFloat(look.packing));
    program.set("glows", look.glows ? 1 : 0);
    program.set("glow", look.glow);
}

trade::LinearRgb unscattered(const trade::LinearRgb& cloud) {
    return {1 - cloud[0], 1 - cloud[1], 1 - cloud[2]};
}

void setGem(const Program& program, const scene::GemLook& look, const scene::BodyMesh& mesh,
            const PassOptions& options) {
    program.set("facetCount", static_cast<int>(look.facets.size()));
    program.set("bounces", options.bounces);
    program.set("index", refractiveIndices(look, options.hue));
    program.set("absorbance", absorbance(look.transmission));
    program.set("seat", look.seat);
    program.set("cloud", absorbance(unscattered(look.cloud)));
    if (!look.dome) {
        program.set("outward", outward(mesh));
        return;
    }
    const scene::Dome& dome = *look.dome;
    program.set("centre", floats(dome.centre));
    program.set("inverseX", floats(dome.inverse[0]));
    program.set("inverseY", floats(dome.inverse[1]));
    program.set("inverseZ", floats(dome.inverse[2]));
    program.set("up", floats(dome.up));
    program.set("base", toFloat(dome.base));
}

// Maps the clip space of the whole picture to that of a part.
struct TileClip {
    double scaleX, scaleY, shiftX, shiftY;
};
TileClip tileClip(const Tile& tile) {
    const double wide = tile.size.width, high = tile.size.height;
    return {tile.whole.width / wide, tile.whole.height / high, (tile.whole.width - 2 * tile.x - wide) / wide,
            -(tile.whole.height - 2 * tile.y - high) / high};
}

scene::Matrix4 ontoTile(const Tile& tile) {
    const TileClip c = tileClip(tile);
    return {toFloat(c.scaleX), 0, 0, 0, 0, toFloat(c.scaleY), 0, 0, 0, 0, 1, 0, toFloat(c.shiftX),
            toFloat(c.shiftY), 0, 1};
}

void enableClipping(std::size_t cuts) {
    for (GLenum i = 0; i < kMostCuts; ++i)
        (i < cuts ? glEnable : glDisable)(GL_CLIP_DISTANCE0 + i);
}

// A rectangle that faces the removed side and is as large as the body. It lies slightly inside the cut, so
// that rounding cannot remove it too.
std::array<scene::BodyMesh::Vertex, 4> capCorners(const scene::BodyMesh& mesh, const scene::CutPlane& cut) {
    double reach = 0;
    for (const auto& vertex : mesh.vertices) {
        for (const float place : vertex.position)
            reach = std::max(reach, static_cast<double>(std::abs(place)));
    }
    constexpr double kHair = 1e-4;  // mm
    const geometry::Vec3 other =
        std::abs(cut.normal.z) < 0.9 ? geometry::Vec3{0, 0, 1} : geometry::Vec3{1, 0, 0};
    const geometry::Vec3 side = geometry::cross(other, cut.normal), up = geometry::cross(cut.normal, side);
    std::array<scene::BodyMesh::Vertex, 4> corners;
    for (std::size_t i = 0; i < 4; ++i) {
        const double across = (i & 1U) != 0 ? 2 * reach : -2 * reach;
        const double along = (i & 2U) != 0 ? 2 * reach : -2 * reach;
        corners[i].position = floats((cut.offset - kHair) * cut.normal + across * side + along * up);
        corners[i].normal = floats(cut.normal);
    }
    return corners;
}

// A legend grows with the picture, so that it stays readable when a large picture is shown or printed small.
double legendPoint(scene::Size size) {
    return std::max(0.6, std::min(size.width, size.height) / 800.0);
}

}  // namespace

ScenePasses::ScenePasses(const std::filesystem::path& folder, std::vector<std::string> defines)
    : shaderFolder_(folder),
      defines_(std::move(defines)),
      backdrop_("screen.vert", "backdrop.frag", folder),
      floor_("floor.vert", "floor.frag", folder),
      mark_("mark.vert", "mark.frag", folder),
      plain_(GlVertexArray::make()),
      frame_(GlBuffer::make()),
      marks_(GlBuffer::make()),
      cap_(GlBuffer::make()),
      wallColours_(scaleTexture(scene::wallColour)),
      deviationColours_(scaleTexture(scene::deviationColour)) {
    markLayout_ = floatLayout(marks_, {{0, 2}, {1, 4}}, sizeof(MarkVertex));
    capLayout_ = floatLayout(cap_, {{0, 3}, {1, 3}, {2, 1}, {3, 1}}, sizeof(scene::BodyMesh::Vertex));
}

ScenePasses ScenePasses::reloaded() const {
    ScenePasses fresh(shaderFolder_, defines_);
    for (const auto& [key, program] : bodyPrograms_)
        fresh.use(key.first, key.second);
    return fresh;
}

void ScenePasses::setFrame(const PassFrame& frame) {
    const auto& [scene, tile, options, view] = frame;
    const scene::Size size = tile.whole;
    scene::Matrix4 projection = view.projection;
    projection[8] += toFloat(2 * options.jitter[0] / size.width);
    projection[9] += toFloat(2 * options.jitter[1] / size.height);
    projection = product(ontoTile(tile), projection);
    const double azimuth = scene.view.camera.azimuth * std::numbers::pi / 180;
    const scene::Extent& extent = scene.extent;
    const bool dark = scene.view.lightsOut;
    FrameBlock block{
        product(projection, view.view),
        ringToStage(scene.top),
        {toFloat(view.eye.x), toFloat(view.eye.y), toFloat(view.eye.z), 1},
        {toFloat(extent.radius), toFloat(extent.halfWidth), toFloat(extent.boreRadius),
         toFloat(extent.floor)},
        {toFloat(size.width), toFloat(size.height), toFloat(view.pixelsPerMm), toFloat(options.number)},
        {toFloat(std::cos(azimuth)), toFloat(std::sin(azimuth)), dark ? kLightsOut : 1.0F,
         dark ? toFloat(kGlow / (1 + scene.view.minutesDark / kGlowMinutes)) : 0.0F},
        {}};
    const std::vector<scene::CutPlane> cuts = scene::cutPlanes(scene.view);
    for (std::size_t i = 0; i < cuts.size(); ++i)
        block.cut[i] = {toFloat(-cuts[i].normal.x), toFloat(-cuts[i].normal.y), toFloat(-cuts[i].normal.z),
                        toFloat(cuts[i].offset)};
    bindFrame(block, frame_);
}

void ScenePasses::drawFlat(const BodyBuffers& body, const scene::Extent& extent, bool glowing) {
    const scene::Matrix4 same{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};
    bindFrame({same,
               same,
               {0, 0, 0, 1},
               {toFloat(extent.radius), toFloat(extent.halfWidth), toFloat(extent.boreRadius),
                toFloat(extent.floor)},
               {1, 1, 1, 0},
               {1, 0, glowing ? 0.0F : 1.0F, glowing ? 1.0F : 0.0F},
               {}},
              frame_);
    PassOptions options;
    options.fine = true;
    glBindVertexArray(body.layout);
    for (std::size_t zone = 0; zone < scene::kZones; ++zone) {
        const Runs& runs = body.zones[zone];
        if (runs.counts.empty()) continue;
        const Program& program = useMaterial(body, static_cast<scene::Zone>(zone), std::nullopt, options);
        // What goes on beyond the right end comes in at the left.
        for (const float shift : {0.0F, -1.0F}) {
            program.set("shift", std::array{shift, 0.0F, 0.0F});
            drawRuns(runs);
        }
    }
}

void ScenePasses::drawBackground(const PassFrame& frame) {
    const auto& [scene, tile, options, view] = frame;
    glBindVertexArray(plain_);
    glDepthMask(GL_FALSE);
    if (scene.view.backdrop == scene::Backdrop::Tent) {
        backdrop_.use();
        const TileClip c = tileClip(tile);
        backdrop_.set("studioKind", static_cast<int>(scene.view.studio));
        backdrop_.set("tileScale", std::array{toFloat(1 / c.scaleX), toFloat(1 / c.scaleY)});
        backdrop_.set("tileCorner", std::array{toFloat(static_cast<double>(tile.x) / tile.whole.width),
                                               toFloat(1 - static_cast<double>(tile.y + tile.size.height) /
                                                               tile.whole.height)});
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
    if (added) {
        std::vector<std::string> all = defines_;
        all.insert(all.end(), defines.begin(), defines.end());
        place->second = Program("body.vert", fragment, shaderFolder_, all);
    }
    place->second.use();
    return place->second;
}

const Program& ScenePasses::useMetal(const scene::MetalLook& look, scene::Zone zone, GLuint skin) {
    std::vector<std::string> defines;
    const FinishLook finish = finishLook(look.finish[static_cast<std::size_t>(zone)]);
    const bool skinned = look.skin && zone != scene::Zone::Cuts;
    if (zone == scene::Zone::Bore) defines.emplace_back("BORE");
    if (finish.spread > 0) defines.emplace_back("LINES");
    if (finish.hammered) defines.emplace_back("HAMMERED");
    if (look.layers) defines.emplace_back("LAYERS");
    if (skinned) defines.emplace_back("SKIN");
    const Program& program = use("metal.frag", defines);
    setMetal(program, look, zone);
    if (skinned) {
        glActiveTexture(GL_TEXTURE0 + kSourceUnit);
        glBindTexture(GL_TEXTURE_2D, skin);
    }
    return program;
}

const Program& ScenePasses::useFibre(const scene::FibreLook& look, scene::Zone zone) {
    const FinishLook finish = finishLook(look.finish[static_cast<std::size_t>(zone)]);
    std::vector<std::string> defines = {look.wood ? "WOOD" : "CARBON"};
    if (finish.hammered) defines.emplace_back("HAMMERED");
    const Program& program = use("fibre.frag", defines);
    setFibre(program, look, zone);
    return program;
}

const Program& ScenePasses::useFill(const scene::FillLook& look, bool fine) {
    std::vector<std::string> defines;
    if (look.opalescent) defines.emplace_back("OPALESCENT");
    if (fine) defines.emplace_back("FINE");
    const Program& program = use("fill.frag", defines);
    setFill(program, look);
    return program;
}

const Program& ScenePasses::useGem(const scene::GemLook& look, const BodyBuffers& body,
                                   const PassOptions& options) {
    std::vector<std::string> defines{"MOST_FACETS " + std::to_string(scene::kMostFacets)};
    if (look.cloud != trade::LinearRgb{}) defines.emplace_back("CLOUD");
    if (look.opalescent) defines.emplace_back("OPALESCENT");
    if (options.fine && look.dispersion > 0 && !look.dome) defines.emplace_back("DISPERSED");
    const Program& program = use(look.dome ? "cabochon.frag" : "gem.frag", defines);
    setGem(program, look, *body.mesh, options);
    glBindBufferBase(GL_UNIFORM_BUFFER, kFacetBlock, body.facets);
    return program;
}

const Program& ScenePasses::useWallMap(const scene::WallScale& scale) {
    const Program& program = use("wall_map.frag");
    program.set("wallScale", std::array{toFloat(scale.least), toFloat(scale.most)});
    glActiveTexture(GL_TEXTURE0 + kSourceUnit);
    glBindTexture(GL_TEXTURE_2D, scale.twoSided ? deviationColours_ : wallColours_);
    return program;
}

const Program& ScenePasses::useMaterial(const BodyBuffers& body, scene::Zone zone,
                                        const std::optional<scene::WallScale>& wallMap,
                                        const PassOptions& options) {
    if (const auto* gem = std::get_if<scene::GemLook>(&body.material)) return useGem(*gem, body, options);
    if (const auto* fill = std::get_if<scene::FillLook>(&body.material)) return useFill(*fill, options.fine);
    if (wallMap && body.mesh->hasWalls) return useWallMap(*wallMap);
    if (const auto* fibre = std::get_if<scene::FibreLook>(&body.material)) return useFibre(*fibre, zone);
    return useMetal(std::get<scene::MetalLook>(body.material), zone, body.skin);
}

void ScenePasses::drawBody(const scene::View& view, geometry::Vec3 away, const BodyBuffers& body,
                           const PassOptions& options) {
    const bool whole = std::holds_alternative<scene::GemLook>(body.material);
    const std::vector<scene::CutPlane> cuts = whole ? std::vector<scene::CutPlane>{} : scene::cutPlanes(view);
    enableClipping(cuts.size());
    glBindVertexArray(body.layout);
    for (std::size_t zone = 0; zone < scene::kZones; ++zone) {
        const Runs& runs = body.zones[zone];
        if (runs.counts.empty()) continue;
        useMaterial(body, static_cast<scene::Zone>(zone), view.wallMap, options).set("shift", floats(away));
        drawRuns(runs);
    }
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        useMaterial(body, scene::Zone::Cuts, std::nullopt, options).set("shift", floats(away));
        drawCap(body, cuts, i);
    }
    enableClipping(0);
}

// The body's material must be in use. Where the ray to the eye leaves the body through more faces than it
// enters, the cut lies open. There the cut's plane is drawn with the body's material, except where other cuts
// remove it.
void ScenePasses::drawCap(const BodyBuffers& body, const std::vector<scene::CutPlane>& cuts,
                          std::size_t which) {
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
    for (const Runs& runs : body.zones)
        drawRuns(runs);

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

void ScenePasses::drawMarks(const PassFrame& frame) {
    const auto& [scene, tile, options, view] = frame;
    const scene::Size size = tile.whole;
    std::vector<MarkVertex> triangles = markTriangles(scene, view, size, options.scale);
    if (scene.view.wallMap && scene.view.wallMap->legend) {
        const auto legend = wallLegend(*scene.view.wallMap, size, legendPoint(size));
        triangles.insert(triangles.end(), legend.begin(), legend.end());
    }
    if (scene.view.scaleBar) {
        const auto bar = scaleBar(view.pixelsPerMm, size, legendPoint(size));
        triangles.insert(triangles.end(), bar.begin(), bar.end());
    }
    if (triangles.empty()) return;
    const TileClip c = tileClip(tile);
    for (MarkVertex& corner : triangles) {
        corner.position = {toFloat(c.scaleX * static_cast<double>(corner.position[0]) + c.shiftX),
                           toFloat(c.scaleY * static_cast<double>(corner.position[1]) + c.shiftY)};
    }
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

PassFrame ScenePasses::begin(const scene::Scene& scene, const Tile& tile, const PassOptions& options) {
    PassFrame frame{scene, tile, options, scene::viewpoint(scene, tile.whole)};
    setFrame(frame);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    return frame;
}

void ScenePasses::drawRing(const PassFrame& frame, const std::vector<BodyBuffers>& bodies) {
    glEnable(GL_CULL_FACE);
    glCullFace(GL_BACK);
    // Stones, tubes and fills come before the band, because they hide it.
    for (std::size_t i = bodies.size(); i-- > 0;)
        drawBody(frame.scene.view, scene::shift(frame.scene, frame.scene.bodies[i]), bodies[i],
                 frame.options);
    glDisable(GL_CULL_FACE);
}

void ScenePasses::draw(const PassFrame& frame, const std::vector<BodyBuffers>& bodies) {
    drawRing(frame, bodies);
    drawBackground(frame);
    drawMarks(frame);
}

}  // namespace bandwright::render
