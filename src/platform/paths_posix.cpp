#include "platform/paths.hpp"

#include <cstdlib>
#include <system_error>

namespace bandwright::platform {

std::filesystem::path absolutePath(const std::filesystem::path& path) {
    std::error_code gone;
    const std::filesystem::path whole = std::filesystem::absolute(path, gone);
    return gone ? path : whole.lexically_normal();
}

std::filesystem::path homeFolder() {
    const char* home = std::getenv("HOME");
    return home != nullptr && *home == '/' ? std::filesystem::path(home) : std::filesystem::path();
}

std::filesystem::path stateFolder() {
    if (const char* state = std::getenv("XDG_STATE_HOME"); state != nullptr && *state == '/')
        return std::filesystem::path(state) / "bandwright";
    const std::filesystem::path home = homeFolder();
    return home.empty() ? home : home / ".local/state/bandwright";
}

std::filesystem::path fontFile(std::string_view name) {
    const std::filesystem::path file = std::filesystem::path(BANDWRIGHT_FONTS) / name;
    std::error_code error;
    return std::filesystem::is_regular_file(file, error) ? file : std::filesystem::path();
}

}  // namespace bandwright::platform
