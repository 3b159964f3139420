#include "path.hpp"

#include <charconv>

#include "design/field_table.hpp"

namespace bandwright::design {

namespace {

std::optional<PathPart> readPart(std::string_view text) {
    const std::size_t bracket = text.find('[');
    PathPart part{.key = text.substr(0, bracket), .place = {}};
    if (part.key.empty()) return std::nullopt;
    if (bracket == std::string_view::npos) return part;
    if (!text.ends_with(']')) return std::nullopt;
    const std::string_view place = text.substr(bracket + 1, text.size() - bracket - 2);
    if (place == "#") {
        part.isAnyPlace = true;
        return part;
    }
    std::size_t number = 0;
    const char* end = place.data() + place.size();
    if (const auto read = std::from_chars(place.data(), end, number);
        read.ec != std::errc() || read.ptr != end)
        return std::nullopt;
    part.place = number;
    return part;
}

bool covers(const PathPart& pattern, const PathPart& part, bool isLast) {
    if (pattern.key != part.key) return false;
    if (!pattern.hasPlace()) return isLast || !part.hasPlace();
    return pattern.isAnyPlace ? part.hasPlace() : pattern.place == part.place;
}

}  // namespace

std::optional<Path> Path::read(std::string_view text) {
    Path path;
    while (path.count_ < kMost) {
        const std::size_t dot = text.find('.');
        const std::optional<PathPart> part = readPart(text.substr(0, dot));
        if (!part) return std::nullopt;
        path.parts_[path.count_++] = *part;
        if (dot == std::string_view::npos) return path;
        text.remove_prefix(dot + 1);
    }
    return std::nullopt;
}

bool covers(std::string_view pattern, std::string_view path) {
    const std::optional<Path> outer = Path::read(pattern), inner = Path::read(path);
    if (!outer || !inner || outer->parts().size() > inner->parts().size()) return false;
    for (std::size_t i = 0; i < outer->parts().size(); ++i)
        if (!covers(outer->parts()[i], inner->parts()[i], i + 1 == outer->parts().size())) return false;
    return true;
}

std::string withoutPlaces(std::string_view path) {
    const std::optional<Path> read = Path::read(path);
    if (!read) return std::string(path);
    std::string pattern;
    for (const PathPart& part : read->parts()) {
        pattern.append(pattern.empty() ? "" : ".").append(part.key);
        if (part.hasPlace()) pattern += "[#]";
    }
    return pattern;
}

std::string withPlaces(std::string_view pattern, const std::vector<std::size_t>& places) {
    std::string path;
    auto place = places.begin();
    for (const char c : pattern) {
        if (c == '#' && place != places.end()) {
            path += std::to_string(*place++);
        } else {
            path += c;
        }
    }
    return path;
}

}  // namespace bandwright::design
