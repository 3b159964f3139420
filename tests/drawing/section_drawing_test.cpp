#include "drawing/section_drawing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <regex>

#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "random_design.hpp"
#include "sample_rings.hpp"

namespace bandwright::drawing {
namespace {

Layout layoutOf(double scale, double textHeight) {
    Layout layout;
    layout.scale = scale;
    layout.textHeight = textHeight;
    return layout;
}

/// Ten to one with usual lettering, and a small scale at which it is crowded.
const std::vector<Layout>& bothLayouts() {
    static const std::vector<Layout> both{layoutOf(10, 2.5), layoutOf(5, 3.5)};
    return both;
}

Drawing plainDrawing(const design::Design& design, design::Stage stage = design::Stage::Finished,
                     const Layout& layout = {}) {
    return sectionDrawing(design, stage, geometry::sections(design, stage), layout);
}

/// The first number written in a text.
double printed(const Text& text) {
    std::smatch found;
    EXPECT_TRUE(std::regex_search(text.words, found, std::regex("[0-9]+\\.[0-9]+"))) << text.words;
    return std::stod(found.str());
}

const Dimension* dimensionOf(const Drawing& drawing, const std::string& field) {
    const auto found = std::ranges::find(drawing.dimensions, field, &Dimension::field);
    return found == drawing.dimensions.end() ? nullptr : &*found;
}

double valueOf(const Drawing& drawing, const std::string& field) {
    const Dimension* found = dimensionOf(drawing, field);
    EXPECT_NE(found, nullptr) << field;
    return found == nullptr ? -1 : found->value;
}

bool overlap(const geometry::Rectangle& a, const geometry::Rectangle& b) {
    return a.low.z < b.high.z && b.low.z < a.high.z && a.low.r < b.high.r && b.low.r < a.high.r;
}

bool isSame(const geometry::Segment& paper, const geometry::Segment& ring, double scale) {
    return paper.from == scale * ring.from && paper.to == scale * ring.to &&
           paper.radius == scale * ring.radius && paper.isArc() == ring.isArc() && paper.tag == ring.tag &&
           (!ring.isArc() || (paper.centre == scale * ring.centre && paper.ccw == ring.ccw));
}

void expectOutlines(const Drawing& drawing, geometry::PartRole role,
                    const std::vector<geometry::Section>& sections) {
    std::vector<const CutBody*> bodies;
    for (const CutBody& body : drawing.bodies) {
        if (body.role == role) bodies.push_back(&body);
    }
    std::size_t next = 0;
    for (const geometry::Section& section : sections) {
        if (section.empty()) continue;
        ASSERT_LT(next, bodies.size());
        const geometry::Section& outline = bodies[next++]->outline;
        ASSERT_EQ(outline.size(), section.size());
        for (std::size_t l = 0; l < section.size(); ++l) {
            ASSERT_EQ(outline[l].size(), section[l].size());
            for (std::size_t i = 0; i < section[l].size(); ++i)
                EXPECT_TRUE(isSame(outline[l][i], section[l][i], drawing.scale));
        }
    }
    EXPECT_EQ(next, bodies.size());
}

TEST(SectionDrawing, OutlinesAreThoseOfTheSectionsToScale) {
    for (const StagedDesign& ring : samplesAtAllStages()) {
        SCOPED_TRACE(ring.name);
        const std::vector<Drawing> drawings = allDrawings(ring, layoutOf(12.5, 2.5));
        const geometry::RingSections plain = geometry::sections(ring.design, ring.stage);
        expectOutlines(drawings[0], geometry::PartRole::Band, {plain.band});
        expectOutlines(drawings[0], geometry::PartRole::Liner, {plain.liner});
        expectOutlines(drawings[0], geometry::PartRole::Fill, plain.fills);
        for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
            const geometry::SettingSection through = geometry::sectionThrough(ring.design, i, ring.stage);
            expectOutlines(drawings[i + 1], geometry::PartRole::Band, {through.band});
            expectOutlines(drawings[i + 1], geometry::PartRole::Fill, through.fills);
            expectOutlines(drawings[i + 1], geometry::PartRole::Tube, {through.tube});
            expectOutlines(drawings[i + 1], geometry::PartRole::Stone, {through.stone});
        }
    }
}

TEST(SectionDrawing, NumbersAreTheDistancesOfTheirPlacesRoundedOnce) {
    for (const StagedDesign& ring : samplesAtAllStages()) {
        SCOPED_TRACE(ring.name);
        for (const Drawing& drawing : allDrawings(ring, {})) {
            for (const Dimension& d : drawing.dimensions) {
                const geometry::Vec2 way = d.to - d.from;
                const double between = d.measured == Measured::AlongAxis     ? std::abs(way.z)
                                       : d.measured == Measured::AlongRadius ? std::abs(way.r)
                                                                             : std::hypot(way.z, way.r);
                EXPECT_DOUBLE_EQ(d.value, between) << d.field;
                EXPECT_NEAR(printed(d.text), d.value, 0.005 + 1e-12) << d.field;
            }
        }
    }
}

TEST(SectionDrawing, ANumberJustUnderHalfAHundredthIsNotRoundedUpTwice) {
    design::Design design;
    design.band.width = 7.9949999;  // by way of 7.995 it would be 8.00
    EXPECT_EQ(dimensionOf(plainDrawing(design), "band.width")->text.words, "7.99");
    design.band.width = 7.9950001;
    EXPECT_EQ(dimensionOf(plainDrawing(design), "band.width")->text.words, "8.00");
}

/// The number of the design that a dimension of the finished ring shows; nothing for one that follows from
/// it. A lip that is closed over its stone no longer has the height of its tube.
std::optional<double> designed(const design::Design& design, const Dimension& d) {
    if (!d.isField || d.field.ends_with("tube.height")) return std::nullopt;
    if (d.field == "finger.size") return 2 * design::boreRadius(design);
    const double* number = design::numberAt(design, d.field);
    EXPECT_NE(number, nullptr) << d.field;
    return number == nullptr ? std::nullopt : std::optional(*number);
}

/// Tools that touch the work were made larger by some nanometres, at most by half a micrometre (`nudged`).
void expectAsDesigned(const design::Design& design, const Drawing& drawing) {
    for (const Dimension& d : drawing.dimensions) {
        if (const auto number = designed(design, d)) {
            EXPECT_NEAR(d.value, *number, 1e-4) << d.field;
        }
    }
}

TEST(SectionDrawing, TheFinishedRingMeasuresWhatTheDesignSays) {
    for (const StagedDesign& ring : samplesAtAllStages()) {
        if (ring.stage != design::Stage::Finished) continue;
        SCOPED_TRACE(ring.name);
        const std::vector<Drawing> drawings = allDrawings(ring, {});
        for (const Drawing& drawing : drawings)
            expectAsDesigned(ring.design, drawing);
        std::vector<std::string> shown{"finger.size", "band.width", "band.thickness", "band.left.width",
                                       "band.right.width"};
        for (std::size_t i = 0; i < ring.design.channels.size(); ++i) {
            shown.push_back("channels[" + std::to_string(i) + "].width");
            shown.push_back("channels[" + std::to_string(i) + "].depth");
        }
        for (const std::string& field : shown)
            EXPECT_NE(dimensionOf(drawings[0], field), nullptr) << field;
        for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
            const std::string setting = "settings[" + std::to_string(i) + "]";
            EXPECT_NE(dimensionOf(drawings[i + 1], setting + ".hole.pilot-diameter"), nullptr);
            EXPECT_NE(dimensionOf(drawings[i + 1], setting + ".stone.diameter"), nullptr);
        }
    }
    for (StagedDesign& ring : designsByLot(300)) {
        SCOPED_TRACE(ring.name);
        ring.stage = design::Stage::Finished;
        expectAsDesigned(ring.design, plainDrawing(ring.design));
    }
}

