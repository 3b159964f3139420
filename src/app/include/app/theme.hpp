#pragma once

#include <imgui.h>

#include <string>
#include <string_view>

#include "check/check.hpp"

/// How the window looks: fonts, sizes, colours. By day a light bench: warm paper for what is written, grey
/// slate for what is drawn, one petrol blue for what can be touched. By night the same bench with the lamp
/// low.
namespace bandwright::app {

enum class Colours : unsigned char { Light, Dark };

/// All colours of one of the two. Every text colour can be read on every ground, at 4.5:1 or better.
struct Palette {
    ImU32 desk;   ///< between the sheets
    ImU32 paper;  ///< a sheet
    ImU32 well;   ///< boxes to type in
    ImU32 wellHover;
    ImU32 veil;   ///< under what is written over a picture
    ImU32 label;  ///< under what is written into a drawing
    ImU32 dim;    ///< over all that is behind a question
    ImU32 hairline;
    ImU32 grip;  ///< outlines of what can be moved
    ImU32 ink, graphite, petrol;
    ImU32 petrolFaint, petrolSoft, petrolMid;  ///< grounds of what is pointed at, chosen, pressed
    ImU32 problem;                             ///< words that say what is wrong
    /// The reddish purple of Okabe and Ito's palette below, for witness lines: not a verdict's colour.
    ImU32 witness;
    ImU32 band, bandHatching, fill, fillHatching, liner, linerHatching, tube, tubeHatching, stone;  ///< cut
};

const Palette& paletteOf(Colours colours);

/// From now on the window has these colours, the current ImGui context's style too.
void useColours(Colours colours);

/// The colours in use.
namespace palette {

extern Palette inUse;

inline constexpr const ImU32& kDesk = inUse.desk;
inline constexpr const ImU32& kPaper = inUse.paper;
inline constexpr const ImU32& kWell = inUse.well;
inline constexpr const ImU32& kWellHover = inUse.wellHover;
inline constexpr const ImU32& kVeil = inUse.veil;
inline constexpr const ImU32& kLabel = inUse.label;
inline constexpr const ImU32& kHairline = inUse.hairline;
inline constexpr const ImU32& kGrip = inUse.grip;
inline constexpr const ImU32& kInk = inUse.ink;
inline constexpr const ImU32& kGraphite = inUse.graphite;
inline constexpr const ImU32& kPetrol = inUse.petrol;
inline constexpr const ImU32& kPetrolFaint = inUse.petrolFaint;
inline constexpr const ImU32& kPetrolSoft = inUse.petrolSoft;
inline constexpr const ImU32& kPetrolMid = inUse.petrolMid;
inline constexpr const ImU32& kProblem = inUse.problem;
inline constexpr const ImU32& kWitness = inUse.witness;

/// Verdicts, from the colour-blind-safe palette of Okabe and Ito, "Color Universal Design" (2008): bluish
/// green, orange, vermillion. Colour never stands alone: verdictMark adds the shape, name(Verdict) the word.
inline constexpr ImU32 kGo = IM_COL32(0, 158, 115, 255);
inline constexpr ImU32 kMarginal = IM_COL32(230, 159, 0, 255);
inline constexpr ImU32 kNoGo = IM_COL32(213, 94, 0, 255);

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
