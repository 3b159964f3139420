#pragma once

#include <string>
#include <vector>

#include "paper/page.hpp"

/// The frame and the title block of a technical drawing. ISO 5457: 20 mm at the left edge for the binding and
/// 10 mm at the others, the frame 0.7 mm wide (from memory). ISO 7200: the fields and their places (published
/// table).
namespace bandwright::paper {

/// What a title block says; what is empty is left to be written by hand.
struct TitleBlock {
    std::string owner;  ///< the workshop
    std::string title;
    std::string documentType;  ///< "Section drawing"
    std::string number;        ///< identification number
    std::string date;          ///< of issue, yyyy-mm-dd
    std::string creator, approver;
    std::string material;
    std::string state;      ///< "Finished", "Channelled"
    std::string tolerance;  ///< general tolerances: "ISO 2768-1 m"
    std::string scale;      ///< "10:1"
    std::string language = "en";
};

/// The sheet as it lies for a drawing: so that a title block of 180 mm has room.
Size drawingSheet(Size sheet);

/// The space inside the frame and above the title block.
Box drawingSpace(Size sheet);

/// Frame, centring marks and title block of one of several sheets.
std::vector<Element> sheetFrame(Size sheet, const TitleBlock& block, std::size_t number, std::size_t count);

/// "10:1", "1:2": a scale as ISO 5455 writes it (published).
std::string scaleText(double scale);

/// A square of 20 mm, which proves that a print is true to scale; its upper left corner at `at`.
Element testSquare(Point at);
inline constexpr double kTestSquare = 20;  ///< mm

/// The words, cut off with an ellipsis where they are wider than `width` mm.
std::string fitted(const std::string& words, const TextStyle& style, double width);

}  // namespace bandwright::paper
