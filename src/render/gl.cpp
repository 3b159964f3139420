#include "gl.hpp"

#include <stdexcept>

#ifdef __EMSCRIPTEN__
#include <emscripten/html5.h>

#include <array>
#endif

namespace bandwright::render {

namespace {

std::string text(GLenum name) {
    const auto* found = reinterpret_cast<const char*>(glGetString(name));
    return found == nullptr ? "" : found;
}

}  // namespace

#ifdef __EMSCRIPTEN__

void loadOpenGl(platform::GlLoader /*load*/) {
    const EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = emscripten_webgl_get_current_context();
    const auto has = [&](const char* extension) {
        return emscripten_webgl_enable_extension(context, extension) == EM_TRUE;
    };
    if (context == 0 || !has("EXT_color_buffer_float"))
        throw std::runtime_error(
            "WebGL 2 with EXT_color_buffer_float is needed; this browser does not offer it.");
    has("WEBGL_clip_cull_distance");
    has("WEBGL_debug_renderer_info");
}

void setFixedState() {}

void drawRuns(const Runs& runs) {
    for (std::size_t i = 0; i < runs.counts.size(); ++i)
        glDrawElements(GL_TRIANGLES, runs.counts[i], GL_UNSIGNED_INT, runs.offsets[i]);
}

std::string firstLines(GLenum kind) {
    std::string lines = "#version 300 es\n";
    if (kind == GL_VERTEX_SHADER) lines += "#extension GL_ANGLE_clip_cull_distance : enable\n";
    return lines +
           "precision highp float;\nprecision highp int;\nprecision highp sampler2D;\n"
           "precision highp samplerCube;\n";
}

std::string nameOfDrawer() {
    constexpr GLenum kUnmaskedRenderer = 0x9246;  // WEBGL_debug_renderer_info
    return text(kUnmaskedRenderer);
}

void finishDrawing() {  // glFinish does not wait there; reading does
    std::array<GLubyte, 4> pixel{};
    glReadPixels(0, 0, 1, 1, GL_RGBA, GL_UNSIGNED_BYTE, pixel.data());
}

#else

void loadOpenGl(platform::GlLoader load) {
    // Once: the functions are the same for all contexts of the program, and one may be drawing on another
    // thread.
    [[maybe_unused]] static const int version = [&] {
        const int offered = gladLoadGL(load);
        if (offered < GLAD_MAKE_VERSION(4, 1)) {
            throw std::runtime_error("OpenGL 4.1 is needed; this graphics driver offers " +
                                     std::to_string(GLAD_VERSION_MAJOR(offered)) + "." +
                                     std::to_string(GLAD_VERSION_MINOR(offered)) + ".");
        }
        return offered;
    }();
}

void setFixedState() {
    glDisable(GL_FRAMEBUFFER_SRGB);
    glEnable(GL_TEXTURE_CUBE_MAP_SEAMLESS);
}

void drawRuns(const Runs& runs) {
    glMultiDrawElements(GL_TRIANGLES, runs.counts.data(), GL_UNSIGNED_INT, runs.offsets.data(),
                        static_cast<GLsizei>(runs.counts.size()));
}

std::string firstLines(GLenum /*kind*/) {
    return "#version 410 core\n";
}

std::string nameOfDrawer() {
    return text(GL_RENDERER);
}

void finishDrawing() {
    glFinish();
}

#endif

}  // namespace bandwright::render
