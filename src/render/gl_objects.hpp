#pragma once

#include <utility>

#include "gl.hpp"

namespace bandwright::render {

/// Owns one OpenGL object; its context must be current when it is made and when it is destroyed.
template <GLuint (*Make)(), void (*Delete)(GLuint)>
class GlObject {
  public:
    GlObject() = default;
    static GlObject make() {
        GlObject object;
        object.name_ = Make();
        return object;
    }
    ~GlObject() { reset(); }
    GlObject(GlObject&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
    GlObject& operator=(GlObject&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    operator GLuint() const { return name_; }  // NOLINT(google-explicit-constructor): stands for the name
    void reset() {
        if (name_ != 0) Delete(std::exchange(name_, 0));
    }

  private:
    GLuint name_ = 0;
};

namespace gl {

inline GLuint makeBuffer() {
    GLuint name = 0;
    glGenBuffers(1, &name);
    return name;
}
inline GLuint makeVertexArray() {
    GLuint name = 0;
    glGenVertexArrays(1, &name);
    return name;
}
inline GLuint makeTexture() {
    GLuint name = 0;
    glGenTextures(1, &name);
    return name;
}
inline GLuint makeFramebuffer() {
    GLuint name = 0;
    glGenFramebuffers(1, &name);
    return name;
}
inline GLuint makeRenderbuffer() {
    GLuint name = 0;
    glGenRenderbuffers(1, &name);
    return name;
}
inline GLuint makeProgram() {
    return glCreateProgram();
}
inline void deleteBuffer(GLuint name) {
    glDeleteBuffers(1, &name);
}
inline void deleteVertexArray(GLuint name) {
    glDeleteVertexArrays(1, &name);
}
inline void deleteTexture(GLuint name) {
    glDeleteTextures(1, &name);
}
inline void deleteFramebuffer(GLuint name) {
    glDeleteFramebuffers(1, &name);
}
inline void deleteRenderbuffer(GLuint name) {
    glDeleteRenderbuffers(1, &name);
}
inline void deleteProgram(GLuint name) {
    glDeleteProgram(name);
}

}  // namespace gl

using GlBuffer = GlObject<gl::makeBuffer, gl::deleteBuffer>;
using GlVertexArray = GlObject<gl::makeVertexArray, gl::deleteVertexArray>;
using GlTexture = GlObject<gl::makeTexture, gl::deleteTexture>;
using GlFramebuffer = GlObject<gl::makeFramebuffer, gl::deleteFramebuffer>;
using GlRenderbuffer = GlObject<gl::makeRenderbuffer, gl::deleteRenderbuffer>;
using GlProgram = GlObject<gl::makeProgram, gl::deleteProgram>;

}  // namespace bandwright::render
