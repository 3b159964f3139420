#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "geometry/vector.hpp"

/// The text of a DXF file: pairs of a group code and a value, a line each. Private to the room.
namespace bandwright::formats {

/// A name that other entries refer to.
using DxfHandle = std::uint32_t;

class DxfText {
  public:
    void pair(int code, std::string_view value);
    void pair(int code, const char* value) { pair(code, std::string_view(value)); }
    void pair(int code, double value);
    void pair(int code, int value);
    /// A handle as hexadecimal digits.
    void handle(int code, DxfHandle handle);
    /// x, y and z = 0, under the codes 10 + which, 20 + which, 30 + which.
    void point(int which, geometry::Vec2 place);
    /// Text, with \U+XXXX for what is not ASCII.
    void words(int code, std::string_view utf8);

    void begin(const char* section);
    void end();

    const std::string& text() const { return text_; }
    void append(const DxfText& other) { text_ += other.text_; }

  private:
    std::string text_;
};

}  // namespace bandwright::formats