TEST(SectionDrawing, WhatIsNotInTheMiddleHasItsPlaceFromTheNearerEdge) {
    design::Design design = sampleDesign("harbour");
    design.settings.resize(1);
    design.channels.resize(1);
    const double half = design.band.width / 2;
    for (const double side : {-1.0, 1.0}) {
        design.channels[0].width = 1.5;
        design.channels[0].offset = side * 0.7;
        design.settings[0].placement.offset = -side * 0.4;
        const Drawing plain = plainDrawing(design);
        EXPECT_NEAR(valueOf(plain, "channels[0].offset"), half - 0.7 - 0.75, 1e-6);
        const Drawing through = settingDrawing(design, design::Stage::Finished, 0, geometry::sections(design),
                                               geometry::sectionThrough(design, 0), Layout());
        EXPECT_NEAR(valueOf(through, "settings[0].placement.offset"), half - 0.4, 1e-6);
    }
    design.channels[0].offset = design.settings[0].placement.offset = 0;
    EXPECT_EQ(dimensionOf(plainDrawing(design), "channels[0].offset"), nullptr);
}

TEST(SectionDrawing, LimitsStandAfterTheNumbersTheyAreOf) {
    const design::Design design = sampleDesign("harbour");
    Layout layout;
    layout.limits = {
        {"band.width", 0.05}, {"channels[0].depth", 0.1}, {"finger.size", 0.02}, {"band.left.width", 0.1}};
    const Drawing drawing = plainDrawing(design, design::Stage::Polished, layout);
    EXPECT_EQ(dimensionOf(drawing, "band.width")->text.words, "8.00 \u00B10.05");
    EXPECT_EQ(dimensionOf(drawing, "band.thickness")->text.words.find("\u00B1"), std::string::npos);
    EXPECT_EQ(dimensionOf(drawing, "band.left.width")->text.words, "0.80 \u00B10.1 \u00D7 45\u00B0");
    EXPECT_NE(dimensionOf(drawing, "finger.size")->text.words.find(" \u00B10.02, polished"),
              std::string::npos);
    for (const Dimension& d : drawing.dimensions) {
        if (d.field == "channels[0].depth") {
            EXPECT_EQ(d.text.words.find("\u00B1") != std::string::npos, d.isField) << d.text.words;
        }
    }
}

