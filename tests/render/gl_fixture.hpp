#pragma once

#include <glad/gl.h>
#include <gtest/gtest.h>

#include <string>

#include "platform/offscreen_context.hpp"

namespace bandwright::render {

/// A context in which each OpenGL error fails the test with the driver's words.
class GlTest : public testing::Test {
  protected:
    void SetUp() override {
        gladLoadGL(context_.loader());
        if (GLAD_GL_KHR_debug == 0) return;
        glEnable(GL_DEBUG_OUTPUT);
        glEnable(GL_DEBUG_OUTPUT_SYNCHRONOUS);
        glDebugMessageCallback(
            [](GLenum source, GLenum type, GLuint, GLenum, GLsizei, const GLchar* words, const void*) {
                if (source != GL_DEBUG_SOURCE_SHADER_COMPILER && type == GL_DEBUG_TYPE_ERROR)
                    ADD_FAILURE() << words;
            },
            nullptr);
    }
    void TearDown() override { EXPECT_EQ(glGetError(), static_cast<GLenum>(GL_NO_ERROR)); }

    platform::OffscreenContext context_{platform::OffscreenContext::Options{true}};
};

}  // namespace bandwright::render
