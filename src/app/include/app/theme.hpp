#pragma once

#include <imgui.h>

#include <string>
#include <string_view>

#include "check/check.hpp"

/// How the window looks: fonts, sizes, colours. A light bench: warm paper for what is written, grey slate for
/// what is drawn, one petrol blue for what can be touched.
namespace bandwright::app {

namespace palette {

inline constexpr ImU32 kDesk = IM_COL32(226, 224, 218, 255);   ///< between the sheets
inline constexpr ImU32 kPaper = IM_COL32(248, 246, 241, 255);  ///< a sheet
inline constexpr ImU32 kWell = IM_COL32(255, 255, 253, 255);   ///< boxes to type in
inline constexpr ImU32 kWellHover = IM_COL32(238, 244, 245, 255);
inline constexpr ImU32 kHairline = IM_COL32(212, 207, 196, 255);
inline constexpr ImU32 kGrip = IM_COL32(186, 180, 168, 255);  ///< outlines of what can be moved
inline constexpr ImU32 kInk = IM_COL32(33, 37, 41, 255);
inline constexpr ImU32 kGraphite = IM_COL32(84, 88, 91, 255);
inline constexpr ImU32 kPetrol = IM_COL32(20, 92, 110, 255);
inline constexpr ImU32 kProblem = IM_COL32(168, 70, 0, 255);  ///< sentences that refuse something
inline constexpr ImU32 kPetrolSoft = IM_COL32(20, 92, 110, 34);
inline constexpr ImU32 kPetrolMid = IM_COL32(20, 92, 110, 60);

/// Verdicts, from the colour-blind-safe palette of Okabe and Ito, "Color Universal Design" (2008): bluish
/// green, orange, vermillion. Colour never stands alone: verdictMark adds the shape, name(Verdict) the word.
inline constexpr ImU32 kGo = IM_COL32(0, 158, 115, 255);
inline constexpr ImU32 kMarginal = IM_COL32(230, 159, 0, 255);
inline constexpr ImU32 kNoGo = IM_COL32(213, 94, 0, 255);
/// A deeper shade of the same source's reddish purple, for witness lines and their words: not a verdict's
/// colour.
inline constexpr ImU32 kWitness = IM_COL32(184, 48, 128, 255);

}  // namespace palette

ImU32 colourOf(check::Verdict verdict);

/// `colour` as it is seen laid over an opaque ground, by its alpha.
ImU32 laidOver(ImU32 colour, ImU32 ground);

/// The contrast ratio of two opaque colours, 1..21: WCAG 2.1 (W3C Recommendation, 2018), "contrast ratio" and
/// "relative luminance". Success criterion 1.4.3 asks for 4.5 in text.
double contrast(ImU32 one, ImU32 other);

/// A disc for go, a triangle for marginal, a square for no-go, each with a thin dark outline; `radius` in
/// pixels.
void verdictMark(ImDrawList& draw, ImVec2 centre, float radius, check::Verdict verdict);

/// The fonts and measures of one scale of the interface.
struct Theme {
    float scale = 1;
    ImFont* small = nullptr;   ///< notes, units
    ImFont* body = nullptr;    ///< everything else
    ImFont* strong = nullptr;  ///< headings, words of verdict
    ImFont* title = nullptr;   ///< the design's title
    ImFont* large = nullptr;   ///< read at the bench
    ImFont* big = nullptr;     ///< numbers read at arm's length

    /// Pixels, to the nearest whole one, of a length given at scale 1.
    float px(float length) const;
};

/// The text broken into lines at its blanks, none wider than `width` pixels; a number stays with its unit.
std::string wrapped(const ImFont& font, float width, std::string_view text);

/// Writes the text at the cursor, wrapped.
void paragraph(ImFont& font, float width, std::string_view text, ImU32 colour = palette::kInk);

/// Begins the modal panel of this name in the middle of the window, `width` wide at scale 1. When it returns
/// true, ImGui::EndPopup must follow.
bool beginPanel(const Theme& theme, const char* name, float width);

/// Sets up the current ImGui context's fonts and style for this scale (0.75..3); may be called again for
/// another. If the font files are not installed, ImGui's own font is used.
Theme makeTheme(float scale);

}  // namespace bandwright::app
