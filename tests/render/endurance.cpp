#include <glad/gl.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "design/design_file.hpp"
#include "geometry/ring.hpp"
#include "platform/offscreen_context.hpp"
#include "render/renderer.hpp"

/// Turns a sample through this many frames (by default 10,000), changing the design, the light and the size
/// on the way, and ends with 1 when OpenGL reports an error or the memory grows. Usage: endurance DESIGN
/// [FRAMES]
namespace {

long residentKb() {
    long pages = 0, resident = 0;
    std::ifstream("/proc/self/statm") >> pages >> resident;
    return resident * (sysconf(_SC_PAGESIZE) / 1024);
}

int errors = 0;

void report(GLenum source, GLenum type, GLuint, GLenum, GLsizei, const GLchar* words, const void*) {
    if (source == GL_DEBUG_SOURCE_SHADER_COMPILER || type != GL_DEBUG_TYPE_ERROR) return;
    std::fprintf(stderr, "%s\n", words);
    ++errors;
}

}  // namespace

int main(int argc, char** argv) {
    using namespace bandwright;
    using namespace bandwright::render;
    constexpr long kGrowthKb = 8192;
    if (argc < 2) return 2;
    const int frames = argc > 2 ? std::atoi(argv[2]) : 10000;
    const platform::OffscreenContext context({.debug = true});
    Renderer renderer(context.loader());
    if (GLAD_GL_KHR_debug != 0) {
        glEnable(GL_DEBUG_OUTPUT);
        glDebugMessageCallback(report, nullptr);
    }
    design::Design design = design::readDesign(argv[1]);
    scene::Scene scene = scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue());
    long warm = 0;
    for (int i = 0; i < frames; ++i) {
        scene.view.camera.azimuth += 1;
        scene.view.lightsOut = i % 40 == 7;
        scene.view.studio = static_cast<scene::Studio>(i / 50 % 4);
        scene.view.cutThrough = i % 30 == 11 ? std::optional(90.0) : std::nullopt;
        if (i % 25 == 0) {
            design.band.width = 7 + 0.01 * (i % 100);
            const scene::View view = scene.view;
            scene = scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue(), view);
        }
        const scene::Size size = i % 200 < 100 ? scene::Size{160, 120} : scene::Size{120, 90};
        renderer.draw(scene, size, i % 10 == 9 ? Quality::Still : Quality::Moving);
        if (i % 100 == 0) renderer.read();
        if (i == frames / 5) warm = residentKb();
        if (glGetError() != GL_NO_ERROR) ++errors;
    }
    const long grown = residentKb() - warm;
    std::printf("%d frames, %d OpenGL errors, memory grew by %ld kB after the first fifth\n", frames, errors,
                grown);
    return errors > 0 || grown > kGrowthKb ? 1 : 0;
}
