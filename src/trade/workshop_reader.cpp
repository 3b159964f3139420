#include <array>
#include <string>

#include "base/whole_text.hpp"
#include "platform/atomic_file.hpp"
#include "trade/workshop.hpp"
#include "workshop_table.hpp"

namespace bandwright::trade {

Workshop readWorkshop(const std::filesystem::path& file, const Catalogue& catalogue) {
    const std::string name = file.string();
    const json value = parsedOnce(base::wholeText(file, "workshop"), name);
    JsonFields document(value, {name, "$"}, false);
    Workshop workshop;
    if (const json* schema = document.optional("$schema"))
        workshop.schema = document.textOf(*schema, "$schema");
    for (const WorkshopRow& row : workshopRows())
        if (const json* told = document.optional(row.field.key))
            row.read(*told, document.place().member(row.field.key), catalogue, workshop);
    document.finish();
    return workshop;
}

std::string formatWorkshop(const Workshop& workshop) {
    using Out = nlohmann::ordered_json;
    const auto dumped = [](const Out& value) {
        return value.dump(-1, ' ', false, Out::error_handler_t::replace);
    };
    std::string text;
    const auto add = [&](const std::string& key, const Out& value) {
        text += (text.empty() ? "{\n  " : ",\n  ") + dumped(key) + ": ";
        if (!value.is_array() || !value.front().is_object()) {
            text += dumped(value);
            return;
        }
        // A line for each entry, as in the sample.
        for (std::size_t i = 0; i < value.size(); ++i)
            text += (i == 0 ? "[\n    " : ",\n    ") + dumped(value[i]);
        text += "\n  ]";
    };
    if (!workshop.schema.empty()) add("$schema", workshop.schema);
    for (const WorkshopRow& row : workshopRows())
        if (const Out value = row.write(workshop); !value.is_null()) add(row.field.key, value);
    return text.empty() ? "{}\n" : text + "\n}\n";
}

void saveWorkshop(const Workshop& workshop, const std::filesystem::path& file) {
    platform::writeFileAtomically(file, formatWorkshop(workshop));
}

}  // namespace bandwright::trade
