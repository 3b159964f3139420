#pragma once

#include <optional>
#include <string>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

/// The command `section`. Private to the room.
namespace bandwright::app {

struct SectionCall {
    std::string out, paper = "a4";
    std::optional<double> scale;
    std::string date;          ///< yyyy-mm-dd; empty = the day the design's file was last changed
    std::string owner;         ///< of the title block
    double dotsPerInch = 300;  ///< of PNG
};

/// Throws InputError before anything is built if the drawing cannot be made so.
void requireDrawable(const SectionCall& call);

/// Writes the sheets of the design that was read from `file`. Throws InputError.
void writeSection(const SectionCall& call, const std::string& file, const design::Design& design,
                  const trade::Catalogue& catalogue, design::Stage stage);

}  // namespace bandwright::app
