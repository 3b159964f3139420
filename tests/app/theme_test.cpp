#include "app/theme.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "headless.hpp"

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

std::vector<std::pair<const char*, ImU32>> textColours(const Palette& p) {
    return {{"ink", p.ink},
            {"graphite", p.graphite},
            {"petrol", p.petrol},
            {"problem", p.problem},
            {"witness", p.witness}};
}

/// WCAG 2.1, success criterion 1.4.3 (AA): 4.5:1 for text that is not large. Every text colour on every
/// ground on which anything is written, whatever lies under those that let it through.
TEST(Contrast, OfEachTextOnEachGroundIsAtLeastFourAndAHalf) {
    constexpr double kLeast = 4.5;
    for (const Colours colours : {Colours::Light, Colours::Dark}) {
        const Palette& p = paletteOf(colours);
        std::vector<std::pair<std::string, ImU32>> grounds = {
            {"desk", p.desk}, {"paper", p.paper}, {"well", p.well}, {"well pointed at", p.wellHover}};
        for (const auto& [name, sheet] : std::vector(grounds)) {
            for (const ImU32 touched : {p.petrolFaint, p.petrolSoft, p.petrolMid})
                grounds.emplace_back("petrol over " + name, laidOver(touched, sheet));
        }
        for (const ImU32 picture : {IM_COL32_BLACK, IM_COL32_WHITE}) {
            grounds.emplace_back("veil over a picture", laidOver(p.veil, picture));
            grounds.emplace_back("label in a drawing", laidOver(p.label, picture));
        }
        for (const auto& [text, colour] : textColours(p))
            for (const auto& [ground, under] : grounds)
                EXPECT_GE(contrast(colour, under), kLeast)
                    << text << " on " << ground << (colours == Colours::Dark ? ", dark" : ", light");
        EXPECT_GE(contrast(p.paper, p.petrol), kLeast) << "what is chosen";
    }
}

/// The colours of all letters of the last frame. Those that let the ground through are of what cannot be
/// pressed now, which success criterion 1.4.3 leaves out.
std::set<ImU32> writtenIn() {
    const ImVec2 plain = ImGui::GetIO().Fonts->TexUvWhitePixel;
    std::set<ImU32> found;
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int i = 0; i < data.CmdListsCount; ++i) {
        for (const ImDrawVert& vertex : data.CmdLists[i]->VtxBuffer) {
            const bool isShape = vertex.uv.x == plain.x && vertex.uv.y == plain.y;
            const bool isPicture = vertex.col == IM_COL32_WHITE;
            if (!isShape && !isPicture && vertex.col >> IM_COL32_A_SHIFT == 255U) found.insert(vertex.col);
        }
    }
    return found;
}

TEST(Contrast, NothingIsWrittenInAnotherColour) {
    Headless desk(design::readDesign(sample("harbour")));
    ImGui::GetStyle().AntiAliasedLinesUseTex = false;  // so that only letters are cut from the texture
    desk.frames(1);
    for (int turn = 0; turn < 2; ++turn) {
        const Palette& p = paletteOf(desk.bench().settings().isDark ? Colours::Dark : Colours::Light);
        std::set<ImU32> allowed = {p.paper};  // on what is chosen
        for (const auto& [name, colour] : textColours(p))
            allowed.insert(colour);
        for (const Key page : {Key::Other, Key::F, Key::O, Key::E, Key::W, Key::P, Key::B}) {
            if (page != Key::Other) desk.press(page, kCtrl);
            const std::set<ImU32> found = writtenIn();
            EXPECT_TRUE(found.contains(p.ink));
            for (const ImU32 colour : found)
                EXPECT_TRUE(allowed.contains(colour)) << std::hex << colour << " on page " << int(page);
            desk.press(Key::Escape);
        }
        desk.press(Key::D, kCtrl);
    }
}

TEST(Theme, DarkColoursAreChosenByAKeyAndKept) {
    const ScratchFolder folder;
    Headless desk({}, folder.path());
    EXPECT_EQ(palette::kPaper, paletteOf(Colours::Light).paper);
    desk.press(Key::D, kCtrl);
    EXPECT_EQ(palette::kPaper, paletteOf(Colours::Dark).paper);
    EXPECT_EQ(ImGui::ColorConvertFloat4ToU32(ImGui::GetStyleColorVec4(ImGuiCol_Text)),
              paletteOf(Colours::Dark).ink);
    EXPECT_TRUE(readSettings(folder.path()).isDark);
    desk.press(Key::D, kCtrl);
    EXPECT_EQ(palette::kPaper, paletteOf(Colours::Light).paper);
    EXPECT_FALSE(readSettings(folder.path()).isDark);
}

}  // namespace
}  // namespace bandwright::app
