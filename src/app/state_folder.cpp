#include "app/state_folder.hpp"

#include <unistd.h>
#include <csignal>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/atomic_file.hpp"
#include "base/input_error.hpp"

namespace bandwright {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

namespace {

constexpr std::string_view kRecoveryPrefix = "recovery-";
constexpr std::string_view kRecoverySuffix = ".json";

fs::path recoveryFile(const fs::path& folder, long process) {
    return folder / (std::string(kRecoveryPrefix) + std::to_string(process) + std::string(kRecoverySuffix));
}

/// The number in "recovery-1234.json".
std::optional<long> processOf(const std::string& fileName) {
    if (!fileName.starts_with(kRecoveryPrefix) || !fileName.ends_with(kRecoverySuffix)) return std::nullopt;
    const char* first = fileName.data() + kRecoveryPrefix.size();
    const char* last = fileName.data() + fileName.size() - kRecoverySuffix.size();
    long process = 0;
    const auto [end, error] = std::from_chars(first, last, process);
    if (error != std::errc{} || end != last || process <= 0) return std::nullopt;
    return process;
}

bool runs(long process) {
    return kill(static_cast<pid_t>(process), 0) == 0 || errno == EPERM;
}

/// The object stored in the file; null when there is none that can be read.
Json readObject(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    Json json = Json::parse(text, nullptr, false);
    return json.is_object() ? json : Json();
}

void writeObject(const fs::path& file, const Json& json) {
    std::error_code error;
    fs::create_directories(file.parent_path(), error);
    if (error) {
        throw InputError("The folder " + file.parent_path().string() + " cannot be made: " + error.message() +
                         ".");
    }
    writeFileAtomically(file, json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace

fs::path stateFolder() {
    if (const char* state = std::getenv("XDG_STATE_HOME"); state != nullptr && *state == '/') {
        return fs::path(state) / "bandwright";
    }
    if (const char* home = std::getenv("HOME"); home != nullptr && *home == '/') {
        return fs::path(home) / ".local/state/bandwright";
    }
    return {};
}

void remember(Settings& settings, const fs::path& file) {
    std::erase(settings.recent, file);
    settings.recent.insert(settings.recent.begin(), file);
    if (settings.recent.size() > kMostRecent) settings.recent.resize(kMostRecent);
}

Settings readSettings(const fs::path& folder) {
    Settings settings;
    const Json json = readObject(folder / "window.json");
    const auto number = [&](const char* key, double least, double most, double otherwise) {
        const auto found = json.find(key);
        if (found == json.end() || !found->is_number()) return otherwise;
        const double value = found->get<double>();
        return value >= least && value <= most ? value : otherwise;
    };
    if (json.is_null()) return settings;
    settings.uiScale = number("ui-scale", 0.75, 3, 0);
    settings.width = static_cast<int>(number("width", 640, 16384, settings.width));
    settings.height = static_cast<int>(number("height", 480, 16384, settings.height));
    if (const auto recent = json.find("recent"); recent != json.end() && recent->is_array()) {
        for (const Json& file : *recent) {
            if (file.is_string() && settings.recent.size() < kMostRecent) {
                settings.recent.emplace_back(file.get<std::string>());
            }
        }
    }
    return settings;
}

void saveSettings(const fs::path& folder, const Settings& settings) {
    Json recent = Json::array();
    for (const fs::path& file : settings.recent)
        recent.push_back(file.string());
    writeObject(folder / "window.json", {{"ui-scale", settings.uiScale},
                                         {"width", settings.width},
                                         {"height", settings.height},
                                         {"recent", recent}});
}

void writeRecovery(const fs::path& folder, const fs::path& file, const std::string& text) {
    writeObject(recoveryFile(folder, getpid()), {{"file", file.string()}, {"design", text}});
}

void dropRecovery(const fs::path& folder) {
    std::error_code ignored;
    fs::remove(recoveryFile(folder, getpid()), ignored);
}

std::vector<Recovery> findRecoveries(const fs::path& folder) {
    std::vector<std::pair<fs::file_time_type, Recovery>> found;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        const auto process = processOf(entry.path().filename().string());
        if (!process || runs(*process)) continue;
        const Json json = readObject(entry.path());
        if (!json.is_object() || !json.contains("design") || !json["design"].is_string()) continue;
        const auto file = json.find("file");
        found.push_back(
            {entry.last_write_time(error),
             {entry.path(), file != json.end() && file->is_string() ? file->get<std::string>() : "",
              json["design"].get<std::string>()}});
    }
    std::ranges::sort(found, {}, [](const auto& item) { return item.first; });
    std::vector<Recovery> recoveries;
    recoveries.reserve(found.size());
    for (auto& item : found)
        recoveries.push_back(std::move(item.second));
    return recoveries;
}

}  // namespace bandwright
