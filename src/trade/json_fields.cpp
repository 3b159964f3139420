#include "json_fields.hpp"

#include <set>

namespace bandwright::trade {

Region regionOf(const json& value, const JsonPlace& place) {
    if (value == "eu-uk") return Region::EuUk;
    if (value == "elsewhere") return Region::Elsewhere;
    place.refuse(shownJson(value), "'eu-uk' or 'elsewhere'");
}

json parsedOnce(std::string_view text, const std::string& file) {
    std::vector<std::set<std::string>> keys;
    const auto watch = [&](int, json::parse_event_t event, json& value) {
        if (event == json::parse_event_t::object_start) keys.emplace_back();
        if (event == json::parse_event_t::object_end) keys.pop_back();
        if (event == json::parse_event_t::key && !keys.back().insert(value.get<std::string>()).second) {
            throw base::InputError(file + ": the key " + shownJson(value) +
                                   " stands twice in one object; allowed is once");
        }
        return true;
    };
    try {
        return json::parse(text, watch);
    } catch (const json::exception& error) {
        // "[json.exception.parse_error.101] parse error at line 1, ..."
        const std::string_view what = error.what();
        throw base::InputError(file +
                               ": this is no JSON text: " + std::string(what.substr(what.find("] ") + 2)));
    }
}

}  // namespace bandwright::trade
