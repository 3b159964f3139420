#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "paper/page.hpp"

/// What a PDF has beyond what Cairo writes. Private to the room.
namespace bandwright::paper {

/// Adds the language, the alternatives of its figures in their order, the wish that the title be shown, and
/// the design; the identifier follows from the bytes.
std::string finishedPdf(std::string_view bytes, const Document& document,
                        const std::vector<std::string>& alternatives);

}  // namespace bandwright::paper
