#include "platform/paths.hpp"

#include <fontconfig/fontconfig.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <system_error>

namespace bandwright::platform {

namespace {

/// What fontconfig would take for Inter; empty where it has no font at all.
std::filesystem::path nearestFont(bool bold) {
    FcPattern* wanted =
        FcPatternBuild(nullptr, FC_FAMILY, FcTypeString, "Inter", FC_FAMILY, FcTypeString, "sans-serif",
                       FC_WEIGHT, FcTypeInteger, bold ? FC_WEIGHT_DEMIBOLD : FC_WEIGHT_REGULAR, FC_SCALABLE,
                       FcTypeBool, FcTrue, static_cast<const char*>(nullptr));
    FcConfigSubstitute(nullptr, wanted, FcMatchPattern);
    FcDefaultSubstitute(wanted);
    FcResult result = FcResultMatch;
    FcPattern* found = FcFontMatch(nullptr, wanted, &result);
    std::filesystem::path file;
    FcChar8* path = nullptr;
    if (found != nullptr && FcPatternGetString(found, FC_FILE, 0, &path) == FcResultMatch)
        file = reinterpret_cast<const char*>(path);
    if (found != nullptr) FcPatternDestroy(found);
    FcPatternDestroy(wanted);
    return file;
}

/// Empty where there is no such file.
std::string bytesOf(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The program's folder under the one that the variable names, or else at this place in the home folder.
std::filesystem::path ownFolder(const char* variable, const char* inHome) {
    if (const char* named = std::getenv(variable); named != nullptr && *named == '/')
        return std::filesystem::path(named) / "bandwright";
    const std::filesystem::path home = homeFolder();
    return home.empty() ? home : home / inHome;
}

/// Where what belongs to the program lies once it is installed.
std::filesystem::path installedFolder() {
    std::error_code error;
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
    return program.parent_path().parent_path() / "share/bandwright";
}

/// The folder of the sources where it was built from them; in a release nowhere.
std::filesystem::path checkout(std::string_view folder) {
    const std::string_view root = BANDWRIGHT_CHECKOUT;
    return root.empty() ? std::filesystem::path() : std::filesystem::path(root) / folder;
}

}  // namespace

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
    return ownFolder("XDG_STATE_HOME", ".local/state/bandwright");
}

std::filesystem::path cacheFolder() {
    return ownFolder("XDG_CACHE_HOME", ".cache/bandwright");
}

std::filesystem::path samplesFolder() {
    std::error_code error;
    for (const std::filesystem::path& folder : {installedFolder() / "models", checkout("models")})
        if (std::filesystem::is_directory(folder, error)) return folder;
    return {};
}

std::string dataOf(std::string_view name) {
    for (const std::filesystem::path& folder : {installedFolder(), checkout("build/web")})
        if (std::string bytes = folder.empty() ? "" : bytesOf(folder / name); !bytes.empty()) return bytes;
    return {};
}

std::string fontOf(std::string_view name) {
    std::string bytes = bytesOf(std::filesystem::path(BANDWRIGHT_FONTS) / name);
    return bytes.empty() ? bytesOf(nearestFont(name.find("Bold") != std::string_view::npos)) : bytes;
}

}  // namespace bandwright::platform