/// Metal that later steps remove still counts in the numbers of earlier stages.
TEST(SectionDrawing, EarlierStagesMeasureTheirAllowancesToo) {
    const design::Design design = sampleDesign("harbour");
    const design::Allowances& left = design.allowances;
    const Drawing channelled = plainDrawing(design, design::Stage::Channelled);
    EXPECT_NEAR(valueOf(channelled, "finger.size"), 2 * (design::boreRadius(design) - left.sizing), 1e-9);
    EXPECT_NEAR(valueOf(channelled, "band.thickness"), design.band.thickness + left.sizing + left.truing,
                1e-9);
    EXPECT_NEAR(valueOf(channelled, "channels[0].depth"), design.channels[0].depth + left.truing, 1e-9);
    EXPECT_NEAR(valueOf(plainDrawing(design, design::Stage::Turned), "band.width"),
                design.band.width + 2 * left.parting, 1e-9);
    EXPECT_EQ(dimensionOf(channelled, "band.left.width"), nullptr);  // the edges are still sharp
    EXPECT_NE(dimensionOf(channelled, "finger.size")->text.words.find("channelled"), std::string::npos);
}

TEST(SectionDrawing, AnEmptyHoleIsMeasuredAndAFullOneByWhatStandsInIt) {
    const StagedDesign harbour{"harbour", sampleDesign("harbour"), design::Stage::Drilled};
    const Drawing drilled = allDrawings(harbour, {})[1];
    EXPECT_NEAR(valueOf(drilled, "settings[0].hole.steps[0].diameter"),
                harbour.design.settings[0].hole.steps[0].diameter, 1e-9);
    EXPECT_NEAR(valueOf(drilled, "settings[0].hole.steps[0].depth"), 1.5 + harbour.design.allowances.truing,
                1e-9);
    EXPECT_EQ(dimensionOf(drilled, "settings[0].tube.height"), nullptr);
    const Drawing joined = allDrawings({"harbour", harbour.design, design::Stage::Joined}, {})[1];
    EXPECT_NEAR(valueOf(joined, "settings[0].tube.height"), 1.75, 1e-9);
    EXPECT_EQ(dimensionOf(joined, "settings[0].hole.steps[0].diameter"), nullptr);
    // A lip that has been closed over the stone stands lower than the tube was high.
    const Drawing closed = allDrawings({"harbour", harbour.design, design::Stage::Finished}, {})[1];
    EXPECT_LT(valueOf(closed, "settings[0].tube.height"), 1.75);
}

