#include "trade/length.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "base/input_error.hpp"

namespace bandwright::trade {
namespace {

std::string lengthRefusal(std::string_view text) {
    try {
        return "read as " + std::to_string(parseLength(text));
    } catch (const base::InputError& error) {
        return error.what();
    }
}

// The inch is exactly 25.4 mm (international yard and pound agreement, 1959).
TEST(Length, ReadsUnitsFractionsAndArithmetic) {
    const std::pair<const char*, double> rows[] = {
        {"2.5", 2.5},
        {"2.5 mm", 2.5},
        {"2.5MM", 2.5},
        {".5", 0.5},
        {"5.", 5},
        {"1e-1 mm", 0.1},
        {"1.8 cm", 18},
        {"250 um", 0.25},
        {"250 µm", 0.25},
        {"10 thou", 0.254},
        {"3/8 in", 9.525},
        {"3/8\"", 9.525},
        {"⅜ in", 9.525},
        {"3⁄8 inch", 9.525},
        {"1 1/2 in", 38.1},
        {"1½ in", 38.1},
        {"1½\"", 38.1},
        {"-1 1/2 in", -38.1},
        {"0.1\"", 2.54},
        {"0.746 in", 18.9484},
        {"2 inches", 50.8},
        {"3/4", 0.75},
        {"2*1.25", 2.5},
        {"2 × 1.25 mm", 2.5},
        {"2 mm * 3", 6},
        {"4 mm / 2", 2},
        {"8/2 + 0.5 mm", 4.5},
        {"8/2+0.5", 4.5},
        {"(8-1)/2", 3.5},
        {"(8 - 1)/2 mm", 3.5},
        {"((2))", 2},
        {"2*(1+1)*2", 8},
        {"8 - 2 - 1", 5},
        {"8 / 2 / 2", 2},
        {"2 + 3 * 4", 14},
        {"-3 + 5", 2},
        {"3 - -2", 5},
        {"3 − 2", 1},
        {"1/2 + 1/8 in", 15.875},
        {"1/4 in + 0.5 mm", 6.85},
        {"2 mm + 1", 3},
        {"0.1 + 0.2", 0.3},
        {"0", 0},
    };
    for (const auto& [typed, mm] : rows)
        EXPECT_EQ(parseLength(typed), mm) << typed;
}

TEST(Length, RefusesWhatIsNoLengthAndSaysWhy) {
    const std::pair<std::string, const char*> rows[] = {
        {"", "nothing was typed"},
        {"  ", "nothing was typed"},
        {"mm", "where a number is needed"},
        {"nan", "where a number is needed"},
        {"inf", "where a number is needed"},
        {"-inf mm", "where a number is needed"},
        {"0x10", "is not a unit"},
        {"2.5 mn", "is not a unit"},
        {"2.5 m", "is not a unit"},
        {"2.5 mmm", "is not a unit"},
        {"2.5.1", "is not a unit"},
        {"1 2", "is not a unit"},
        {"1 3/2 in", "is not a unit"},
        {"2,5 mm", "not a comma"},
        {"2 +", "a number is missing"},
        {"* 2", "where a number is needed"},
        {"(2", "a bracket is not closed"},
        {"2)", "does not belong"},
        {"(2 mm) * 2", "inside the brackets"},
        {"2 mm * 2 mm", "two units"},
        {"2 mm mm", "does not belong"},
        {"1/0", "divides by zero"},
        {"1/(2-2) in", "divides by zero"},
        {"1 in + 2", "name the unit"},
        {"2 + 3 mm + 1/2 in", "name the unit"},
        {"1e999", "where a number is needed"},
        {"1e308 * 10", "not a finite number"},
        {"1e308 in", "not a finite number"},
        {std::string(101, '1'), "longer than 100"},
        {std::string(101, '('), "longer than 100"},
        {std::string(100, '('), "a number is missing"},
        {std::string(100, '-'), "a number is missing"},
    };
    for (const auto& [typed, why] : rows) {
        EXPECT_NE(lengthRefusal(typed).find(why), std::string::npos)
            << typed << " -> " << lengthRefusal(typed);
    }
}

TEST(Length, NamesWhatWasTypedInTheRefusal) {
    EXPECT_EQ(lengthRefusal("2.5 mn"),
              "length '2.5 mn': 'mn' is not a unit; mm, cm, um, in, \" and thou are known");
}

RC_GTEST_PROP(LengthLaws, ADecimalIsReadToTheLastBit, ()) {
    const int micrometres = *rc::gen::inRange(-1'000'000, 1'000'000);
    const double mm = micrometres / 1000.0;
    RC_ASSERT(parseLength(std::to_string(micrometres) + "/1000 mm") == mm);
    RC_ASSERT(parseLength(std::to_string(micrometres) + " um") == mm);
}

RC_GTEST_PROP(LengthLaws, AFractionOfAnInchIsItsShareOf254, ()) {
    const int top = *rc::gen::inRange(0, 200);
    const int bottom = *rc::gen::inRange(1, 65);
    const double mm = parseLength(std::to_string(top) + "/" + std::to_string(bottom) + " in");
    RC_ASSERT(std::abs(mm - 25.4 * top / bottom) < 1e-9);
}

RC_GTEST_PROP(LengthLaws, AnyTextIsReadOrRefused, ()) {
    const auto pieces = *rc::gen::container<std::vector<std::string>>(
        rc::gen::elementOf(std::vector<std::string>{"1", "2.5", "1/2", "½", " ", "+", "-", "*", "/", "(", ")",
                                                    "mm", "in", "\"", "um", "e9", ".", "\xc2", "x"}));
    std::string text;
    for (const std::string& piece : pieces)
        text += piece;
    try {
        RC_ASSERT(std::isfinite(parseLength(text)));
    } catch (const base::InputError& error) {
        RC_ASSERT(std::string(error.what()).starts_with("length '"));
    }
}

}  // namespace
}  // namespace bandwright::trade
