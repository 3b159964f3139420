// What the draw lists hold is what is seen: no text of the window lies on other text, at any size of window
// and of text.

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "headless.hpp"

namespace bandwright::app {
namespace {

/// Glyphs in a row, with the box that is seen of them.
struct Written {
    std::string text;
    ImVec2 least, most;
};

/// Glyphs of the basic set by where they lie in the atlas; others are shown as "?".
std::map<std::pair<float, float>, char> glyphsByPlace() {
    std::map<std::pair<float, float>, char> glyphs;
    for (const ImFont* font : ImGui::GetIO().Fonts->Fonts)
        for (const ImFontGlyph& glyph : font->Glyphs)
            if (glyph.Visible)
                glyphs[{glyph.U0, glyph.V0}] =
                    glyph.Codepoint < 128 ? static_cast<char>(glyph.Codepoint) : '?';
    return glyphs;
}

/// A glyph is two triangles over four corners of their own, the first the left upper one.
std::vector<Written> runsOf(const ImDrawData& data) {
    const auto glyphs = glyphsByPlace();
    std::vector<Written> runs;
    for (int n = 0; n < data.CmdListsCount; ++n) {
        const ImDrawList& list = *data.CmdLists[n];
        bool isNew = true;  // a list begins no run of another
        for (const ImDrawCmd& command : list.CmdBuffer) {
            if (command.UserCallback != nullptr || command.TextureId != ImGui::GetIO().Fonts->TexID) continue;
            for (unsigned i = 0; i + 5 < command.ElemCount;) {
                const auto vertex = [&](unsigned k) -> const ImDrawVert& {
                    return list.VtxBuffer[static_cast<int>(
                        command.VtxOffset + list.IdxBuffer[static_cast<int>(command.IdxOffset + i + k)])];
                };
                const ImDrawVert &first = vertex(0), &last = vertex(2);
                const auto found = glyphs.find({first.uv.x, first.uv.y});
                if (found == glyphs.end()) {
                    i += 3;
                    isNew = true;
                    continue;
                }
                i += 6;
                const ImVec2 least{std::max(first.pos.x, command.ClipRect.x),
                                   std::max(first.pos.y, command.ClipRect.y)},
                    most{std::min(last.pos.x, command.ClipRect.z), std::min(last.pos.y, command.ClipRect.w)};
                if (least.x >= most.x || least.y >= most.y) {
                    isNew = true;
                    continue;
                }
                const float height = ImGui::GetIO().Fonts->Fonts[0]->FontSize;
                const bool goesOn =
                    !isNew && least.x > runs.back().most.x - 2 && least.x < runs.back().most.x + height / 2 &&
                    least.y < runs.back().most.y + height / 2 && most.y > runs.back().least.y - height / 2;
                isNew = false;
                if (!goesOn) {
                    runs.push_back({std::string(1, found->second), least, most});
                    continue;
                }
                Written& run = runs.back();
                run.text += found->second;
                run.least = {std::min(run.least.x, least.x), std::min(run.least.y, least.y)};
                run.most = {std::max(run.most.x, most.x), std::max(run.most.y, most.y)};
            }
        }
    }
    return runs;
}

/// Every pair of runs that share more than the width of a stroke.
std::vector<std::string> overlaps(const std::vector<Written>& runs) {
    constexpr float kStroke = 1.5F;
    std::vector<std::string> found;
    for (std::size_t i = 0; i < runs.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const Written &a = runs[i], &b = runs[j];
            if (std::min(a.most.x, b.most.x) - std::max(a.least.x, b.least.x) > kStroke &&
                std::min(a.most.y, b.most.y) - std::max(a.least.y, b.least.y) > kStroke)
                found.push_back("\"" + b.text + "\" and \"" + a.text + "\" at " +
                                std::to_string(static_cast<int>(a.least.x)) + ", " +
                                std::to_string(static_cast<int>(a.least.y)));
        }
    }
    return found;
}

TEST(TextOverlap, OfTwoTextsOnOnePlaceIsFound) {
    Headless desk(harbour());
    ImGui::NewFrame();
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    list.AddText({100, 100}, IM_COL32_WHITE, "one");
    list.AddText({104, 104}, IM_COL32_WHITE, "another");
    list.AddText({100, 140}, IM_COL32_WHITE, "apart");
    ImGui::Render();
    const std::vector<Written> runs = runsOf(*ImGui::GetDrawData());
    ASSERT_EQ(runs.size(), 3U);
    EXPECT_EQ(runs[1].text, "another");
    EXPECT_EQ(overlaps(runs).size(), 1U);
}

/// All that can be said of a gauge: three no-go, with remedies.
design::Design lopsidedFloor() {
    design::Design design = harbour();
    design.settings.clear();
    design.channels.front().depth = design.band.thickness - 0.2;
    design.channels.front().offset = -0.4;
    return design;
}

TEST(TextOverlap, IsNowhereAtAnySizeOfWindowAndText) {
    Headless go(harbour());
    const auto expectNone = [](Headless& desk, ImVec2 screen, float scale) {
        ImGui::GetIO().DisplaySize = screen;
        desk.setScale(scale);
        desk.frames(4);
        const std::vector<Written> runs = runsOf(*ImGui::GetDrawData());
        EXPECT_GT(runs.size(), 25U);
        for (const std::string& pair : overlaps(runs))
            ADD_FAILURE() << screen.x << " by " << screen.y << " at " << scale << ": " << pair;
    };
    for (const float scale : {0.8F, 1.0F, 1.5F, 2.0F, 3.0F}) {
        for (const ImVec2 screen : {ImVec2{1024, 640}, ImVec2{1280, 800}, ImVec2{1920, 1080}}) {
            if (screen.x < 500 * scale) continue;  // too small for the card and the ring beside each other
            expectNone(go, screen, scale);
        }
    }
}

TEST(TextOverlap, IsNotBesideTwoRings) {
    Headless desk(harbour());
    desk.enter("band.width", "8.5");
    desk.press(Key::M, kCtrl);
    desk.bench().open(sample("night-ferry"));
    for (const float scale : {0.8F, 1.0F, 2.0F, 3.0F}) {
        ImGui::GetIO().DisplaySize = {1280, 800};
        desk.setScale(scale);
        do
            desk.frames(2);
        while (desk.bench().busy());
        const std::vector<Written> runs = runsOf(*ImGui::GetDrawData());
        EXPECT_GT(runs.size(), 8U);
        for (const std::string& pair : overlaps(runs))
            ADD_FAILURE() << "at " << scale << ": " << pair;
    }
}

TEST(TextOverlap, IsNotOnTheGaugesEither) {
    Headless weak(lopsidedFloor(), {}, Remedies::Sought);
    for (const float scale : {0.8F, 1.0F, 1.5F, 2.0F, 3.0F}) {
        for (const ImVec2 screen : {ImVec2{1280, 800}, ImVec2{1920, 1080}}) {
            if (screen.x < 500 * scale) continue;
            ImGui::GetIO().DisplaySize = screen;
            weak.setScale(scale);
            weak.frames(2);
            weak.press(Key::Digit4, kCtrl);
            weak.frames(4);
            for (const std::string& pair : overlaps(runsOf(*ImGui::GetDrawData())))
                ADD_FAILURE() << screen.x << " by " << screen.y << " at " << scale << ": " << pair;
        }
    }
}

}  // namespace
}  // namespace bandwright::app