/// ISO 128-2: an axis is a long-dashed dotted narrow line that passes the outline at both ends.
TEST(SectionDrawing, AHoleHasItsAxis) {
    const StagedDesign ring{"orchard-gate", sampleDesign("orchard-gate"), design::Stage::Finished};
    const Drawing drawing = allDrawings(ring, {})[1];
    ASSERT_EQ(drawing.strokes.size(), 1U);
    EXPECT_EQ(drawing.strokes[0].line, LineKind::Axis);
    const geometry::Segment& axis = drawing.strokes[0].path;
    const geometry::Rectangle bodies = bodiesOf(drawing);
    EXPECT_EQ(axis.from.z, drawing.scale * ring.design.settings[0].placement.offset);
    EXPECT_EQ(axis.to.z, axis.from.z);
    EXPECT_LT(axis.from.r, bodies.low.r);
    EXPECT_GT(axis.to.r, bodies.high.r);
    for (const Dimension& d : drawing.dimensions)
        EXPECT_FALSE(overlap(boxOf(d.text), geometry::rectangleRound(axis))) << d.text.words;
}

TEST(SectionDrawing, RoundThingsAreMarkedAsDiametersAndRoundedEdgesAsRadii) {
    const design::Design lamps = sampleDesign("seven-lamps");
    const std::vector<Drawing> drawings = allDrawings({"seven-lamps", lamps, design::Stage::Finished}, {});
    EXPECT_EQ(dimensionOf(drawings[0], "band.left.width")->text.words, "R 0.30");
    EXPECT_EQ(dimensionOf(drawings[1], "settings[0].stone.diameter")->text.words, "\u00D8 1.60");
    EXPECT_EQ(dimensionOf(drawings[1], "settings[0].hole.pilot-diameter")->text.words, "pilot \u00D8 1.00");
    const design::Design road = sampleDesign("anvil-road");
    const Drawing plain = plainDrawing(road);
    EXPECT_EQ(dimensionOf(plain, "band.left.width")->text.words, "1.20 \u00D7 30\u00B0");
    EXPECT_EQ(dimensionOf(plain, "band.right.width")->text.words, "0.60 \u00D7 45\u00B0");
    design::Design oval = lamps;
    oval.settings[0].stone->cut = design::StoneCut::Oval;
    oval.settings[0].stone->length = 2;
    EXPECT_EQ(
        dimensionOf(allDrawings({"oval", oval, design::Stage::Finished}, {})[1], "settings[0].stone.diameter")
            ->text.words,
        "1.60");
}

std::string otherSide(std::string field) {
    if (field.starts_with("band.left.")) return "band.right." + field.substr(10);
    if (field.starts_with("band.right.")) return "band.left." + field.substr(11);
    return field;
}

/// Within the nanometres by which tools are enlarged, and their effect along a flat arc.
TEST(SectionDrawing, AMirroredDesignHasTheMirroredDimensions) {
    for (const StagedDesign& ring : designsByLot(200)) {
        SCOPED_TRACE(ring.name);
        const Drawing drawing = plainDrawing(ring.design, ring.stage);
        const Drawing other = plainDrawing(geometry::mirrored(ring.design), ring.stage);
        ASSERT_EQ(drawing.dimensions.size(), other.dimensions.size());
        for (const Dimension& d : drawing.dimensions) {
            // These two stand at one side of every section.
            const bool keepsItsSide = d.field == "band.thickness" || d.field == "band.liner.thickness";
            const auto isImage = [&](const Dimension& o) {
                const auto same = [](double x, double y) { return std::abs(x - y) < 1e-4; };
                const geometry::Vec2 middle = 0.5 * (d.from + d.to), image = 0.5 * (o.from + o.to);
                return o.field == otherSide(d.field) && same(o.value, d.value) &&
                       (d.measured == Measured::AlongAxis || same(middle.r, image.r)) &&
                       (keepsItsSide || same(middle.z, -image.z));
            };
            EXPECT_TRUE(std::ranges::any_of(other.dimensions, isImage)) << d.field;
        }
    }
}

void expectLegible(const Drawing& drawing) {
    for (std::size_t i = 0; i < drawing.dimensions.size(); ++i) {
        const geometry::Rectangle box = boxOf(drawing.dimensions[i].text);
        for (std::size_t j = 0; j < drawing.dimensions.size(); ++j) {
            const Dimension& other = drawing.dimensions[j];
            if (i == j) continue;
            EXPECT_FALSE(overlap(box, boxOf(other.text)))
                << drawing.dimensions[i].text.words << " on " << other.text.words;
            // Two arrowheads: a dimension line, and no leader.
            if (other.arrows.size() == 2) {
                const geometry::Segment& s = other.lines.front();
                EXPECT_FALSE(overlap(box, geometry::rectangleRound(s)))
                    << drawing.dimensions[i].text.words << " on the line of " << other.text.words;
            }
        }
        for (const CutBody& body : drawing.bodies) {
            for (const geometry::Segment& s : body.hatching) {
                const geometry::Vec2 middle = 0.5 * (s.from + s.to);
                EXPECT_FALSE(overlap(box, {middle, middle}))
                    << drawing.dimensions[i].text.words << " is hatched";
            }
        }
    }
}

