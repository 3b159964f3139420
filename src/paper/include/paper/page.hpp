#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// Pages on paper as plain data. Lengths are mm; x runs to the right from the left edge of the page, y down
/// from its upper edge.
namespace bandwright::paper {

struct Point {
    double x = 0, y = 0;

    friend Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
    bool operator==(const Point&) const = default;
};

struct Size {
    double width = 0, height = 0;

    bool operator==(const Size&) const = default;
};

/// An upright rectangle; `at` is its upper left corner.
struct Box {
    Point at;
    Size size;

    double right() const { return at.x + size.width; }
    double bottom() const { return at.y + size.height; }
};

/// Sheets, upright: A4 and A5 of ISO 216 (published), US letter of 8 1/2 by 11 inches.
inline constexpr Size kA4{210, 297}, kA5{148, 210}, kLetter{215.9, 279.4};

/// The sheet of that name, "a4", "a5" or "letter". Throws InputError, which names the option, for any other.
Size sheetNamed(const std::string& name, const char* option);
Size sideways(Size sheet);

/// Shares of red, green and blue in sRGB, 0..1.
struct Colour {
    double red = 0, green = 0, blue = 0;

    bool operator==(const Colour&) const = default;
};
inline constexpr Colour kBlack{0, 0, 0}, kWhite{1, 1, 1}, kGrey{0.42, 0.45, 0.47}, kPale{0.93, 0.94, 0.95};

/// A step of a path: to begin a new outline at `to`, to go there along a line or a circular arc, or to close
/// the outline.
struct Step {
    enum class Kind : std::uint8_t { Begin, Line, Arc, Close };
    Kind kind = Kind::Line;
    Point to{};
    Point centre{};          ///< of an arc
    bool clockwise = false;  ///< an arc, as it is seen on the page

    bool operator==(const Step&) const = default;
};
using Path = std::vector<Step>;

Path line(Point from, Point to);
Path rectangle(const Box& box);
Path circle(Point centre, double radius);

/// Widths of lines in mm, wide and narrow in the ratio 2:1 (ISO 128-2, published: 0.25, 0.35, 0.5, 0.7, 1.0).
inline constexpr double kNarrow = 0.25, kWide = 0.5;

struct Stroke {
    Path path;
    double width = kNarrow;
    Colour colour = kBlack;
    std::vector<double> dashes{};  ///< lengths of dash and gap in turn; empty = continuous
};

/// Where outlines lie in each other, what is inside an odd number of them is filled.
struct Fill {
    Path path;
    Colour colour = kBlack;
};

enum class Weight : std::uint8_t { Regular, Medium, SemiBold, Bold };
enum class Align : std::uint8_t { Left, Middle, Right };

/// How text is set. The font is Inter.
struct TextStyle {
    double size = 3.2;  ///< of the em, mm; 3.2 mm are 9 points
    Weight weight = Weight::Regular;
    Align align = Align::Left;
    Colour colour = kBlack;
};

/// One line of text.
struct Text {
    std::string words;  ///< UTF-8
    Point at;           ///< on its base line: the left end, the middle or the right end, by the alignment
    TextStyle style{};
    double turned = 0;  ///< degrees counter-clockwise round `at`
};

/// A picture, stretched over the box.
struct Image {
    Box box;
    std::string png;  ///< the bytes of a PNG file
};

using Mark = std::variant<Stroke, Fill, Text, Image>;

/// What an element is to who cannot see the page (the standard structure types of ISO 32000-1, 14.8.4,
/// published).
enum class Role : std::uint8_t {
    Decoration,  ///< not read: frames, rules, page numbers
    Title,       ///< the first heading
    Heading1,
    Heading2,
    Paragraph,
    Table,
    TableRow,
    TableHead,
    TableCell,
    Figure,
    Section,  ///< elements that belong together
};

/// A piece of a page: its marks, then its parts, in the order in which they are painted and read.
struct Element {
    Role role = Role::Paragraph;
    std::vector<Mark> marks{};
    std::vector<Element> parts{};
    std::string alternative{};  ///< of a figure: what it shows, in words
    std::string bookmark{};     ///< its name in the list of contents; empty = not listed
    Point top{};                ///< where the bookmark leads
    std::optional<Box> clip{};  ///< nothing is painted outside it
};

/// The same somewhere else on the page.
Path moved(Path path, Point by);
Mark moved(Mark mark, Point by);
Element moved(Element element, Point by);

struct Page {
    Size size = kA4;
    std::vector<Element> elements{};
};

/// A file that travels inside a PDF.
struct Attachment {
    std::string name;         ///< "harbour.ring.json"
    std::string description;  ///< in words
    std::string bytes;
};

struct Document {
    std::string title;
    std::string date;             ///< yyyy-mm-dd: when it was issued; no clock is asked
    std::string language = "en";  ///< BCP 47
    std::string author{};
    std::vector<Page> pages{};
    std::optional<Attachment> design{};
};

}  // namespace bandwright::paper
