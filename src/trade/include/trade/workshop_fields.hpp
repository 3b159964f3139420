#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// The one table of what a workshop's file can tell. Reading, writing and the workshop's card walk it.
namespace bandwright::trade {

/// How a value is typed on one line.
enum class WorkshopForm : std::uint8_t {
    Text,
    Word,
    Number,
    Sizes,    ///< "0.8, 1, 1.2"
    Spindle,  ///< "80 to 2500", or its steps, "250, 500, 900"
    Divider,  ///< "head 40: 15, 16, 17", "plate: 24, 36" or "degrees"
    Record,   ///< "2 nose 0.1": the first numbers and words in their places, others by their names
    Records,  ///< a list of those
    Hours,    ///< "polished 0.75; filled 1.5"
};

struct WorkshopField {
    const char* key = nullptr;  ///< in the file
    std::string_view group, label;
    std::string_view help;   ///< what it means and how it is typed
    std::string_view needs;  ///< what goes without it where it is not told; empty = nothing does
    WorkshopForm form = WorkshopForm::Number;
    /// Of a record: keys that are typed without their names, with them, and by them alone.
    std::vector<std::string_view> places{}, names{}, flags{};
};

/// In the order of the file.
std::vector<WorkshopField> workshopFields();

/// What is told, as it is typed: one text for each entry of a list of records, else one or none. Throws
/// std::out_of_range for a key that is not in the table.
std::vector<std::string> typedForms(const Workshop& workshop, std::string_view key);

/// The workshop with an entry as it was typed; an empty text takes it away, and one past the last entry of a
/// list adds it. Throws InputError, which names the field, what was found and what is allowed.
Workshop withTyped(const Workshop& workshop, std::string_view key, std::size_t entry, const std::string& text,
                   const Catalogue& catalogue);

/// The text of the file; readWorkshop makes the same workshop of it.
std::string formatWorkshop(const Workshop& workshop);

/// Writes the file whole or not at all. Throws InputError.
void saveWorkshop(const Workshop& workshop, const std::filesystem::path& file);

}  // namespace bandwright::trade
