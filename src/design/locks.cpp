#include "design/locks.hpp"

#include <algorithm>
#include <vector>

#include "base/wording.hpp"
#include "design/field_table.hpp"
#include "same_at.hpp"

namespace bandwright::design {

namespace {

bool hasLockIn(const Design& design, std::string_view list) {
    return std::ranges::any_of(design.locked,
                               [&](const std::string& path) { return path.starts_with(list); });
}

}  // namespace

bool isLocked(const Design& design, std::string_view path) {
    return std::ranges::find(design.locked, path) != design.locked.end();
}

void setLocked(Design& design, std::string_view path, bool locked) {
    std::erase(design.locked, path);
    if (locked) design.locked.emplace_back(path);
}

std::optional<std::string> lockComplaint(const Design& design, std::string_view path) {
    if (fieldAt(design, path)) return std::nullopt;
    const std::vector<Field> fields = fieldsIn(design);
    std::vector<std::string_view> paths;
    paths.reserve(fields.size());
    for (const Field& field : fields)
        paths.push_back(field.path);
    const auto near = base::nearestNames(std::string(path), paths, 3);
    return "is " + base::inQuotes(std::string(path)) + ", which names no field of this design; " +
           (near.empty() ? "allowed: a path such as 'band.width'"
                         : "did you mean " + base::inWords(near, "or") + "?");
}

bool keepsLocked(const Design& design, const Design& other) {
    if (design.locked.empty()) return true;
    // With an item of a list less, the paths of those after it are others.
    if (design.channels.size() != other.channels.size() && hasLockIn(design, "channels[")) return false;
    if (design.settings.size() != other.settings.size() && hasLockIn(design, "settings[")) return false;
    Design one = design, two = other;
    return std::ranges::all_of(design.locked,
                               [&](const std::string& path) { return isSameAt(one, two, path); });
}

Design withLockedOf(const Design& design, Design to) {
    Design from = design;
    for (const std::string& path : design.locked) {
        const FieldValue there = valueAt(to, path), value = valueAt(from, path);
        if (there.index() == value.index()) assign(there, value);
    }
    return to;
}

void dropLostLocks(Design& design) {
    std::erase_if(design.locked, [&](const std::string& path) { return !fieldAt(design, path); });
}

void dropLocksOf(Design& design, std::string_view list, std::size_t at) {
    const auto itemOf = [&](std::size_t i) { return std::string(list) + "[" + std::to_string(i) + "]"; };
    std::vector<std::string> kept;
    for (const std::string& path : design.locked) {
        if (covers(itemOf(at), path)) continue;
        std::string moved = path;
        if (path.starts_with(std::string(list) + "[")) {
            const std::size_t i = std::stoul(path.substr(list.size() + 1));
            if (i > at) moved.replace(0, itemOf(i).size(), itemOf(i - 1));
        }
        kept.push_back(moved);
    }
    design.locked = std::move(kept);
}

}  // namespace bandwright::design
