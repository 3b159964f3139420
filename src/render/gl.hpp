#pragma once

#ifdef __EMSCRIPTEN__
#include <GLES3/gl3.h>
#define GL_CLIP_DISTANCE0 0x3000  // WEBGL_clip_cull_distance counts as OpenGL does
#else
#include <glad/gl.h>
#endif

#include <string>
#include <vector>

#include "platform/gl_loader.hpp"

/// Where OpenGL 4.1 core and WebGL 2 differ, and nowhere else: the rest of this room uses what both have.
namespace bandwright::render {

/// Makes the functions of the current context known. Throws std::runtime_error when the context offers less
/// than the renderer needs.
void loadOpenGl(platform::GlLoader load);

/// Pixels are stored as shaders write them, and cube maps are filtered across their edges. WebGL 2 knows no
/// other way.
void setFixedState();

/// Triangles that lie together among a body's indices.
struct Runs {
    std::vector<GLsizei> counts;       ///< of indices
    std::vector<const void*> offsets;  ///< bytes from the first index
};

/// Draws triangles by the bound indices of 32 bits.
void drawRuns(const Runs& runs);

/// What a shader of this kind begins with: its language's version, and what only that one must be told.
std::string firstLines(GLenum kind);

/// Who draws, in the driver's words; empty where it does not tell.
std::string nameOfDrawer();

/// Returns when all that was asked for is drawn.
void finishDrawing();

}  // namespace bandwright::render
