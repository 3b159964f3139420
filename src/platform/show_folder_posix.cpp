#include "platform/show_folder.hpp"

#include <spawn.h>
#include <sys/wait.h>

#include <array>
#include <string>

// NOLINTNEXTLINE(readability-redundant-declaration): POSIX leaves the declaration to the program
extern char** environ;

namespace bandwright::platform {

bool showFolder(const std::filesystem::path& folder) {
    // The shell ends at once and leaves what it began to run alone, so nobody has to wait for that.
    std::string shell = "/bin/sh", flag = "-c", name = "sh", path = folder.string();
    std::string script =
        "command -v xdg-open >/dev/null || exit 1; xdg-open \"$1\" </dev/null >/dev/null 2>&1 &";
    const std::array<char*, 6> call = {shell.data(), flag.data(), script.data(),
                                       name.data(),  path.data(), nullptr};
    pid_t child = 0;
    if (::posix_spawn(&child, shell.c_str(), nullptr, nullptr, call.data(), environ) != 0) return false;
    int status = 0;
    return ::waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace bandwright::platform
