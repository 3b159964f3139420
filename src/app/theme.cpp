#include "app/theme.hpp"

#include <imgui_freetype.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstring>
#include <string>

#include "platform/paths.hpp"

namespace bandwright::app {

namespace {

/// Latin with its supplements, fractions, measuring signs, dashes, quotes, arrows and the marks.
constexpr std::array<ImWchar, 15> kGlyphs = {0x0020, 0x017F, 0x0394, 0x0394, 0x03B8, 0x03C6, 0x2010, 0x2044,
                                             0x2190, 0x2193, 0x2212, 0x2265, 0x25A0, 0x25CF, 0};

/// Gives all digits the same advance, so that columns of numbers line up. (The font's own way, the `tnum`
/// feature, needs a shaping engine.)
void makeDigitsTabular(ImFont& font) {
    float widest = 0;
    for (const ImFontGlyph& glyph : font.Glyphs) {
        if (glyph.Codepoint >= '0' && glyph.Codepoint <= '9') widest = std::max(widest, glyph.AdvanceX);
    }
    for (ImFontGlyph& glyph : font.Glyphs) {
        if (glyph.Codepoint < '0' || glyph.Codepoint > '9') continue;
        const float shift = std::floor((widest - glyph.AdvanceX) / 2 + 0.5F);
        glyph.X0 += shift;
        glyph.X1 += shift;
        glyph.AdvanceX = widest;
        font.IndexAdvanceX[static_cast<int>(glyph.Codepoint)] = widest;
    }
}

ImFont* addFont(ImFontAtlas& atlas, const char* file, float size) {
    if (const std::string bytes = platform::fontOf(file); !bytes.empty()) {
        void* const kept = ImGui::MemAlloc(bytes.size());  // the atlas frees it
        std::memcpy(kept, bytes.data(), bytes.size());
        return atlas.AddFontFromMemoryTTF(kept, static_cast<int>(bytes.size()), size, nullptr,
                                          kGlyphs.data());
    }
    ImFontConfig config;
    config.SizePixels = size;
    return atlas.AddFontDefault(&config);
}

void setColours(ImGuiStyle& style) {
    const auto set = [&](ImGuiCol place, ImU32 colour) {
        style.Colors[place] = ImGui::ColorConvertU32ToFloat4(colour);
    };
    using namespace palette;
    ImGui::StyleColorsLight(&style);
    set(ImGuiCol_Text, kInk);
    set(ImGuiCol_TextDisabled, kGraphite);
    set(ImGuiCol_WindowBg, kPaper);
    set(ImGuiCol_ChildBg, IM_COL32_BLACK_TRANS);
    set(ImGuiCol_PopupBg, kPaper);
    set(ImGuiCol_Border, kHairline);
    set(ImGuiCol_FrameBg, kWell);
    set(ImGuiCol_FrameBgHovered, kWellHover);
    set(ImGuiCol_FrameBgActive, kWell);
    set(ImGuiCol_ScrollbarBg, IM_COL32_BLACK_TRANS);
    set(ImGuiCol_ScrollbarGrab, kHairline);
    set(ImGuiCol_ScrollbarGrabHovered, kGrip);
    set(ImGuiCol_ScrollbarGrabActive, kGraphite);
    set(ImGuiCol_CheckMark, kPetrol);
    set(ImGuiCol_Button, IM_COL32_BLACK_TRANS);
    set(ImGuiCol_ButtonHovered, kPetrolSoft);
    set(ImGuiCol_ButtonActive, kPetrolMid);
    set(ImGuiCol_Header, kPetrolSoft);
    set(ImGuiCol_HeaderHovered, kPetrolSoft);
    set(ImGuiCol_HeaderActive, kPetrolMid);
    set(ImGuiCol_TextSelectedBg, kPetrolMid);
    set(ImGuiCol_NavHighlight, kPetrol);
    set(ImGuiCol_ModalWindowDimBg, inUse.dim);
}

void setMeasures(ImGuiStyle& style) {
    style.WindowPadding = {16, 14};
    style.FramePadding = {9, 5};
    style.ItemSpacing = {8, 7};
    style.ItemInnerSpacing = {6, 4};
    style.WindowRounding = 0;
    style.PopupRounding = 4;
    style.FrameRounding = 3;
    style.ScrollbarRounding = 4;
    style.ScrollbarSize = 10;
    style.WindowBorderSize = 0;
    style.PopupBorderSize = 1;
    style.FrameBorderSize = 1;
}

/// Relative luminance as WCAG 2.1 defines it, for sRGB.
double luminance(ImU32 colour) {
    const auto linear = [colour](int shift) {
        const double part = ((colour >> shift) & 0xFFU) / 255.0;
        return part <= 0.03928 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(IM_COL32_R_SHIFT) + 0.7152 * linear(IM_COL32_G_SHIFT) +
           0.0722 * linear(IM_COL32_B_SHIFT);
}

constexpr Palette kLight = {
    .desk = IM_COL32(226, 224, 218, 255),
    .paper = IM_COL32(248, 246, 241, 255),
    .well = IM_COL32(255, 255, 253, 255),
    .wellHover = IM_COL32(238, 244, 245, 255),
    .veil = IM_COL32(255, 255, 253, 235),
    .label = IM_COL32(248, 246, 241, 235),
    .dim = IM_COL32(60, 58, 54, 90),
    .hairline = IM_COL32(212, 207, 196, 255),
    .grip = IM_COL32(186, 180, 168, 255),
    .ink = IM_COL32(33, 37, 41, 255),
    .graphite = IM_COL32(75, 79, 82, 255),
    .petrol = IM_COL32(16, 82, 98, 255),
    .petrolFaint = IM_COL32(20, 92, 110, 14),
    .petrolSoft = IM_COL32(20, 92, 110, 34),
    .petrolMid = IM_COL32(20, 92, 110, 48),
    .problem = IM_COL32(140, 52, 0, 255),
    .witness = IM_COL32(150, 30, 100, 255),
    .band = IM_COL32(214, 220, 223, 255),
    .bandHatching = IM_COL32(120, 130, 136, 150),
    .fill = IM_COL32(196, 222, 220, 255),
    .fillHatching = IM_COL32(60, 130, 130, 120),
    .liner = IM_COL32(232, 224, 208, 255),
    .linerHatching = IM_COL32(140, 124, 92, 150),
    .tube = IM_COL32(238, 220, 170, 255),
    .tubeHatching = IM_COL32(150, 120, 40, 160),
    .stone = IM_COL32(225, 236, 244, 255),
};

constexpr Palette kDark = {
    .desk = IM_COL32(20, 22, 23, 255),
    .paper = IM_COL32(33, 36, 38, 255),
    .well = IM_COL32(24, 26, 28, 255),
    .wellHover = IM_COL32(36, 42, 45, 255),
    .veil = IM_COL32(24, 26, 28, 235),
    .label = IM_COL32(33, 36, 38, 235),
    .dim = IM_COL32(0, 0, 0, 130),
    .hairline = IM_COL32(66, 70, 72, 255),
    .grip = IM_COL32(104, 108, 110, 255),
    .ink = IM_COL32(232, 230, 224, 255),
    .graphite = IM_COL32(176, 178, 178, 255),
    .petrol = IM_COL32(130, 200, 214, 255),
    .petrolFaint = IM_COL32(130, 200, 214, 14),
    .petrolSoft = IM_COL32(130, 200, 214, 30),
    .petrolMid = IM_COL32(130, 200, 214, 42),
    .problem = IM_COL32(245, 160, 90, 255),
    .witness = IM_COL32(240, 150, 205, 255),
    .band = IM_COL32(70, 77, 81, 255),
    .bandHatching = IM_COL32(140, 150, 156, 150),
    .fill = IM_COL32(38, 82, 80, 255),
    .fillHatching = IM_COL32(100, 180, 178, 120),
    .liner = IM_COL32(84, 76, 58, 255),
    .linerHatching = IM_COL32(176, 160, 128, 150),
    .tube = IM_COL32(98, 80, 32, 255),
    .tubeHatching = IM_COL32(200, 170, 90, 160),
    .stone = IM_COL32(54, 72, 86, 255),
};

}  // namespace

namespace palette {
constinit Palette inUse = kLight;
}

const Palette& paletteOf(Colours colours) {
    return colours == Colours::Dark ? kDark : kLight;
}

void useColours(Colours colours) {
    palette::inUse = paletteOf(colours);
    setColours(ImGui::GetStyle());
}

ImU32 laidOver(ImU32 colour, ImU32 ground) {
    const ImVec4 top = ImGui::ColorConvertU32ToFloat4(colour);
    const ImVec4 below = ImGui::ColorConvertU32ToFloat4(ground);
    const auto mixed = [&top](float over, float under) { return over * top.w + under * (1 - top.w); };
    return ImGui::ColorConvertFloat4ToU32(
        {mixed(top.x, below.x), mixed(top.y, below.y), mixed(top.z, below.z), 1});
}

double contrast(ImU32 one, ImU32 other) {
    const auto [dark, light] = std::minmax({luminance(one), luminance(other)});
    return (light + 0.05) / (dark + 0.05);
}

ImU32 colourOf(check::Verdict verdict) {
    switch (verdict) {
        case check::Verdict::Go:
            return palette::kGo;
        case check::Verdict::Marginal:
            return palette::kMarginal;
        case check::Verdict::NoGo:
            return palette::kNoGo;
    }
    return palette::kInk;
}

void verdictMark(ImDrawList& draw, ImVec2 centre, float radius, check::Verdict verdict) {
    const ImU32 fill = colourOf(verdict);
    const ImU32 edge = IM_COL32(33, 37, 41, 150);
    if (verdict == check::Verdict::Go) {
        draw.AddCircleFilled(centre, radius, fill);
        draw.AddCircle(centre, radius, edge);
    } else if (verdict == check::Verdict::Marginal) {
        const float reach = radius * 1.2F;
        const ImVec2 top{centre.x, centre.y - reach};
        const ImVec2 left{centre.x - reach, centre.y + reach * 0.8F};
        const ImVec2 right{centre.x + reach, centre.y + reach * 0.8F};
        draw.AddTriangleFilled(top, left, right, fill);
        draw.AddTriangle(top, left, right, edge);
    } else {
        const ImVec2 least{centre.x - radius, centre.y - radius}, most{centre.x + radius, centre.y + radius};
        draw.AddRectFilled(least, most, fill);
        draw.AddRect(least, most, edge);
    }
}

float Theme::px(float length) const {
    return std::floor(length * scale + 0.5F);
}

std::string wrapped(const ImFont& font, float width, std::string_view text) {
    // ImGui's own wrapping breaks lines after points and commas, even inside "0.20".
    constexpr std::size_t kLongestUnit = 3;
    const auto widthOf = [&font](const std::string& line) {
        return font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, line.data(), line.data() + line.size()).x;
    };
    const auto isDigit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
    std::string out, line, longer;
    while (!text.empty()) {
        std::size_t end = text.find(' ');
        while (end != std::string_view::npos && end > 0 && isDigit(text[end - 1])) {
            const std::size_t next = std::min(text.find(' ', end + 1), text.size());
            if (next - end - 1 > kLongestUnit) break;
            end = next == text.size() ? std::string_view::npos : next;
        }
        const std::string word(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        longer = line;
        if (!line.empty()) longer += ' ';
        longer += word;
        if (!line.empty() && widthOf(longer) > width) {
            out += line;
            out += '\n';
            longer = word;
        }
        line = longer;
    }
    return out + line;
}

void paragraph(ImFont& font, float width, std::string_view text, ImU32 colour) {
    ImGui::PushFont(&font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(wrapped(font, width, text).c_str());
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

bool beginPanel(const Theme& theme, const char* name, float width) {
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({screen.x / 2, screen.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({std::min(theme.px(width), screen.x - theme.px(20)), 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(theme.px(22), theme.px(20)));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, theme.px(6));
    const bool open =
        ImGui::BeginPopupModal(name, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize);
    ImGui::PopStyleVar(2);
    return open;
}

Theme makeTheme(float scale) {
    Theme theme;
    theme.scale = std::clamp(scale, 0.75F, 3.0F);
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight;
    theme.body = addFont(atlas, "Inter-Regular.otf", theme.px(15));
    theme.small = addFont(atlas, "Inter-Regular.otf", theme.px(13));
    theme.strong = addFont(atlas, "Inter-SemiBold.otf", theme.px(15));
    theme.title = addFont(atlas, "Inter-SemiBold.otf", theme.px(21));
    theme.large = addFont(atlas, "Inter-Regular.otf", theme.px(22));
    theme.big = addFont(atlas, "Inter-SemiBold.otf", theme.px(34));
    atlas.Build();
    for (ImFont* font : atlas.Fonts)
        makeDigitsTabular(*font);

    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    setMeasures(style);
    style.ScaleAllSizes(theme.scale);
    style.FrameBorderSize = style.PopupBorderSize = std::max(1.0F, std::floor(theme.scale));
    setColours(style);
    return theme;
}

}  // namespace bandwright::app
