#include "design/field_table.hpp"

#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "design/design_file.hpp"
#include "random_design.hpp"

namespace bandwright::design {
namespace {

/// "/channels/0/depth", as RFC 6901 has it.
nlohmann::json::json_pointer pointerTo(const std::string& path) {
    std::string pointer = "/";
    for (const char c : path) {
        if (c == '.' || c == '[') pointer += '/';
        if (c != '.' && c != '[' && c != ']') pointer += c;
    }
    return nlohmann::json::json_pointer(pointer);
}

// A parser that is not ours finds the same numbers at the same paths.
RC_GTEST_PROP(FieldsOfADesign, StandWhereTheirPathsSay, ()) {
    Design design = randomDesign();
    const nlohmann::json file = nlohmann::json::parse(formatDesign(design));
    for (const DesignNumber& number : numbersIn(design)) {
        RC_ASSERT(file.at(pointerTo(number.path)).get<double>() == number.value);
        RC_ASSERT(numberAt(design, number.path) != nullptr);
        *numberAt(design, number.path) += 1;
    }
    for (const DesignNumber& number : numbersIn(design))
        RC_ASSERT(numberAt(std::as_const(design), number.path) != nullptr);
}

RC_GTEST_PROP(FieldsOfADesign, AreRowsOfTheTableAndCanBeReached, ()) {
    Design design = randomDesign();
    const nlohmann::json file = nlohmann::json::parse(formatDesign(design));
    std::size_t numbers = 0;
    for (const Field& field : fieldsIn(design)) {
        const Field* row = fieldNamed(withoutPlaces(field.path));
        RC_ASSERT(row != nullptr);
        RC_ASSERT(row->control == field.control);
        RC_ASSERT(covers(row->path, field.path));
        const std::optional<Field> again = fieldAt(design, field.path);
        RC_ASSERT(again.has_value());
        RC_ASSERT(again->label == field.label);
        RC_ASSERT(again->phrase == field.phrase);
        const FieldValue value = valueAt(design, field.path);
        RC_ASSERT(!std::holds_alternative<std::monostate>(value));
        const auto* part = std::get_if<PartSwitch>(&value);
        RC_ASSERT(file.contains(pointerTo(field.path)) || (part != nullptr && !part->isThere));
        numbers += field.control == Control::Thimble ? 1 : 0;
    }
    RC_ASSERT(numbers == numbersIn(design).size());
}

TEST(TableOfFields, HasWordsForEachAndEachOnce) {
    std::set<std::string> paths;
    for (const Field& field : fieldTable()) {
        EXPECT_TRUE(paths.insert(field.path).second) << field.path;
        EXPECT_FALSE(field.label.empty()) << field.path;
        EXPECT_FALSE(field.help.empty()) << field.path;
        if (field.control != Control::Thimble) continue;
        EXPECT_LT(field.number.least, field.number.most) << field.path;
        EXPECT_GT(field.number.step, 0) << field.path;
        // The smallest step that a maker can read off is a whole number of units of the last decimal shown.
        const double parts =
            shownFactor(field.number.unit) * field.number.grid * std::pow(10, field.number.decimals);
        EXPECT_NEAR(parts, std::round(parts), 1e-9) << field.path;
        EXPECT_GE(parts, 1 - 1e-9) << field.path;
    }
    EXPECT_GT(paths.size(), 70U);
}

TEST(TableOfFields, NamesNoTwoNumbersOfADesignAlike) {
    Design design = withOneOfEach(withOneOfEach({}));
    for (Setting& setting : design.settings)
        setting.hole.steps.resize(2);
    std::set<std::string> phrases;
    for (const Field& field : fieldsIn(design)) {
        if (field.control != Control::Thimble && field.control != Control::Count) continue;
        EXPECT_TRUE(phrases.insert(field.phrase).second) << field.phrase;
    }
}

TEST(TableOfFields, SpeaksTheWordsOfTheCard) {
    Design design = withOneOfEach(withOneOfEach({}));
    const auto phrase = [&](const char* path) { return fieldAt(design, path)->phrase; };
    EXPECT_EQ(phrase("channels[1].depth"), "the depth of channel 2");
    EXPECT_EQ(phrase("channels[0].offset"), "the offset of channel 1 from mid-width");
    EXPECT_EQ(phrase("settings[1].tube.height"), "the height of the tube of setting 2");
    EXPECT_EQ(phrase("settings[1].hole.steps[0].diameter"),
              "the diameter of the step of the hole of setting 2");
    EXPECT_EQ(phrase("settings[0].placement.angles[0]"), "the angle of setting 1");
    EXPECT_EQ(phrase("channels[1].fill.grain-most"), "the largest grain of the fill of channel 2");
    EXPECT_EQ(phrase("channels[0].fill.proud"), "the height of the fill of channel 1 above the metal");
    EXPECT_EQ(phrase("allowances.sizing"), "the metal left in the bore for sizing");
    EXPECT_EQ(phrase("band.left.width"), "the bevel width of the left edge");
    design.band.left.shape = EdgeShape::Round;
    EXPECT_EQ(phrase("band.left.width"), "the radius of the left edge");
    design.channels.pop_back();
    EXPECT_EQ(phrase("channels[0].depth"), "the depth of the channel");
    EXPECT_EQ(fieldAt(design, "settings[0].hole.steps[0].depth")->label, "Step depth");
    design.settings[0].hole.steps.resize(2);
    EXPECT_EQ(fieldAt(design, "settings[0].hole.steps[1].depth")->label, "Step 2 depth");
}

TEST(TableOfFields, KnowsWhichFieldsMeanSomething) {
    Design design;
    const auto counts = [&](const char* path) { return fieldAt(design, path)->counts; };
    design.band.outside.shape = OutsideShape::Flat;
    EXPECT_FALSE(counts("band.outside.rise"));
    design.band.outside.shape = OutsideShape::Domed;
    EXPECT_TRUE(counts("band.outside.rise"));
    design.settings.emplace_back();
    EXPECT_TRUE(counts("settings[0].stone.star-length"));
    EXPECT_FALSE(counts("settings[0].stone.dome"));
    design.settings[0].stone->cut = StoneCut::Cabochon;
    EXPECT_FALSE(counts("settings[0].stone.star-length"));
    EXPECT_TRUE(counts("settings[0].stone.dome"));
}

TEST(Paths, ThatAreNoneLeadNowhere) {
    Design design = withOneOfEach({});
    for (const char* path : {"",
                             ".",
                             "band",
                             "band.",
                             ".width",
                             "band..width",
                             "band.wdth",
                             "band.width.x",
                             "channels",
                             "channels[]",
                             "channels[x].depth",
                             "channels[1].depth",
                             "channels[-1].depth",
                             "channels[0.depth",
                             "channels[0]",
                             "channels.depth",
                             "channels[#].depth",
                             "channels[99999999999999999999].depth",
                             "band[0].width",
                             "settings[0].hole.steps",
                             "a.b.c.d.e.f.g.h.i",
                             "settings[0].placement.count"}) {
        EXPECT_EQ(numberAt(design, path), nullptr) << path;
    }
    for (const char* pattern : {"", ".", "band.", "band..width", "band.width.x", "band[0]", "channels[]"})
        EXPECT_FALSE(covers(pattern, "band.width")) << pattern;
    EXPECT_NE(numberAt(design, "settings[0].placement.angles[0]"), nullptr);
    EXPECT_EQ(withoutPlaces("settings[3].hole.steps[1].depth"), "settings[#].hole.steps[#].depth");
    EXPECT_EQ(withPlaces("settings[#].hole.steps[#].depth", {3, 1}), "settings[3].hole.steps[1].depth");
}

TEST(ValuesOfFields, CanBeChangedWhateverTheyAre) {
    Design design = withOneOfEach({});
    auto shape = std::get<WordChoice>(valueAt(design, "band.outside.shape"));
    ASSERT_EQ(shape.options.size(), 4U);
    EXPECT_EQ(shape.options[shape.chosen].id, "flat");
    shape.choose(3);
    EXPECT_EQ(design.band.outside.shape, OutsideShape::Hollow);
    auto liner = std::get<PartSwitch>(valueAt(design, "band.liner"));
    EXPECT_TRUE(liner.isThere);
    liner.put(false);
    EXPECT_FALSE(design.band.liner.has_value());
    *std::get<int*>(valueAt(design, "settings[0].placement.count")) = 5;
    EXPECT_EQ(design.settings[0].placement.count, 5);
    *std::get<std::string*>(valueAt(design, "band.metal")) = "tantalum";
    EXPECT_EQ(design.band.metal, "tantalum");
}

}  // namespace
}  // namespace bandwright::design
