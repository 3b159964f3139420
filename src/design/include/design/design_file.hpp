#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

/// Reading and writing `NAME.ring.json`, described by models/design.schema.json.
///
/// Keys are those of design.hpp in kebab-case. A length is a number of mm, or text with its unit ("3/8 in");
/// angles are numbers of degrees; a finger size is text in any system ("US 9.5"). A key left out takes its
/// default from design.hpp, but the parts that may be missing, "fill", "tube" and "stone", are there only
/// when written: left out or null means none, {} means one with its defaults.
namespace bandwright::design {

/// Files larger than this, in bytes, are refused unread.
inline constexpr std::size_t kLargestDesignFile = std::size_t{1} << 20;

/// The version of the format that is read and written.
inline constexpr int kDesignFileVersion = 1;

/// Reads a design file. Throws InputError: one sentence with the file, line and column, the path of the key
/// ("band.width", "channels[0].depth"), what was found and what is allowed. Whether materials are known is
/// for requireMaterials.
Design readDesign(const std::filesystem::path& file);

/// The same from text; `fileName` only names the place in a message.
Design parseDesign(std::string_view text, std::string_view fileName);

/// The text of the file: every key, in fixed order, numbers in the fewest digits that read back as the same
/// number. Throws InputError as requireValid does, so that what is written can be read.
std::string formatDesign(const Design& design);

/// Writes the file whole or not at all (writeFileAtomically). Throws InputError.
void saveDesign(const Design& design, const std::filesystem::path& file);

/// Throws InputError, naming the path, when a number lies outside the range of its field or a text could not
/// be written. The ranges are wide: they keep out slips and nonsense, the checks judge what is left.
void requireValid(const Design& design);

/// Throws InputError, naming the path, the id and the nearest known ids, when a material is not in the
/// catalogue, and when the band's metal does not take the treatment asked for.
void requireMaterials(const Design& design, const trade::Catalogue& catalogue);

/// Whether the treatment can be given to the metal.
bool takes(const trade::Metal& metal, Treatment treatment);

/// The format as a JSON Schema (draft 2020-12), made from the same table as the reader;
/// models/design.schema.json.
std::string designSchema();

}  // namespace bandwright::design
