#include "shaders.hpp"

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>

#include "embedded_shaders.hpp"

namespace bandwright::render {

namespace {

std::string fileText(const std::string& name, const std::filesystem::path& folder) {
    if (folder.empty()) {
        const auto found = std::find_if(std::begin(kEmbeddedShaders), std::end(kEmbeddedShaders),
                                        [&](const EmbeddedShader& shader) { return shader.name == name; });
        if (found == std::end(kEmbeddedShaders))
            throw std::runtime_error("There is no shader \"" + name + "\".");
        return std::string(found->text);
    }
    std::ifstream file(folder / name);
    if (!file) throw std::runtime_error("Cannot read the shader " + (folder / name).string() + ".");
    return {std::istreambuf_iterator<char>(file), {}};
}

void expand(const std::string& name, const std::filesystem::path& folder, std::set<std::string>& taken,
            std::string& out) {
    if (!taken.insert(name).second) return;
    std::istringstream lines(fileText(name, folder));
    constexpr std::string_view kInclude = "#include \"";
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with(kInclude)) {
            expand(line.substr(kInclude.size(), line.rfind('"') - kInclude.size()), folder, taken, out);
        } else {
            out += line + '\n';
        }
    }
}

void compile(GLuint program, GLenum kind, const std::string& name, const std::string& text) {
    const std::string whole = firstLines(kind) + text;
    const char* start = whole.c_str();
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &start, nullptr);
    glCompileShader(shader);
    GLint compiled = GL_FALSE;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &compiled);
    std::array<char, 4096> words{};
    if (compiled == GL_FALSE)
        glGetShaderInfoLog(shader, static_cast<GLsizei>(words.size()), nullptr, words.data());
    glAttachShader(program, shader);
    glDeleteShader(shader);  // lives on as long as the program
    if (compiled == GL_FALSE)
        throw std::runtime_error("The shader " + name + " does not compile: " + words.data());
}

void bindBlock(GLuint program, const char* name, GLuint block) {
    const GLuint index = glGetUniformBlockIndex(program, name);
    if (index != GL_INVALID_INDEX) glUniformBlockBinding(program, index, block);
}

}  // namespace

std::string shaderText(const std::string& name, const std::filesystem::path& folder,
                       const std::vector<std::string>& defines) {
    std::set<std::string> taken;
    std::string text;
    for (const std::string& define : defines)
        text += "#define " + define + "\n";
    expand(name, folder, taken, text);
    return text;
}

std::filesystem::file_time_type newestShader(const std::filesystem::path& folder) {
    auto newest = std::filesystem::file_time_type::min();
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        newest = std::max(newest, entry.last_write_time());
    }
    return newest;
}

Program::Program(const std::string& vertex, const std::string& fragment, const std::filesystem::path& folder,
                 const std::vector<std::string>& defines)
    : program_(GlProgram::make()) {
    compile(program_, GL_VERTEX_SHADER, vertex, shaderText(vertex, folder, defines));
    compile(program_, GL_FRAGMENT_SHADER, fragment, shaderText(fragment, folder, defines));
    glLinkProgram(program_);
    GLint linked = GL_FALSE;
    glGetProgramiv(program_, GL_LINK_STATUS, &linked);
    if (linked == GL_FALSE) {
        std::array<char, 4096> words{};
        glGetProgramInfoLog(program_, static_cast<GLsizei>(words.size()), nullptr, words.data());
        throw std::runtime_error("The shaders " + vertex + " and " + fragment +
                                 " do not link: " + words.data());
    }
    bindBlock(program_, "Frame", kFrameBlock);
    bindBlock(program_, "Facets", kFacetBlock);
    GLint count = 0;
    glGetProgramiv(program_, GL_ACTIVE_UNIFORMS, &count);
    for (GLint i = 0; i < count; ++i) {
        std::array<char, 128> name{};
        GLint size = 0;
        GLenum type = 0;
        glGetActiveUniform(program_, static_cast<GLuint>(i), static_cast<GLsizei>(name.size()), nullptr,
                           &size, &type, name.data());
        uniforms_[name.data()] = glGetUniformLocation(program_, name.data());
    }
    use();
    set("studio", kStudioUnit);
    set("reflectanceTable", kReflectanceUnit);
    set("floorShade", kFloorUnit);
    set("source", kSourceUnit);
}

GLint Program::at(const char* name) const {
    const auto found = uniforms_.find(std::string_view(name));
    return found == uniforms_.end() ? -1 : found->second;
}

void Program::set(const char* name, int value) const {
    glUniform1i(at(name), value);
}
void Program::set(const char* name, float value) const {
    glUniform1f(at(name), value);
}
void Program::set(const char* name, const std::array<float, 2>& v) const {
    glUniform2f(at(name), v[0], v[1]);
}
void Program::set(const char* name, const std::array<float, 3>& v) const {
    glUniform3f(at(name), v[0], v[1], v[2]);
}
void Program::set(const char* name, const std::array<double, 3>& v) const {
    set(name, std::array{static_cast<float>(v[0]), static_cast<float>(v[1]), static_cast<float>(v[2])});
}

}  // namespace bandwright::render
