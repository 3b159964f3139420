#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "workshop_table.hpp"

/// What a workshop tells as it is typed on one line, and back. What is typed becomes JSON, which the readers
/// of the file take or refuse.
namespace bandwright::trade {

namespace {

using Out = nlohmann::ordered_json;

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kBlank = " \t";
    const std::size_t from = text.find_first_not_of(kBlank);
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(kBlank) - from + 1);
}

std::vector<std::string_view> parted(std::string_view text, std::string_view at) {
    std::vector<std::string_view> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t end = std::min(text.find_first_of(at, from), text.size());
        if (const std::string_view part = trimmed(text.substr(from, end - from)); !part.empty())
            parts.push_back(part);
        from = end + 1;
    }
    return parts;
}

/// A number where it is one, whole where it has no point, else the text itself.
json valueOf(std::string_view token) {
    const char *const from = token.data(), *const to = from + token.size();
    int whole = 0;
    if (const auto read = std::from_chars(from, to, whole); read.ec == std::errc() && read.ptr == to)
        return whole;
    double number = 0;
    if (const auto read = std::from_chars(from, to, number); read.ec == std::errc() && read.ptr == to)
        return number;
    return std::string(token);
}

json listOf(std::string_view text) {
    json list = json::array();
    for (const std::string_view part : parted(text, ", "))
        list.push_back(valueOf(part));
    return list;
}

json spindleTyped(std::string_view text) {
    constexpr std::string_view kTo = " to ";
    const std::size_t to = text.find(kTo);
    if (to == std::string_view::npos) return {{"steps", listOf(text)}};
    return {{"least", valueOf(trimmed(text.substr(0, to)))},
            {"most", valueOf(trimmed(text.substr(to + kTo.size())))}};
}

json dividerTyped(std::string_view text) {
    const std::size_t colon = std::min(text.find(':'), text.size());
    const std::vector<std::string_view> words = parted(text.substr(0, colon), " ");
    json divider = json::object();
    if (!words.empty()) divider["kind"] = std::string(words[0]);
    if (words.size() > 1) divider["ratio"] = valueOf(words[1]);
    if (colon < text.size()) divider["circles"] = listOf(text.substr(colon + 1));
    return divider;
}

/// "titanium-grade-5 25.4 length 300": a word fills the first of two places, a number the last, and after the
/// name of a key its value follows. What fits nowhere becomes a key of its own, which the reader refuses.
json recordTyped(std::string_view text, const WorkshopField& field) {
    const auto isIn = [](const std::vector<std::string_view>& list, std::string_view word) {
        return std::ranges::find(list, word) != list.end();
    };
    json record = json::object();
    const std::vector<std::string_view> words = parted(text, ", ");
    for (std::size_t i = 0; i < words.size(); ++i) {
        const json value = valueOf(words[i]);
        std::string key(words[i]);
        if (isIn(field.flags, key)) {
            record[key] = true;
        } else if (isIn(field.names, key)) {
            record[key] = i + 1 < words.size() ? valueOf(words[i + 1]) : json();
            ++i;
        } else {
            const bool isPlaced = value.is_number() || field.places.size() > 1;
            const std::string place(value.is_number() ? field.places.back() : field.places.front());
            record[isPlaced && !record.contains(place) ? place : key] = value;
        }
    }
    return record;
}

json hoursTyped(std::string_view text) {
    json hours = json::object();
    for (const std::string_view each : parted(text, ";")) {
        const std::vector<std::string_view> words = parted(each, ", ");
        hours[std::string(words.front())] = words.size() == 2 ? valueOf(words[1]) : json(std::string(each));
    }
    return hours;
}

json typedValue(const WorkshopField& field, std::string_view text) {
    switch (field.form) {
        case WorkshopForm::Text:
        case WorkshopForm::Word:
            break;
        case WorkshopForm::Number:
            return valueOf(text);
        case WorkshopForm::Sizes:
            return listOf(text);
        case WorkshopForm::Spindle:
            return spindleTyped(text);
        case WorkshopForm::Divider:
            return dividerTyped(text);
        case WorkshopForm::Record:
        case WorkshopForm::Records:
            return recordTyped(text, field);
        case WorkshopForm::Hours:
            return hoursTyped(text);
    }
    return std::string(text);
}

