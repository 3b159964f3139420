#pragma once

#include <cstdint>
#include <string>
#include <string_view>

/// Private to the room.
namespace bandwright::app {

/// By which a client's page knows that its design is the one it was made with: FNV-1a (Fowler, Noll, Vo;
/// public domain) of 64 bits, in hexadecimal. It finds damage and slips, not forgery.
inline std::string pageMark(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    std::string mark;
    for (int shift = 60; shift >= 0; shift -= 4)
        mark += "0123456789abcdef"[hash >> shift & 0xFU];
    return mark;
}

}  // namespace bandwright::app
