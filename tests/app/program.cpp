#include "program.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace bandwright::app {

namespace fs = std::filesystem;

ScratchFolder::ScratchFolder() {
    std::string name = (fs::temp_directory_path() / "bandwright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no scratch folder");
    path_ = name;
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
}

void expectRefused(const Outcome& outcome, const std::string& mentions) {
    EXPECT_EQ(outcome.code, 2) << outcome.err;
    EXPECT_EQ(outcome.out, "");
    EXPECT_EQ(std::ranges::count(outcome.err, '\n'), 1) << outcome.err;
    EXPECT_TRUE(outcome.err.starts_with("bandwright: ")) << outcome.err;
    EXPECT_NE(outcome.err.find(mentions), std::string::npos) << outcome.err;
}

std::string readFile(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void writeFile(const fs::path& file, std::string_view text) {
    std::ofstream(file, std::ios::binary) << text;
}

Outcome runProgram(const std::vector<std::string>& command, const Variables& variables) {
    const ScratchFolder folder;
    const std::string out = folder / "out", err = folder / "err";
    const pid_t child = fork();
    if (child == 0) {
        for (const auto& [name, value] : variables) {
            value.empty() ? unsetenv(name.c_str()) : setenv(name.c_str(), value.c_str(), 1);
        }
        dup2(open("/dev/null", O_RDONLY | O_CLOEXEC), STDIN_FILENO);
        dup2(open(out.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600), STDOUT_FILENO);
        dup2(open(err.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600), STDERR_FILENO);
        std::vector<char*> arguments;
        for (const std::string& argument : command)
            arguments.push_back(const_cast<char*>(argument.c_str()));
        arguments.push_back(nullptr);
        execvp(arguments[0], arguments.data());
        _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, readFile(out), readFile(err)};
}

Outcome run(std::vector<std::string> arguments, const Variables& variables) {
    arguments.insert(arguments.begin(), BANDWRIGHT_PROGRAM);
    return runProgram(arguments, variables);
}

std::string sample(std::string_view name) {
    return std::string(BANDWRIGHT_MODELS) + "/" + std::string(name) + ".ring.json";
}

std::string changedSample(const ScratchFolder& folder, std::string_view name, std::string_view from,
                          std::string_view to) {
    std::string text = readFile(sample(name));
    const std::size_t at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("the sample does not hold " + std::string(from));
    text.replace(at, from.size(), to);
    const fs::path file = folder / "changed.ring.json";
    writeFile(file, text);
    return file;
}

}  // namespace bandwright::app
