#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "body_buffers.hpp"
#include "gl_objects.hpp"
#include "render/renderer.hpp"
#include "scene/scene.hpp"
#include "shaders.hpp"

namespace bandwright::render {

/// The settings of one pass over the picture: how much work goes into it.
struct PassOptions {
    int number = 0;                  ///< of the pass, from 0
    std::array<double, 2> jitter{};  ///< shift of the picture, pixels, -0.5..0.5
    double hue = 0;     ///< shift of the wavelengths light is traced at, -0.5..0.5 of their distance
    int bounces = 4;    ///< inside a stone
    double scale = 1;   ///< pixels drawn for each one shown, for marks
    bool fine = false;  ///< look deep into a fill, trace a stone at three wavelengths
};

/// One pass under way.
struct PassFrame {
    const scene::Scene& scene;
    Tile tile;
    PassOptions options;
    scene::Viewpoint view;
};

/// Draws a scene onto the bound framebuffer, which has been cleared.
class ScenePasses {
  public:
    /// `defines` hold for the shaders of all bodies.
    explicit ScenePasses(const std::filesystem::path& shaderFolder, std::vector<std::string> defines = {});

    /// The same from the folder's present shaders.
    ScenePasses reloaded() const;

    /// The frame holds a reference to the scene and lasts until the next one begins.
    PassFrame begin(const scene::Scene& scene, const Tile& tile, const PassOptions& options);
    void drawRing(const PassFrame& frame, const std::vector<BodyBuffers>& bodies);
    /// Backdrop and floor, behind what has been drawn.
    void drawBackground(const PassFrame& frame);
    /// Witness lines, legend and scale bar, over what has been drawn.
    void drawMarks(const PassFrame& frame);
    /// All of them.
    void draw(const PassFrame& frame, const std::vector<BodyBuffers>& bodies);
    /// A body laid flat (scene/unwrap.hpp) over the whole of what is bound, where BAKED is defined.
    /// `glowing`: the light that it gives in the dark, and nothing else.
    void drawFlat(const BodyBuffers& body, const scene::Extent& extent, bool glowing);

  private:
    void setFrame(const PassFrame& frame);
    void drawBody(const scene::View& view, geometry::Vec3 away, const BodyBuffers& body,
                  const PassOptions& options);
    void drawCap(const BodyBuffers& body, const std::vector<scene::CutPlane>& cuts, std::size_t which);

    // Each leaves a program in use in which only the body's shift is still to be set.
    const Program& useMaterial(const BodyBuffers& body, scene::Zone zone,
                               const std::optional<scene::WallScale>& wallMap, const PassOptions& options);
    const Program& useMetal(const scene::MetalLook& look, scene::Zone zone, GLuint skin);
    const Program& useFibre(const scene::FibreLook& look, scene::Zone zone);
    const Program& useFill(const scene::FillLook& look, bool fine);
    const Program& useGem(const scene::GemLook& look, const BodyBuffers& body, const PassOptions& options);
    const Program& useWallMap(const scene::WallScale& scale);
    const Program& use(const std::string& fragment, const std::vector<std::string>& defines = {});

    std::filesystem::path shaderFolder_;
    std::vector<std::string> defines_;
    std::map<std::pair<std::string, std::vector<std::string>>, Program>
        bodyPrograms_;  // made when first used
    Program backdrop_, floor_, mark_;
    GlVertexArray plain_;  ///< for shapes the shaders make by themselves
    GlVertexArray markLayout_, capLayout_;
    GlBuffer frame_, marks_, cap_;
    GlTexture wallColours_, deviationColours_;
};

}  // namespace bandwright::render
