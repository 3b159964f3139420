#include <gtest/gtest.h>

#include <functional>
#include <map>
#include <ostream>
#include <regex>
#include <string>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/fields.hpp"
#include "geometry/ring.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

/// The sentence that refuses a design; empty when it is not.
std::string refusal(const design::Design& design) {
    try {
        requireBuildable(design);
        return {};
    } catch (const base::InputError& error) {
        return error.what();
    }
}

/// Finds the number at a path such as "channels[0].depth".
struct NumberAt {
    std::string path;
    std::string here;
    double* found = nullptr;
    design::NumberField range{};

    template <class T, class Field>
    void operator()(std::string_view key, T& value, const Field& field, const design::Words& /*words*/) {
        const std::string before = here;
        here += (before.empty() ? "" : ".") + std::string(key);
        visit(value, field);
        here = before;
    }
    void visit(double& value, const design::NumberField& field) {
        if (here != path) return;
        found = &value;
        range = field;
    }
    template <class T, class Rule>
    void visit(std::vector<T>& items, const design::ListField<Rule>& field) {
        const std::string before = here;
        for (std::size_t i = 0; i < items.size(); ++i) {
            here = before + "[" + std::to_string(i) + "]";
            visit(items[i], field.each);
        }
        here = before;
    }
    template <class T>
    void visit(std::optional<T>& part, const design::GroupField& field) {
        if (part) visit(*part, field);
    }
    template <class T>
    void visit(T& group, const design::GroupField& /*field*/) {
        design::visitFields(*this, group);
    }
    template <class T, class Field>
    void visit(T& /*value*/, const Field& /*field*/) {}
};

NumberAt numberAt(design::Design& design, const std::string& path) {
    NumberAt search{.path = path, .here = {}};
    design::visitFields(search, design);
    return search;
}

/// "PATH is FOUND UNIT, WHY; allowed: at most BOUND UNIT", or at least, or "LEAST UNIT to MOST UNIT".
struct Refusal {
    std::string path, why;
    double found = 0;
    bool hasLeast = false, hasMost = false;
    double least = 0, most = 0;
};

bool parse(const std::string& sentence, Refusal& refusal) {
    static const std::string number = "(-?[0-9.]+(?:e-?[0-9]+)?) (mm|degrees)";
    static const std::regex one("([a-z0-9.\\-\\[\\]]+) is " + number +
                                ", ([^;]+); allowed: (at most|at least) " + number);
    static const std::regex both("([a-z0-9.\\-\\[\\]]+) is " + number + ", ([^;]+); allowed: " + number +
                                 " to " + number);
    std::smatch match;
    if (std::regex_match(sentence, match, one)) {
        EXPECT_EQ(match[3], match[7]) << sentence;
        refusal = {.path = match[1], .why = match[4], .found = std::stod(match[2])};
        (match[5] == "at most" ? refusal.hasMost : refusal.hasLeast) = true;
        (match[5] == "at most" ? refusal.most : refusal.least) = std::stod(match[6]);
        return true;
    }
    if (!std::regex_match(sentence, match, both)) return false;
    refusal = {.path = match[1],
               .why = match[4],
               .found = std::stod(match[2]),
               .hasLeast = true,
               .hasMost = true,
               .least = std::stod(match[5]),
               .most = std::stod(match[7])};
    return true;
}

/// Whether the design with this number at the refusal's path is refused for the same reason.
bool isRefusedAgain(design::Design design, const Refusal& refusal, double value, bool anyReason) {
    const NumberAt number = numberAt(design, refusal.path);
    *number.found = value;
    Refusal again;
    return parse(geometry::refusal(design), again) && again.path == refusal.path &&
           (anyReason || again.why == refusal.why);
}

void checkBound(const design::Design& design, const Refusal& refusal, double bound, double outwards) {
    design::Design copy = design;
    const design::NumberField range = numberAt(copy, refusal.path).range;
    EXPECT_TRUE(bound >= range.least && bound <= range.most) << refusal.path << " cannot have this value";
    EXPECT_FALSE(isRefusedAgain(design, refusal, bound, false)) << refusal.path << " at its bound";
    const double outside = bound + outwards;
    if (outside >= range.least && outside <= range.most) {
        EXPECT_TRUE(isRefusedAgain(design, refusal, outside, true)) << refusal.path << " just outside";
    }
}

