#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "paper/page.hpp"

/// What text measures, by the same library that paints it.
namespace bandwright::paper {

/// Width of one line, mm.
double textWidth(std::string_view words, const TextStyle& style);

/// The lines that text is broken into, none wider than `width` mm unless a single character is; the places
/// are those of Unicode's line breaking (UAX 14), and a word too long for a line is broken. Line ends in the
/// text are kept. There is at least one line.
std::vector<std::string> wrapped(std::string_view words, const TextStyle& style, double width);

/// Height of a capital letter in shares of the em.
double capitalHeight();

/// The em at which capitals and digits are so high: lettering by ISO 3098 is named by that height.
double emOfCapitals(double height);

/// From one base line to the next in shares of the em; our own choice.
inline constexpr double kLineSpacing = 1.36;

}  // namespace bandwright::paper
