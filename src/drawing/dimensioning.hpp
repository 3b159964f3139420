#pragma once

#include <string>
#include <utility>
#include <vector>

#include "drawing/drawing.hpp"

/// Where dimensions and their text stand. Private to the room.
namespace bandwright::drawing {

/// A number to show, measured between two places of the section, mm of the ring.
struct Shown {
    std::string field;
    geometry::Vec2 from, to;
    std::string before{}, after{};  ///< text before and after the digits: "\u00D8 ", ", bored"
    bool isField = true;            ///< as in Dimension
    double degreesPerMm = 0;        ///< if not 0, an angle on the unrolled outside is shown
};

/// An angle to 0.01 degrees, with only the decimals it needs, and its sign.
std::string degrees(double value);

/// Lays out dimensions by ISO 129-1: outside the section where they can be, the shorter ones nearer, text
/// over its line where it fits between the arrowheads and beside it where it does not. No text lies on
/// another, nor on a dimension line.
class Dimensioning {
  public:
    explicit Dimensioning(Drawing& drawing, const Layout& layout)
        : drawing_(drawing), layout_(layout), bodies_(bodiesOf(drawing)) {}

    /// Along the axis, on a line over or under the section.
    void above(Shown shown) { above_.push_back(std::move(shown)); }
    void below(Shown shown) { below_.push_back(std::move(shown)); }
    /// Along the radius: on a line at z mm of the ring, close to an axis if its second place lies on one, or
    /// else beside the section.
    void upright(Shown shown, double z, bool textOnLeft = false) {
        uprights_.push_back({std::move(shown), layout_.scale * z, textOnLeft});
    }
    void besideAxis(Shown shown);
    void atRight(Shown shown);
    void atLeft(Shown shown);
    /// A leader from a place on an edge, mm of the ring, to text beside the section on the same side.
    void leader(Shown shown, Measured measured, geometry::Vec2 tip);
    /// A diameter that reaches beyond the drawing; its text stands under the section.
    void note(Shown shown) { notes_.push_back(std::move(shown)); }
    /// A length that is not a dimension: a line with its text beside it.
    void pointOut(geometry::Vec2 from, geometry::Vec2 to, std::string words);

    /// Lays all of them out.
    void write();

  private:
    struct Upright {
        Shown shown;
        double z = 0;         ///< of its line
        bool onLeft = false;  ///< where its text is to be
        Dimension drawn{};
    };
    struct Leader {
        Shown shown;
        Measured measured = Measured::Straight;
        geometry::Vec2 tip;
    };

    /// A length given in heights of text.
    double heights(double count) const { return count * layout_.textHeight; }
    Text text(std::string words) const;
    Dimension dimension(const Shown& shown, Measured measured) const;
    void addExtension(Dimension& dimension, geometry::Vec2 place, geometry::Vec2 end) const;
    /// Returns whether the arrows stand inside.
    bool addLine(Dimension& dimension, geometry::Vec2 from, geometry::Vec2 to) const;
    void addArrow(Dimension& dimension, geometry::Vec2 tip, geometry::Vec2 way) const;

    bool isFree(const geometry::Rectangle& box) const;
    bool settle(Text& text, geometry::Vec2 middle) const;
    bool crossesLine(const Text& text) const;
    /// Moves the text to its first free place under the section, its middle at z.
    void settleUnder(Text& text, double z) const;
    void keep(Dimension dimension);

    void writeRows(std::vector<Shown>& all, double side);
    void writeInRow(const Shown& shown, double side);
    void drawUpright(Upright& upright);
    void writeUpright(Upright& upright);
    void writeLeader(const Leader& leader);
    void writeNote(const Shown& shown);
    void writeWitness();

    Drawing& drawing_;
    const Layout& layout_;
    geometry::Rectangle bodies_;
    std::vector<Shown> above_, below_, notes_;
    std::vector<Upright> uprights_;
    std::vector<Leader> leaders_;
    std::vector<geometry::Rectangle> taken_;  ///< by text and dimension lines
};

}  // namespace bandwright::drawing
