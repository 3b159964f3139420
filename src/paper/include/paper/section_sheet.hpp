#pragma once

#include <optional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "drawing/drawing.hpp"
#include "paper/page.hpp"
#include "trade/catalogue.hpp"

/// The section drawing of a ring on sheets.
namespace bandwright::paper {

struct SectionSheetOptions {
    Size sheet = kA4;
    std::optional<double> scale{};  ///< of the sections; else the largest of ISO 5455 at which they fit
    std::string owner{};            ///< of the title block
    std::string date{};             ///< of issue, yyyy-mm-dd
    std::string number{};           ///< identification number
};

/// A drawing and what it is called.
struct NamedDrawing {
    std::string name;  ///< "Section", "Section through settings 1 and 3"
    drawing::Drawing drawing;
};

/// The plain section, one through each setting that differs from those before it, and the outside unrolled
/// where it has channels or holes.
std::vector<NamedDrawing> sectionDrawings(const design::Design& design, design::Stage stage,
                                          const drawing::Layout& layout);
std::optional<NamedDrawing> unrolledOutside(const design::Design& design, design::Stage stage,
                                            const drawing::Layout& layout);

/// The recommended scales of ISO 5455 (published) that suit a ring, the largest first.
const std::vector<double>& sheetScales();

/// The sheets, in frames and to scale: sections with their dimensions, details of what is under 2 mm long on
/// paper, the outside unrolled, the materials and their hatching, what is not dimensioned, and a square to
/// prove the print. Throws InputError where a section has no room at the scale asked for.
std::vector<Page> sectionSheets(const design::Design& design, design::Stage stage,
                                const trade::Catalogue& catalogue, const SectionSheetOptions& options);

/// A short number that is the same for the same design and hardly ever for another: eight hexadecimal digits.
std::string identification(const design::Design& design);

}  // namespace bandwright::paper
