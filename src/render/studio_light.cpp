#include "studio_light.hpp"

#include <algorithm>

#include "fresnel.hpp"

namespace bandwright::render {

namespace {

constexpr GLsizei kSide = 128;  // texels of a cube face at its sharpest
// Roughness of each level after the sharp one (light.glsl: GLOSSY..MATT).
constexpr std::array<float, 5> kRoughness = {0.16F, 0.32F, 0.5F, 0.72F, 1.0F};
constexpr auto kBlurLevels = static_cast<GLint>(kRoughness.size());
constexpr GLint kRawLevels = 8;  // down to one texel
constexpr scene::Size kFloorSize{64, 64};
constexpr int kTableSide = 32, kTableSamples = 64;

GlTexture cube(GLint lastLevel, GLint filter) {
    auto texture = GlTexture::make();
    glBindTexture(GL_TEXTURE_CUBE_MAP, texture);
    for (GLint level = 0; level <= lastLevel; ++level) {
        for (GLenum face = 0; face < 6; ++face) {
            glTexImage2D(GL_TEXTURE_CUBE_MAP_POSITIVE_X + face, level, GL_RGBA16F, kSide >> level,
                         kSide >> level, 0, GL_RGBA, GL_FLOAT, nullptr);
        }
    }
    glTexParameteri(GL_TEXTURE_CUBE_MAP, GL_TEXTURE_MAX_LEVEL, lastLevel);
    glTexParameteri(GL_TEXTURE_CUBE_MAP, GL_TEXTURE_MIN_FILTER, filter);
    glTexParameteri(GL_TEXTURE_CUBE_MAP, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    return texture;
}

GlTexture tableTexture() {
    const ReflectanceTable table = reflectanceTable(kTableSide, kTableSamples);
    auto texture = GlTexture::make();
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA16F, table.side, table.side, 0, GL_RGBA, GL_FLOAT,
                 table.rows.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return texture;
}

void bindTexture(int unit, GLenum target, GLuint texture) {
    glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(unit));
    glBindTexture(target, texture);
}

// Draws over each face of one level of the cube.
void drawFaces(const Program& program, GLuint texture, GLint level) {
    glViewport(0, 0, kSide >> level, kSide >> level);
    for (int face = 0; face < 6; ++face) {
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0,
                               GL_TEXTURE_CUBE_MAP_POSITIVE_X + static_cast<GLenum>(face), texture, level);
        program.set("face", face);
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }
}

}  // namespace

StudioLight::StudioLight(const std::filesystem::path& shaderFolder)
    : studioProgram_("screen.vert", "studio.frag", shaderFolder),
      blurProgram_("screen.vert", "blur.frag", shaderFolder),
      floorProgram_("screen.vert", "floor_shade.frag", shaderFolder),
      screen_(GlVertexArray::make()),
      framebuffer_(GlFramebuffer::make()),
      raw_(cube(kRawLevels - 1, GL_LINEAR_MIPMAP_LINEAR)),
      blurred_(cube(kBlurLevels, GL_LINEAR_MIPMAP_NEAREST)),
      reflectance_(tableTexture()),
      floorShade_(textureTarget(GL_R8, kFloorSize)) {}

void StudioLight::drawStudio(scene::Studio studio) {
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    studioProgram_.use();
    studioProgram_.set("studioKind", static_cast<int>(studio));
    drawFaces(studioProgram_, raw_, 0);
    drawFaces(studioProgram_, blurred_, 0);
    requireComplete();
    bindTexture(kSourceUnit, GL_TEXTURE_CUBE_MAP, raw_);
    glGenerateMipmap(GL_TEXTURE_CUBE_MAP);
    blurProgram_.use();
    blurProgram_.set("sourceSide", static_cast<float>(kSide));
    for (GLint level = 1; level <= kBlurLevels; ++level) {
        blurProgram_.set("roughness", kRoughness[static_cast<std::size_t>(level) - 1]);
        drawFaces(blurProgram_, blurred_, level);
    }
    bindTexture(kSourceUnit, GL_TEXTURE_CUBE_MAP, 0);
}

void StudioLight::drawFloorShade(scene::Studio studio, float halfWidth, float boreRadius) {
    glBindFramebuffer(GL_FRAMEBUFFER, floorShade_.framebuffer);
    glViewport(0, 0, kFloorSize.width, kFloorSize.height);
    floorProgram_.use();
    floorProgram_.set("shaded", studio == scene::Studio::Even ? 0 : 1);
    floorProgram_.set("halfWidth", halfWidth);
    floorProgram_.set("boreRadius", boreRadius);
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

void StudioLight::bind(scene::Studio studio, const scene::Extent& extent) {
    const std::array<float, 2> shape = {static_cast<float>(extent.halfWidth / -extent.floor),
                                        static_cast<float>(extent.boreRadius / -extent.floor)};
    glDisable(GL_BLEND);
    glDisable(GL_DEPTH_TEST);
    glBindVertexArray(screen_);
    if (drawn_ != studio || shadedFor_ != shape) drawFloorShade(studio, shape[0], shape[1]);
    if (drawn_ != studio) drawStudio(studio);
    drawn_ = studio;
    shadedFor_ = shape;
    bindTexture(kStudioUnit, GL_TEXTURE_CUBE_MAP, blurred_);
    bindTexture(kReflectanceUnit, GL_TEXTURE_2D, reflectance_);
    bindTexture(kFloorUnit, GL_TEXTURE_2D, floorShade_.texture);
}

}  // namespace bandwright::render
