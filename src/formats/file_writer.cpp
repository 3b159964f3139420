#include "file_writer.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace bandwright::formats {

namespace {

constexpr std::size_t kPiece = 1 << 20;
/// Room for the longest number.
constexpr std::size_t kNumber = 48;

}  // namespace

FileWriter::FileWriter(const platform::ByteSink& sink) : sink_(sink), text_(kPiece, '\0') {}

void FileWriter::put(std::string_view text) {
    while (!text.empty()) {
        require(1);
        const std::size_t part = std::min(text.size(), text_.size() - size_);
        std::copy_n(text.data(), part, text_.data() + size_);
        size_ += part;
        text.remove_prefix(part);
    }
}

void FileWriter::count(std::uint64_t number) {
    require(kNumber);
    char* const from = text_.data() + size_;
    size_ += static_cast<std::size_t>(std::to_chars(from, from + kNumber, number).ptr - from);
}

void FileWriter::number(double number, int decimals) {
    constexpr std::array<double, 8> kPowers = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7};
    const auto unit = static_cast<std::uint64_t>(kPowers[static_cast<std::size_t>(decimals)]);
    const auto scaled = std::llrint(number * static_cast<double>(unit));
    const auto size = static_cast<std::uint64_t>(std::abs(scaled));
    if (scaled < 0) put("-");
    count(size / unit);
    std::uint64_t rest = size % unit;
    if (rest == 0) return;
    std::array<char, 8> digits{};
    for (int i = decimals; i > 0; --i, rest /= 10)
        digits[static_cast<std::size_t>(i) - 1] = static_cast<char>('0' + rest % 10);
    auto last = static_cast<std::size_t>(decimals);
    while (digits[last - 1] == '0')
        --last;
    put(".");
    put({digits.data(), last});
}

void FileWriter::finish() {
    if (size_ == 0) return;
    sink_({text_.data(), size_});
    size_ = 0;
}

std::string oneLine(std::string text) {
    std::ranges::replace_if(
        text, [](unsigned char c) { return c < 0x20 || c == 0x7f; }, ' ');
    return text;
}

}  // namespace bandwright::formats
