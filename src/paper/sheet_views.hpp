#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "drawing/drawing.hpp"
#include "paper/page.hpp"

/// Views of a ring, and how they share sheets. Private to the room.
namespace bandwright::paper {

/// Height of lettering in mm, the least that suits paper (ISO 3098-1, published).
inline constexpr double kLettering = 2.5;

/// A place of a view that is drawn again larger: a circle and a letter, mm of the view's paper.
struct Marked {
    geometry::Vec2 middle;
    double radius = 0;
    drawing::Text letter;
};

struct View {
    std::string name;
    drawing::Drawing drawing;
    std::vector<Marked> details{};
};

/// Marks the window, mm of the ring, with a circle and the letter where no text stands.
void markDetail(View& view, const geometry::Rectangle& window, char letter);

/// With its name and the circles of its details.
Size sizeOf(const View& view);
bool fits(Size size, Size room);

/// Views side by side.
struct Shelf {
    std::vector<const View*> views;
    Size size;
};

/// Sheets of shelves: each view beside the one before if it has room there, else on a new shelf, else on a
/// new sheet.
std::vector<std::vector<Shelf>> packed(const std::vector<View>& views, Size first, Size other);

/// Places shelves one under another, evenly spread over the space. A view at another scale than the sheet's
/// says so.
void placeViews(std::vector<Element>& elements, const std::vector<Shelf>& shelves, const Box& space,
                double mainScale, const design::Design& design);

}  // namespace bandwright::paper
