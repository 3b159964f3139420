#include "dxf_text.hpp"

#include <array>
#include <cstdio>

#include "base/numbers.hpp"

namespace bandwright::formats {

namespace {

/// The next character of UTF-8; moves `at` behind it.
std::uint32_t nextCharacter(std::string_view utf8, std::size_t& at) {
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(utf8[i]));
    };
    const std::uint32_t first = byte(at++);
    if (first < 0x80U) return first;
    std::uint32_t more = first < 0xE0U ? 1 : first < 0xF0U ? 2 : 3;
    std::uint32_t code = first & (0x3FU >> more);
    for (; more > 0 && at < utf8.size(); --more)
        code = (code << 6U) | (byte(at++) & 0x3FU);
    return code;
}

std::string hexadecimal(std::uint32_t number, int digits) {
    std::array<char, 12> text{};
    std::snprintf(text.data(), text.size(), "%0*X", digits, number);
    return text.data();
}

}  // namespace

void DxfText::pair(int code, std::string_view value) {
    text_ += std::to_string(code) + "\n";
    text_.append(value).append("\n");
}

void DxfText::pair(int code, double value) {
    std::string number = base::shortestNumber(value);
    // A number of mm is written as one, with a point.
    if (number.find_first_of(".en") == std::string::npos) number += ".0";
    pair(code, number);
}

void DxfText::pair(int code, int value) {
    pair(code, std::to_string(value));
}

void DxfText::handle(int code, DxfHandle handle) {
    pair(code, hexadecimal(handle, 1));
}

void DxfText::point(int which, geometry::Vec2 place) {
    pair(10 + which, place.z);
    pair(20 + which, place.r);
    pair(30 + which, 0.0);
}

void DxfText::words(int code, std::string_view utf8) {
    std::string ascii;
    for (std::size_t at = 0; at < utf8.size();) {
        const std::uint32_t character = nextCharacter(utf8, at);
        constexpr std::uint32_t kLastOfFour = 0xFFFF;
        if (character < 0x20U || character > kLastOfFour)
            ascii += '?';
        else if (character < 0x7FU)
            ascii += static_cast<char>(character);
        else
            ascii += "\\U+" + hexadecimal(character, 4);
    }
    pair(code, ascii);
}

void DxfText::begin(const char* section) {
    pair(0, "SECTION");
    pair(2, section);
}

void DxfText::end() {
    pair(0, "ENDSEC");
}

}  // namespace bandwright::formats
