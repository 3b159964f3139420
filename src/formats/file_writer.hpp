#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <type_traits>

#include "platform/atomic_file.hpp"

/// How the formats write: gathered and handed on in pieces, so that no file is held in memory. Private to the
/// room.
namespace bandwright::formats {

class FileWriter {
  public:
    explicit FileWriter(const platform::ByteSink& sink);

    /// Text or bytes as they are.
    void put(std::string_view text);
    void count(std::uint64_t number);
    /// Rounded to at most 7 decimals, without those that are 0; never "-0". Its size is below 1e9.
    void number(double number, int decimals);

    /// A number as it lies in memory, the low byte first.
    template <class Number>
    void binary(Number number) {
        static_assert(std::is_arithmetic_v<Number> && std::endian::native == std::endian::little);
        require(sizeof number);
        std::memcpy(text_.data() + size_, &number, sizeof number);
        size_ += sizeof number;
    }

    /// Hands on what is left.
    void finish();

  private:
    void require(std::size_t room) {
        if (size_ + room > text_.size()) finish();
    }

    const platform::ByteSink& sink_;
    std::string text_;
    std::size_t size_ = 0;
};

/// On one line, whatever the text contains.
std::string oneLine(std::string text);

}  // namespace bandwright::formats