TEST(SectionDrawing, NoTextLiesOnAnotherAndNoHatchingRunsThroughIt) {
    for (const StagedDesign& ring : samplesAtAllStages()) {
        SCOPED_TRACE(ring.name);
        for (const Layout& layout : bothLayouts()) {
            for (const Drawing& drawing : allDrawings(ring, layout))
                expectLegible(drawing);
        }
    }
    for (const StagedDesign& ring : designsByLot(100)) {
        SCOPED_TRACE(ring.name);
        for (const Layout& layout : bothLayouts())
            expectLegible(plainDrawing(ring.design, ring.stage, layout));
    }
}

TEST(SectionDrawing, WhatIsPointedOutKeepsClearOfTheDimensions) {
    const design::Design design = sampleDesign("night-ferry");
    const geometry::RingSections plain = geometry::sections(design);
    for (const double z : {-3.0, -1.2, 0.0, 1.2}) {
        for (const Layout& layout : bothLayouts()) {
            const PointedOut pointed{{z, 9}, {z, 10}, "0.90 mm"};
            const Drawing drawing = sectionDrawing(design, design::Stage::Finished, plain, layout, pointed);
            ASSERT_TRUE(drawing.witness.has_value());
            EXPECT_EQ(drawing.witness->line.from, layout.scale * pointed.from);
            for (const Dimension& d : drawing.dimensions)
                EXPECT_FALSE(overlap(boxOf(drawing.witness->text), boxOf(d.text))) << d.text.words;
        }
    }
}

/// ISO 129-1: text over its dimension line and between the arrowheads where it fits there, else beside;
/// filled arrowheads of 15 to 30 degrees that point in from outside where there is no room for them.
TEST(SectionDrawing, TextAndArrowheadsStandBetweenTheExtensionLinesOrBesideThem) {
    for (const double width : {0.3, 3.0}) {
        design::Design design;
        design.channels.push_back({});
        design.channels[0].width = width;
        const Drawing drawing = plainDrawing(design);
        const Dimension& d = *dimensionOf(drawing, "channels[0].width");
        const double left = 10 * std::min(d.from.z, d.to.z), right = 10 * std::max(d.from.z, d.to.z);
        const geometry::Rectangle box = boxOf(d.text);
        const bool roomy = width > 1;
        EXPECT_EQ(box.low.z > left && box.high.z < right, roomy);
        if (!roomy) {
            EXPECT_GT(box.low.z, right);
        }
        EXPECT_GT(box.low.r, d.lines.front().from.r);
        ASSERT_EQ(d.arrows.size(), 2U);
        for (const auto& [tip, a, b] : d.arrows) {
            const geometry::Vec2 back = 0.5 * (a + b);
            EXPECT_NEAR(geometry::distance(tip, back), 2.5, 1e-12);
            const double angle = 2 * std::atan(geometry::distance(a, b) / 2 / geometry::distance(tip, back)) *
                                 180 / std::numbers::pi;
            EXPECT_GE(angle, 15);
            EXPECT_LE(angle, 30);
            EXPECT_EQ(back.z > left && back.z < right, roomy);
        }
    }
}

/// Extension lines leave a gap at the outline and end past the dimension line (ISO 129-1).
TEST(SectionDrawing, ExtensionLinesStandOffTheOutlineAndPassTheDimensionLine) {
    const Drawing drawing = plainDrawing(sampleDesign("harbour"));
    const Dimension& d = *dimensionOf(drawing, "band.width");
    ASSERT_EQ(d.extensions.size(), 2U);
    for (const geometry::Segment& s : d.extensions) {
        EXPECT_GT(s.from.r, 10 * std::max(d.from.r, d.to.r) - 1e-9);
        EXPECT_NEAR(s.to.r - d.lines.front().from.r, 8 * lineWidth(LineKind::Thin, 2.5), 1e-9);
    }
}

}  // namespace
}  // namespace bandwright::drawing
