#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

/// JSON (RFC 8259) read into a tree that knows where each value stands. Private to the room.
namespace bandwright::design {

/// The text of a file and its name, to say where something is wrong.
struct SourceText {
    std::string_view text;
    std::string_view fileName;

    /// Throws InputError "file:line:column: sentence" for the byte at `offset`. Columns count characters,
    /// from 1.
    [[noreturn]] void refuse(std::size_t offset, const std::string& sentence) const;
};

struct JsonNode {
    enum class Kind : std::uint8_t { Null, Boolean, Number, Text, List, Object };

    Kind kind = Kind::Null;
    std::size_t offset = 0;  ///< of the value's first byte
    std::string key;         ///< when it is a member of an object
    std::size_t keyOffset = 0;
    bool boolean = false;
    double number = 0;               ///< finite
    std::string text;                ///< valid UTF-8
    std::vector<JsonNode> children;  ///< items or members, as they stand in the text, doubled keys too
};

/// Throws InputError for anything that is not one JSON value, a byte-order mark, a zero byte, a number beyond
/// the largest double, or nesting deeper than 32.
JsonNode parseLocatedJson(const SourceText& source);

/// What a person sees there: `12.5`, `'abc'`, `a list`.
std::string described(const JsonNode& node);

}  // namespace bandwright::design