TEST(Buildable, EveryBoundNamedIsAllowedAndJustOutsideItIsNot) {
    std::map<std::string, int> reasons;
    const std::uint64_t designs = designsToDraw(10000);
    for (std::uint64_t seed = 0; seed < designs; ++seed) {
        const design::Design design = randomDesign(seed);
        const std::string sentence = refusal(design);
        if (sentence.empty()) continue;
        SCOPED_TRACE("seed " + std::to_string(seed) + ": " + sentence);
        Refusal refusal;
        if (!parse(sentence, refusal)) continue;
        ++reasons[refusal.why];
        design::Design copy = design;
        const NumberAt number = numberAt(copy, refusal.path);
        ASSERT_NE(number.found, nullptr);
        EXPECT_DOUBLE_EQ(*number.found, refusal.found);
        constexpr double kBeyond = 2.1e-3;  // bounds are named in thousandths
        if (refusal.hasMost) checkBound(design, refusal, refusal.most, kBeyond);
        if (refusal.hasLeast) checkBound(design, refusal, refusal.least, -kBeyond);
    }
    if (designs >= 20000) {
        EXPECT_GE(reasons.size(), 20u) << "the designs drawn reach most refusals";
    }
}

TEST(Buildable, EveryBoundNamedOfAStoneCanBeFollowed) {
    static const std::regex stone(
        "settings\\[([0-9]+)\\]\\.stone: a (star length|table) of [0-9.]+ % found; with this .* (more|less) "
        "than "
        "([0-9.]+) % is needed\\.");
    std::map<std::string, int> reasons;
    const auto follow = [&](design::Design design) {
        const std::string sentence = refusal(design);
        std::smatch match;
        if (!std::regex_match(sentence, match, stone)) return;
        ++reasons[match[2]];
        const std::string path =
            "settings[" + match[1].str() + "].stone." + (match[2] == "table" ? "table" : "star-length");
        const NumberAt number = numberAt(design, path);
        ASSERT_NE(number.found, nullptr) << path;
        *number.found = std::stod(match[4]) + (match[3] == "more" ? 0.05 : -0.05);
        EXPECT_TRUE(*number.found >= number.range.least && *number.found <= number.range.most) << sentence;
        const std::string then = refusal(design);
        EXPECT_EQ(then.find(": a " + match[2].str()), std::string::npos) << sentence << "\n" << then;
    };
    for (std::uint64_t seed = 0; seed < designsToDraw(2000); ++seed)
        follow(randomDesign(seed));
    for (const design::StoneCut cut :
         {design::StoneCut::RoundBrilliant, design::StoneCut::Marquise, design::StoneCut::Pear}) {
        for (int table = 20; table <= 95; table += 5) {
            for (const double star : {0.0, 50.0, 100.0}) {
                for (const double length : {0.0, 6.0, 40.0}) {
                    design::Design design;
                    design.settings = {design::Setting{}};
                    design.settings[0].stone = design::Stone{.cut = cut,
                                                             .diameter = 3,
                                                             .length = length,
                                                             .table = static_cast<double>(table),
                                                             .starLength = star};
                    follow(design);
                }
            }
        }
    }
    EXPECT_EQ(reasons.size(), 2U);
}

TEST(Buildable, OtherRefusalsNameSomethingElseToChange) {
    for (std::uint64_t seed = 0; seed < designsToDraw(10000); ++seed) {
        const std::string sentence = refusal(randomDesign(seed));
        Refusal refusal;
        if (sentence.empty() || parse(sentence, refusal)) continue;
        static const std::regex others(
            "band\\.left\\.width and band\\.right\\.width are .* mm and .* mm, which cross; allowed: for "
            "instance .* mm and .* mm|"
            "[a-z0-9.\\-\\[\\]]+ is [^;]*; allowed: (an?|something) [a-z ]+|"
            "settings\\[[0-9]\\]\\.hole\\.steps is empty, .*; allowed: .*|"
            "settings\\[[0-9]\\]\\.stone: .* found; .*(needed|allowed)\\.|"
            "channels: together they leave no metal; allowed: channels that leave a band");
        EXPECT_TRUE(std::regex_match(sentence, others)) << "seed " << seed << ": " << sentence;
    }
}

TEST(Buildable, EdgesThatCrossAreNamedWithWidthsThatDoNot) {
    int found = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(20000); ++seed) {
        design::Design design = randomDesign(seed);
        const std::string sentence = refusal(design);
        static const std::regex cross(".*, which cross; allowed: for instance ([0-9.]+) mm and ([0-9.]+) mm");
        std::smatch match;
        if (!std::regex_match(sentence, match, cross)) continue;
        ++found;
        design.band.left.width = std::stod(match[1]);
        design.band.right.width = std::stod(match[2]);
        EXPECT_EQ(refusal(design).find("which cross"), std::string::npos) << sentence;
    }
    EXPECT_GT(found, 0);
}

