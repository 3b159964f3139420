#include "section_notes.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "drawing/hatching.hpp"
#include "geometry/workpiece.hpp"
#include "paper/place_drawing.hpp"
#include "paper/sheet_frame.hpp"
#include "paper/typeset.hpp"
#include "sheet_views.hpp"

namespace bandwright::paper {

namespace {

using base::fixed;

// Our own choice, mm.
constexpr double kUnderNotes = 3, kColumnGap = 5;
constexpr double kSwatchWidth = 9, kSwatchGap = 2, kSwatchHeight = 4.2, kLegendRow = 5.6;

/// What is hatched so, and of what it is: "Band: Titanium grade 5".
using LegendRow = std::pair<geometry::PartRole, std::string>;

std::string mm(double length) {
    return fixed(length, 2);
}

std::string degreesText(double angle) {
    return base::shortestNumber(base::roundedTo(angle, 2)) + "\u00B0";
}

std::string boreNote(const design::Bore& bore) {
    std::string note = bore.shape == design::BoreShape::Comfort
                           ? "Bore: comfort, " + mm(bore.rise) + " wider at each edge on the radius" +
                                 (bore.flat > 0 ? ", " + mm(bore.flat) + " straight in the middle" : "")
                           : "Bore: straight";
    return note + (bore.ease > 0 ? ", its corners eased R\u00A0" + mm(bore.ease) : "") + ".";
}

std::string outsideNote(const design::Outside& outside) {
    switch (outside.shape) {
        case design::OutsideShape::Flat:
            break;
        case design::OutsideShape::Domed:
            return "Outside: domed, " + mm(outside.rise) + " high.";
        case design::OutsideShape::KnifeEdge:
            return "Outside: a knife edge, " + mm(outside.rise) + " high.";
        case design::OutsideShape::Hollow:
            return "Outside: hollow, " + mm(outside.rise) + " deep.";
    }
    return "Outside: flat.";
}

std::string channelNote(const design::Channel& channel) {
    std::vector<std::string> all;
    if (channel.offset != 0)
        all.push_back("its middle " + mm(std::abs(channel.offset)) +
                      (channel.offset < 0 ? " left" : " right") + " of the band's");
    if (channel.floorRadius > 0) all.push_back("floor corners R\u00A0" + mm(channel.floorRadius));
    if (channel.draft > 0) all.push_back("sides lean out by " + degreesText(channel.draft));
    if (channel.draft < 0) all.push_back("sides undercut by " + degreesText(-channel.draft));
    std::string note;
    for (const std::string& each : all)
        note += (note.empty() ? ": " : ", ") + each;
    return note;
}

std::string holeNote(const design::Hole& hole) {
    std::string note;
    switch (hole.bottom) {
        case design::HoleBottom::Through:
            note = ": through";
            break;
        case design::HoleBottom::Flat:
            note = ": pilot " + mm(hole.pilotDepth) + " deep, flat";
            break;
        case design::HoleBottom::Drill118:
            note = ": pilot " + mm(hole.pilotDepth) + " deep, drill point 118\u00B0";
            break;
        case design::HoleBottom::Drill135:
            note = ": pilot " + mm(hole.pilotDepth) + " deep, drill point 135\u00B0";
            break;
    }
    note += " \u00D8\u00A0" + mm(hole.pilotDiameter);
    for (const design::HoleStep& step : hole.steps) {
        note += ", then \u00D8\u00A0" + mm(step.diameter) + " to a depth of " + mm(step.depth);
        if (step.bearing > 0) note += ", bearing " + degreesText(step.bearing);
    }
    if (hole.countersink > 0) note += ", countersunk 90\u00B0, " + mm(hole.countersink) + " wider";
    return note;
}

/// "Channel 1" and "channel 2" with the same words are told once.
void addNumbered(std::vector<std::string>& notes, const std::string& what,
                 const std::vector<std::string>& all) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].empty() || std::find(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(i), all[i]) !=
                                  all.begin() + static_cast<std::ptrdiff_t>(i))
            continue;
        std::string numbers;
        for (std::size_t k = i; k < all.size(); ++k) {
            if (all[k] == all[i]) numbers += (numbers.empty() ? "" : ", ") + std::to_string(k + 1);
        }
        std::string& note = notes.emplace_back(what);
        note.append(" ").append(numbers).append(all[i]).append(".");
    }
}

std::string fillName(const trade::Catalogue& catalogue, const design::Fill& fill) {
    return catalogue.filler(fill.filler)->name + " in " + catalogue.adhesive(fill.adhesive)->name;
}

