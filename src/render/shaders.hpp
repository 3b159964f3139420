#pragma once

#include <array>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "gl_objects.hpp"

namespace bandwright::render {

/// The text of shaders/NAME with its `#include "OTHER"` lines replaced by those files' text, each taken once,
/// after the `defines`. Read from `folder`, or from the program itself when that is empty. Throws
/// std::runtime_error for an unknown name.
std::string shaderText(const std::string& name, const std::filesystem::path& folder,
                       const std::vector<std::string>& defines = {});

/// The time at which the newest file of the folder was written.
std::filesystem::file_time_type newestShader(const std::filesystem::path& folder);

/// A linked program and the places of its uniforms.
class Program {
  public:
    Program() = default;
    /// Compiles shaders/VERTEX and shaders/FRAGMENT, both with these names defined. Throws std::runtime_error
    /// with the compiler's message.
    Program(const std::string& vertex, const std::string& fragment, const std::filesystem::path& folder,
            const std::vector<std::string>& defines = {});

    void use() const { glUseProgram(program_); }
    /// The program must be in use. A name that the compiler has optimised away is ignored.
    void set(const char* name, int value) const;
    void set(const char* name, float value) const;
    void set(const char* name, const std::array<float, 2>& value) const;
    void set(const char* name, const std::array<float, 3>& value) const;
    void set(const char* name, const std::array<double, 3>& value) const;

  private:
    GLint at(const char* name) const;

    GlProgram program_;
    std::map<std::string, GLint, std::less<>> uniforms_;
};

/// Uniform blocks and texture units, the same in every program.
inline constexpr GLuint kFrameBlock = 0, kFacetBlock = 1;
inline constexpr int kStudioUnit = 0, kReflectanceUnit = 1, kFloorUnit = 2, kSourceUnit = 3;

}  // namespace bandwright::render