std::string plain(const Out& value) {
    return value.is_string() ? value.get<std::string>() : value.dump();
}

std::string joined(const Out& list) {
    std::string text;
    for (const Out& each : list)
        text += (text.empty() ? "" : ", ") + plain(each);
    return text;
}

std::string recordForm(const Out& record, const WorkshopField& field) {
    std::string text;
    for (const auto& [key, value] : record.items()) {
        const bool isPlaced = std::ranges::find(field.places, key) != field.places.end();
        text += (text.empty() ? "" : " ") + (isPlaced        ? plain(value)
                                             : value == true ? key
                                                             : key + " " + plain(value));
    }
    return text;
}

std::string dividerForm(const Out& divider) {
    std::string text = plain(divider["kind"]);
    if (divider.contains("ratio")) text += " " + plain(divider["ratio"]);
    if (divider.contains("circles")) text += ": " + joined(divider["circles"]);
    return text;
}

std::string hoursForm(const Out& hours) {
    std::string text;
    for (const auto& [step, value] : hours.items())
        text += (text.empty() ? "" : "; ") + step + " " + plain(value);
    return text;
}

std::string typedForm(const WorkshopField& field, const Out& value) {
    switch (field.form) {
        case WorkshopForm::Text:
        case WorkshopForm::Word:
        case WorkshopForm::Number:
            break;
        case WorkshopForm::Sizes:
            return joined(value);
        case WorkshopForm::Spindle:
            return value.contains("steps") ? joined(value["steps"])
                                           : plain(value["least"]) + " to " + plain(value["most"]);
        case WorkshopForm::Divider:
            return dividerForm(value);
        case WorkshopForm::Record:
        case WorkshopForm::Records:
            return recordForm(value, field);
        case WorkshopForm::Hours:
            return hoursForm(value);
    }
    return plain(value);
}

const WorkshopRow& rowOf(std::string_view key) {
    for (const WorkshopRow& row : workshopRows())
        if (row.field.key == key) return row;
    throw std::out_of_range("no field of the workshop: " + std::string(key));
}

}  // namespace

std::vector<WorkshopField> workshopFields() {
    std::vector<WorkshopField> fields;
    for (const WorkshopRow& row : workshopRows())
        fields.push_back(row.field);
    return fields;
}

std::vector<std::string> typedForms(const Workshop& workshop, std::string_view key) {
    const WorkshopRow& row = rowOf(key);
    const Out value = row.write(workshop);
    if (value.is_null()) return {};
    if (row.field.form != WorkshopForm::Records) return {typedForm(row.field, value)};
    std::vector<std::string> forms;
    for (const Out& entry : value)
        forms.push_back(typedForm(row.field, entry));
    return forms;
}

Workshop withTyped(const Workshop& workshop, std::string_view key, std::size_t entry, const std::string& text,
                   const Catalogue& catalogue) {
    const WorkshopRow& row = rowOf(key);
    const std::string_view typed = trimmed(text);
    // The rest as it is in the file, so that what is not told comes out as where nothing is.
    Out whole = Out::object();
    for (const WorkshopRow& each : workshopRows())
        if (Out value = each.write(workshop); !value.is_null()) whole[each.field.key] = std::move(value);
    Out& value = whole[row.field.key];
    if (row.field.form != WorkshopForm::Records) {
        value = typed.empty() ? Out() : Out(typedValue(row.field, typed));
    } else if (typed.empty()) {
        if (entry < value.size()) value.erase(entry);
    } else if (entry < value.size()) {
        value[entry] = Out(typedValue(row.field, typed));
    } else {
        value.push_back(Out(typedValue(row.field, typed)));
    }
    const std::string group(row.field.group);
    Workshop changed;
    changed.schema = workshop.schema;
    for (const WorkshopRow& each : workshopRows()) {
        const auto told = whole.find(each.field.key);
        if (told == whole.end() || told->is_null() || (told->is_array() && told->empty())) continue;
        each.read(json::parse(told->dump()), {group, std::string(each.field.label)}, catalogue, changed);
    }
    return changed;
}

}  // namespace bandwright::trade