TEST(Buildable, ADesignStraightFromItsDefaultsAndWithEveryPartIs) {
    EXPECT_EQ(refusal(design::Design{}), "");
    design::Design design;
    design.channels = {design::Channel{}};
    design.settings = {design::Setting{}};
    EXPECT_EQ(refusal(design), "");
}

/// A sentence and the change to an ordinary design that brings it about.
struct Case {
    const char* sentence;
    std::function<void(design::Design&)> change;
};
void PrintTo(const Case& sought, std::ostream* out) {
    *out << sought.sentence;
}

class Refusals : public testing::TestWithParam<Case> {};

TEST_P(Refusals, SayWhereWhatAndWhatIsAllowed) {
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 20};
    design.channels = {design::Channel{}};
    design.settings = {design::Setting{}};
    GetParam().change(design);
    EXPECT_NO_THROW(design::requireValid(design)) << "the file would not take it";
    EXPECT_EQ(refusal(design), GetParam().sentence);
}

INSTANTIATE_TEST_SUITE_P(
    OfTheBand, Refusals,
    testing::Values(
        Case{"band.outside.rise is 4.5 mm, more than the curve of a band this wide can rise; allowed: at "
             "most 4 "
             "mm",
             [](design::Design& d) {
                 d.band.outside = {design::OutsideShape::Domed, 4.5};
             }},
        Case{
            "band.bore.rise is 0.6 mm, more than the crown beside the flat can rise; allowed: at most 0.5 mm",
            [](design::Design& d) {
                d.band.bore.flat = 7;
                d.band.bore.rise = 0.6;
            }},
        Case{"band.bore.ease is 4 mm, as much as half the band's width or more; allowed: at most 3.999 mm",
             [](design::Design& d) { d.band.bore.ease = 4; }},
        Case{"band.thickness is 1 mm, which leaves no edge face between bore and outside; allowed: at least "
             "1.251 mm",
             [](design::Design& d) {
                 d.band.thickness = 1;
                 d.band.bore.ease = 0;
                 d.band.outside = {design::OutsideShape::Domed, 1};
             }},
        Case{"band.left.width is 9 mm, as wide as the band or wider; allowed: at most 2.199 mm",
             [](design::Design& d) {
                 d.band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
                 d.band.left = {design::EdgeShape::Round, 9, 45};
             }},
        Case{
            "band.right.width is 2.5 mm, which leaves no edge face above the bore; allowed: at most 2.199 mm",
            [](design::Design& d) {
                d.band.bore = {.shape = design::BoreShape::Straight, .ease = 0};
                d.band.right.width = 2.5;
            }},
        Case{"band.right.width is 4.5 mm, past the ridge of a knife-edge band; allowed: at most 4 mm",
             [](design::Design& d) {
                 d.band.outside = {design::OutsideShape::KnifeEdge, 0.5};
                 d.band.right = {design::EdgeShape::Bevel, 4.5, 20};
             }},
        Case{"band.left.angle is 10 degrees, flatter than the outside falls there; allowed: at least 20.607 "
             "degrees",
             [](design::Design& d) {
                 d.band.outside = {design::OutsideShape::KnifeEdge, 1.5};
                 d.band.left.angle = 10;
             }},
        Case{"band.left.width and band.right.width are 5 mm and 4 mm, which cross; allowed: for instance "
             "4.444 "
             "mm and 3.555 mm",
             [](design::Design& d) {
                 d.band.left = {design::EdgeShape::Bevel, 5, 10};
                 d.band.right = {design::EdgeShape::Bevel, 4, 10};
             }}));

INSTANTIATE_TEST_SUITE_P(
    OfChannels, Refusals,
    testing::Values(
        Case{"channels[0].offset is -4.2 mm, beside the band; allowed: -4 mm to 4 mm",
             [](design::Design& d) { d.channels[0].offset = -4.2; }},
        Case{"channels[1].depth is 9.5 mm, as far as the ring's own axis; allowed: at most 9.2 mm",
             [](design::Design& d) {
                 d.finger.size = {trade::SizeSystem::Diameter, 16};
                 d.channels.push_back({.depth = 9.5});
             }},
        Case{"channels[0].draft is 30 degrees, so that the sides meet above the floor; allowed: at most "
             "26.542 "
             "degrees",
             [](design::Design& d) {
                 d.channels[0].width = 1;
                 d.channels[0].draft = 30;
             }},
        Case{"channels[0].draft is -45 degrees, so that the sides meet below the outside; allowed: at least "
             "-44.115 degrees",
             [](design::Design& d) {
                 d.band.outside = {design::OutsideShape::Domed, 0.5};
                 d.channels[0].offset = 4;
                 d.channels[0].width = 0.99;
                 d.channels[0].draft = -45;
             }},
        Case{"channels[0].floor-radius is 0.6 mm, more than the floor is wide enough for; allowed: at most "
             "0.5 mm",
             [](design::Design& d) {
                 d.channels[0].width = 1;
                 d.channels[0].floorRadius = 0.6;
             }},
        Case{"channels[0].floor-radius is 1.2 mm, more than the channel is deep enough for; allowed: at most "
             "1 mm",
             [](design::Design& d) { d.channels[0].floorRadius = 1.2; }},
        Case{"channels: together they leave no metal; allowed: channels that leave a band",
             [](design::Design& d) {
                 d.channels[0].width = 9;
                 d.channels[0].depth = 3;
             }}));

