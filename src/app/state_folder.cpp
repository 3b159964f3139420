#include "app/state_folder.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/input_error.hpp"
#include "platform/atomic_file.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

using Json = nlohmann::ordered_json;

/// Throws InputError when the folder can neither be found nor made.
void requireFolder(const fs::path& folder) {
    std::error_code error;
    fs::create_directories(folder, error);
    if (error)
        throw base::InputError("The folder " + folder.string() + " cannot be made: " + error.message() + ".");
}

bool isRecovery(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.starts_with("recovery-") && name.ends_with(".json");
}

std::optional<platform::FileLock> lockOf(const fs::path& stored) {
    return platform::FileLock::tryTake(fs::path(stored) += ".lock");
}

/// The object stored in the file; null when there is none that can be read.
Json readObject(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    Json json = Json::parse(text, nullptr, false);
    return json.is_object() ? json : Json();
}

KeptSteps stepsOf(const Json& json) {
    KeptSteps steps;
    const auto designs = json.find("steps"), place = json.find("place");
    if (designs == json.end() || !designs->is_array() || place == json.end() || !place->is_number_unsigned())
        return {};
    for (const Json& design : *designs) {
        if (!design.is_string()) return {};
        steps.designs.push_back(design.get<std::string>());
    }
    steps.place = place->get<std::size_t>();
    return steps.place < steps.designs.size() ? steps : KeptSteps();
}

void writeObject(const fs::path& file, const Json& json) {
    requireFolder(file.parent_path());
    platform::writeFileAtomically(file, json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace

void remember(Settings& settings, const fs::path& file) {
    if (file.empty()) return;
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
    if (const auto dark = json.find("dark"); dark != json.end() && dark->is_boolean())
        settings.isDark = dark->get<bool>();
    if (const auto folded = json.find("folded"); folded != json.end() && folded->is_array())
        for (const Json& group : *folded)
            if (group.is_string()) settings.folded.insert(group.get<std::string>());
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
                                         {"dark", settings.isDark},
                                         {"folded", settings.folded},
                                         {"recent", recent}});
}

RecoveryPlace newRecoveryPlace(const fs::path& folder) {
    constexpr int kMostTried = 1000;
    requireFolder(folder);
    for (int i = 1; i <= kMostTried; ++i) {
        const fs::path stored = folder / ("recovery-" + std::to_string(i) + ".json");
        std::optional<platform::FileLock> lock = lockOf(stored);
        std::error_code ignored;
        if (lock && !fs::exists(stored, ignored)) return {stored, *std::move(lock)};
    }
    throw base::InputError("Unsaved work cannot be kept in " + folder.string() +
                           ": no file can be made there.");
}

void storeRecovery(const RecoveryPlace& place, const fs::path& file, const std::string& text,
                   const KeptSteps& steps) {
    writeObject(
        place.stored,
        {{"file", file.string()}, {"design", text}, {"steps", steps.designs}, {"place", steps.place}});
}

void dropRecovery(RecoveryPlace place) {
    std::error_code ignored;
    fs::remove(place.stored, ignored);
}

std::vector<Recovery> findRecoveries(const fs::path& folder) {
    std::vector<std::pair<fs::file_time_type, Recovery>> found;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        if (!isRecovery(entry.path())) continue;
        std::optional<platform::FileLock> lock = lockOf(entry.path());
        if (!lock) continue;
        const Json json = readObject(entry.path());
        if (!json.is_object() || !json.contains("design") || !json["design"].is_string()) continue;
        const auto file = json.find("file");
        found.emplace_back(entry.last_write_time(error),
                           Recovery{{entry.path(), *std::move(lock)},
                                    file != json.end() && file->is_string() ? file->get<std::string>() : "",
                                    json["design"].get<std::string>(),
                                    stepsOf(json)});
    }
    std::ranges::sort(found, {}, [](const auto& item) { return item.first; });
    std::vector<Recovery> recoveries;
    recoveries.reserve(found.size());
    for (auto& item : found)
        recoveries.push_back(std::move(item.second));
    return recoveries;
}

}  // namespace bandwright::app
