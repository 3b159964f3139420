#include <algorithm>
#include <string>

#include "app/report_text.hpp"

namespace bandwright::app {

namespace {

/// Takes one code point off the front; bytes that are not UTF-8 count singly.
char32_t takeCodePoint(std::string_view& text) {
    const auto first = static_cast<unsigned char>(text.front());
    const std::size_t length = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (first >= 0x80 && (first < 0xC0 || length > text.size())) {
        text.remove_prefix(1);
        return 0xFFFD;
    }
    char32_t point = length == 1 ? first : first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        point = (point << 6) | (static_cast<unsigned char>(text[i]) & 0x3FU);
    }
    text.remove_prefix(length);
    return point;
}

/// By the blocks of Unicode 15 (UAX #11 "W" and "F", and the combining blocks), as terminals show them.
int columnsOf(char32_t point) {
    const auto in = [point](char32_t first, char32_t last) { return point >= first && point <= last; };
    if (in(0x0300, 0x036F) || in(0x1AB0, 0x1AFF) || in(0x1DC0, 0x1DFF) || in(0x200B, 0x200F) ||
        in(0x20D0, 0x20FF) || in(0xFE00, 0xFE0F) || in(0xFE20, 0xFE2F)) {
        return 0;
    }
    if (in(0x1100, 0x115F) || in(0x2E80, 0xA4CF) || in(0xAC00, 0xD7A3) || in(0xF900, 0xFAFF) ||
        in(0xFE30, 0xFE6F) || in(0xFF00, 0xFF60) || in(0xFFE0, 0xFFE6) || in(0x1F300, 0x1FAFF) ||
        in(0x20000, 0x3FFFD)) {
        return 2;
    }
    return 1;
}

}  // namespace

int columns(std::string_view text) {
    int count = 0;
    while (!text.empty())
        count += columnsOf(takeCodePoint(text));
    return count;
}

std::string spaced(std::string name) {
    std::ranges::replace(name, '-', ' ');
    return name;
}

std::string padded(const std::string& text, int width) {
    return text + std::string(static_cast<std::size_t>(std::max(0, width - columns(text))), ' ');
}

std::string rightAligned(const std::string& text, int width) {
    return std::string(static_cast<std::size_t>(std::max(0, width - columns(text))), ' ') + text;
}

std::string wrapped(std::string_view text, int width, int indent) {
    std::string out;
    int column = indent;
    while (!text.empty()) {
        const std::size_t end = text.find_first_of(" \n");
        const std::string_view word = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (word.empty()) continue;
        const int size = columns(word);
        if (out.empty()) {
            column = indent + size;
        } else if (column + 1 + size > width) {
            out += "\n" + std::string(static_cast<std::size_t>(indent), ' ');
            column = indent + size;
        } else {
            out += ' ';
            column += 1 + size;
        }
        out += word;
    }
    return out;
}

}  // namespace bandwright::app