INSTANTIATE_TEST_SUITE_P(
    OfSettings, Refusals,
    testing::Values(
        Case{"settings[0].placement.offset is 5 mm, beside the band; allowed: -4 mm to 4 mm",
             [](design::Design& d) { d.settings[0].placement.offset = 5; }},
        Case{
            "settings[0].hole.pilot-depth is 0 mm, for a hole that is not drilled through; allowed: at least "
            "0.001 mm",
            [](design::Design& d) { d.settings[0].hole.bottom = design::HoleBottom::Drill118; }},
        Case{"settings[0].hole.pilot-depth is 9.8 mm, as far as the ring's own axis; allowed: at most 9.2 mm",
             [](design::Design& d) {
                 d.finger.size = {trade::SizeSystem::Diameter, 16};
                 d.settings[0].hole.bottom = design::HoleBottom::Flat;
                 d.settings[0].hole.pilotDepth = 9.8;
             }},
        Case{"settings[0].hole.steps[0].diameter is 2 mm, no wider than what is below it; allowed: at least "
             "2.001 "
             "mm",
             [](design::Design& d) { d.settings[0].hole.steps[0].diameter = 2; }},
        Case{"settings[0].hole.steps[1].depth is 1.4 mm, as deep as what is below it or deeper; allowed: at "
             "most "
             "1.399 mm",
             [](design::Design& d) {
                 d.settings[0].hole.steps.push_back({5, 1.4});
             }},
        Case{"settings[0].hole.countersink is 3 mm, deeper than the hole below it; allowed: at most 2.798 mm",
             [](design::Design& d) { d.settings[0].hole.countersink = 3; }},
        Case{"settings[0].hole.steps[0].diameter is 17 mm, nearly as wide as the finger; allowed: at most "
             "15.593 "
             "mm",
             [](design::Design& d) { d.settings[0].hole.steps[0].diameter = 17; }},
        Case{"settings[0].hole.countersink is 1 mm, which makes the hole nearly as wide as the finger; "
             "allowed: "
             "at most 0.593 mm",
             [](design::Design& d) {
                 d.settings[0].hole.steps[0].diameter = 15;
                 d.settings[0].hole.countersink = 1;
             }},
        Case{"settings[0].hole.steps is empty, so there is no flat for the tube to stand on; allowed: at "
             "least "
             "one step, or a flat bottom",
             [](design::Design& d) { d.settings[0].hole.steps.clear(); }},
        Case{"settings[0].tube.seat-diameter is 4.55 mm, which leaves no lip; allowed: at most 4.549 "
             "mm",
             [](design::Design& d) { d.settings[0].tube->seatDiameter = 4.55; }},
        Case{"settings[0].tube.inner-diameter is 4.2 mm, which leaves no ledge; allowed: at most 4.019 "
             "mm",
             [](design::Design& d) { d.settings[0].tube->innerDiameter = 4.2; }},
        Case{"settings[0].tube.seat-depth is 0 mm, which leaves no seat; allowed: at least 0.001 mm",
             [](design::Design& d) { d.settings[0].tube->seatDepth = 0; }},
        Case{"settings[0].tube.seat-depth is 1.7 mm, as deep as the tube is high or deeper; allowed: at most "
             "1.699 mm",
             [](design::Design& d) { d.settings[0].tube->seatDepth = 1.7; }},
        Case{"settings[0].stone: a length of 2 mm found; 0, or at least the width of 4 mm and less than 1000 "
             "mm "
             "is needed.",
             [](design::Design& d) {
                 d.settings[0].stone->cut = design::StoneCut::Oval;
                 d.settings[0].stone->length = 2;
             }}));

}  // namespace
}  // namespace bandwright::geometry
