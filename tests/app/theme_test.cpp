#include "app/theme.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>
#include <string>

namespace bandwright::app {
namespace {

/// A font without a window.
class Fonts {
  public:
    Fonts() : context_(ImGui::CreateContext()), theme_(makeTheme(1)) {}
    ~Fonts() { ImGui::DestroyContext(context_); }
    Fonts(const Fonts&) = delete;
    Fonts& operator=(const Fonts&) = delete;

    const ImFont& body() const { return *theme_.body; }
    float width(const std::string& text) const {
        return body().CalcTextSizeA(body().FontSize, FLT_MAX, 0, text.c_str()).x;
    }

  private:
    ImGuiContext* context_;
    Theme theme_;
};

TEST(Wrapping, NoLineIsWiderThanAskedAndNoWordIsLostOrSplit) {
    const Fonts fonts;
    const std::string text =
        "A comfort bore is commonly made a quarter to half a US size smaller: 0.20 to 0.41 mm on the "
        "diameter.";
    for (float width = 120; width < 600; width += 7) {
        std::string broken = wrapped(fonts.body(), width, text);
        std::istringstream lines(broken);
        for (std::string line; std::getline(lines, line);)
            EXPECT_LE(fonts.width(line), width) << line;
        std::ranges::replace(broken, '\n', ' ');
        EXPECT_EQ(broken, text);
    }
}

TEST(Wrapping, ANumberStaysWithItsUnit) {
    const Fonts fonts;
    for (float width = 40; width < 300; width += 3) {
        EXPECT_EQ(wrapped(fonts.body(), width, "less deep, to 0.82 mm.").find("0.82\n"), std::string::npos);
    }
}

TEST(Theme, EveryDigitIsEquallyWideSoThatColumnsOfNumbersLineUp) {
    const Fonts fonts;
    for (const char digit : std::string("123456789"))
        EXPECT_EQ(fonts.width(std::string(8, digit)), fonts.width("00000000")) << digit;
}

// The two ends of the scale by definition, and the grey that is known to fail narrowly on white: WCAG 2.1,
// understanding document for success criterion 1.4.3 (#777777 on white is 4.47 and must not be rounded up).
TEST(Contrast, IsAsWcagDefinesIt) {
    EXPECT_NEAR(contrast(IM_COL32_BLACK, IM_COL32_WHITE), 21, 1e-9);
    EXPECT_NEAR(contrast(IM_COL32_WHITE, IM_COL32_WHITE), 1, 1e-9);
    EXPECT_NEAR(contrast(IM_COL32(0x77, 0x77, 0x77, 255), IM_COL32_WHITE), 4.478, 0.001);
}

TEST(Contrast, WordsStandOutByFourAndAHalfOnWhateverTheyAreWrittenOn) {
    constexpr double kLeast = 4.5;  // WCAG 2.1, success criterion 1.4.3
    using namespace palette;
    for (const ImU32 sheet : {kPaper, kWell, kDesk, kWellHover}) {
        for (const ImU32 text : {kInk, kGraphite, kPetrol})
            EXPECT_GE(contrast(text, sheet), kLeast) << std::hex << text << " on " << sheet;
    }
    // What is chosen, under the pointer, pressed or marked.
    for (const ImU32 sheet : {kPaper, kWell}) {
        for (const ImU32 tint : {kPetrolSoft, kPetrolMid}) {
            for (const ImU32 text : {kInk, kGraphite, kPetrol})
                EXPECT_GE(contrast(text, laidOver(tint, sheet)), kLeast)
                    << std::hex << text << " on " << tint;
        }
        for (const ImU32 text : {kProblem, kWitness})
            EXPECT_GE(contrast(text, sheet), kLeast) << std::hex << text << " on " << sheet;
    }
    EXPECT_GE(contrast(kPaper, kPetrol), kLeast);  // the strong button
}

}  // namespace
}  // namespace bandwright::app
