#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "platform/atomic_file.hpp"

/// A ZIP archive (APPNOTE 6.3.3, without its extensions; data descriptors, 4.3.9) whose bytes depend on the
/// contents alone. Private to the room.
namespace bandwright::formats {

class ZipWriter {
  public:
    explicit ZipWriter(const platform::ByteSink& sink) : sink_(sink) {}

    /// Adds a file, deflated and handed on in pieces: its size and sum stand behind it. Throws
    /// std::length_error when it or the archive exceeds 4 GiB.
    void add(std::string_view name, const std::function<void(const platform::ByteSink&)>& produce);
    void add(std::string_view name, std::string_view bytes);

    /// Writes the list of the files.
    void finish();

  private:
    struct Entry {
        std::string name;
        std::uint32_t crc = 0, packed = 0, size = 0, at = 0;
    };
    void hand(std::string_view bytes);

    const platform::ByteSink& sink_;
    std::vector<Entry> entries_;
    std::uint64_t written_ = 0;
};

}  // namespace bandwright::formats