std::vector<LegendRow> legendOf(const design::Design& design, design::Stage stage,
                                const trade::Catalogue& catalogue) {
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    std::vector<LegendRow> rows;
    const auto add = [&](geometry::PartRole role, const std::string& words) {
        if (std::ranges::find(rows, LegendRow{role, words}) == rows.end()) rows.emplace_back(role, words);
    };
    add(geometry::PartRole::Band, "Band: " + catalogue.metal(design.band.metal)->name);
    if (piece.lined && design.band.liner)
        add(geometry::PartRole::Liner, "Liner: " + catalogue.metal(design.band.liner->metal)->name);
    for (const design::Channel& channel : design.channels) {
        if (piece.filled && channel.fill)
            add(geometry::PartRole::Fill, "Fill: " + fillName(catalogue, *channel.fill));
    }
    for (const design::Setting& setting : design.settings) {
        if (setting.tube && geometry::hasTube(piece, setting))
            add(geometry::PartRole::Tube, "Tube: " + catalogue.metal(setting.tube->metal)->name);
        if (setting.stone && geometry::hasStone(piece, setting))
            add(geometry::PartRole::Stone, "Stone: " + catalogue.gem(setting.stone->gem)->name);
    }
    return rows;
}

/// Numbers that no dimension shows, a sentence each.
std::vector<std::string> notesOf(const design::Design& design, design::Stage stage) {
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    std::vector<std::string> notes{"Lengths in mm.", boreNote(piece.band.bore),
                                   outsideNote(piece.band.outside)};
    std::vector<std::string> channels, holes;
    for (const design::Channel& channel : design.channels)
        channels.push_back(piece.channelled ? channelNote(channel) : "");
    for (const design::Setting& setting : design.settings)
        holes.push_back(piece.drilled ? holeNote(setting.hole) : "");
    addNumbered(notes, "Channel", channels);
    addNumbered(notes, "Hole of setting", holes);
    return notes;
}

TextStyle noteStyle() {
    return {.size = emOfCapitals(kLettering)};
}

double columnWidth(double width) {
    return (width - kTestSquare - 2 * kColumnGap) / 2;
}

double rowHeight(std::size_t lines) {
    return std::max(kLegendRow, 1 + static_cast<double>(lines) * kLineSpacing * noteStyle().size);
}

/// A small box, hatched as the bodies of that role are.
void addSwatch(std::vector<Mark>& marks, geometry::PartRole role, Point at) {
    const geometry::Vec2 a{0, 0}, b{kSwatchWidth, 0}, c{kSwatchWidth, kSwatchHeight}, d{0, kSwatchHeight};
    const geometry::Section box{{geometry::line(a, b, {}), geometry::line(b, c, {}), geometry::line(c, d, {}),
                                 geometry::line(d, a, {})}};
    const Point low{at.x, at.y + kSwatchHeight};
    const double narrow = drawing::lineWidth(drawing::LineKind::Thin, kLettering);
    const drawing::HatchStyle style = drawing::hatchStyle(role);
    if (style.spacing > 0) {
        for (const geometry::Segment& s : drawing::hatching(box, style.degrees, style.spacing * kLettering))
            marks.push_back(Stroke{pathOf(s, low), narrow});
    }
    marks.push_back(Stroke{pathOf(box, low), narrow});
}

Element legendElement(const Notes& notes, Point at) {
    Element legend{.role = Role::Paragraph};
    for (const Notes::Swatch& swatch : notes.legend) {
        addSwatch(legend.marks, swatch.role, at);
        double base = at.y + (kSwatchHeight + kLettering) / 2;
        for (const std::string& words : swatch.lines) {
            legend.marks.push_back(Text{words, {at.x + kSwatchWidth + kSwatchGap, base}, noteStyle()});
            base += kLineSpacing * noteStyle().size;
        }
        at.y += rowHeight(swatch.lines.size());
    }
    return legend;
}

Element linesElement(const Notes& notes, Point at) {
    Element lines{.role = Role::Paragraph};
    for (const std::string& words : notes.lines) {
        lines.marks.push_back(Text{words, {at.x, at.y + kLettering + 0.6}, noteStyle()});
        at.y += kLineSpacing * noteStyle().size;
    }
    return lines;
}

}  // namespace

Notes notesFor(const design::Design& design, design::Stage stage, const trade::Catalogue& catalogue,
               double width) {
    const double lineHeight = kLineSpacing * noteStyle().size, column = columnWidth(width);
    Notes notes;
    double legendHeight = 0;
    for (const auto& [role, words] : legendOf(design, stage, catalogue)) {
        notes.legend.push_back({role, wrapped(words, noteStyle(), column - kSwatchWidth - kSwatchGap)});
        legendHeight += rowHeight(notes.legend.back().lines.size());
    }
    for (const std::string& note : notesOf(design, stage)) {
        for (std::string& line : wrapped(note, noteStyle(), column))
            notes.lines.push_back(std::move(line));
    }
    notes.height =
        std::max({kTestSquare, legendHeight, lineHeight * static_cast<double>(notes.lines.size())}) +
        kUnderNotes;
    return notes;
}

std::vector<Element> notesIn(const Box& space, const Notes& notes) {
    const double top = space.bottom() - notes.height, column = columnWidth(space.size.width);
    return {legendElement(notes, {space.at.x, top}),
            linesElement(notes, {space.at.x + column + kColumnGap, top}),
            testSquare({space.right() - kTestSquare, top})};
}

}  // namespace bandwright::paper
