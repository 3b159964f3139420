#include "paper/typeset.hpp"

#include <cmath>

#include "pango_layout.hpp"

namespace bandwright::paper {

namespace {

using ContextPointer = std::unique_ptr<PangoContext, Unreferenced>;

PangoWeight weightOf(Weight weight) {
    switch (weight) {
        case Weight::Regular:
            break;
        case Weight::Medium:
            return PANGO_WEIGHT_MEDIUM;
        case Weight::SemiBold:
            return PANGO_WEIGHT_SEMIBOLD;
        case Weight::Bold:
            return PANGO_WEIGHT_BOLD;
    }
    return PANGO_WEIGHT_NORMAL;
}

/// Lengths as they are on paper, never rounded to dots.
ContextPointer context() {
    ContextPointer made(pango_font_map_create_context(pango_cairo_font_map_get_default()));
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(made.get(), options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(made.get(), FALSE);
    return made;
}

void setFont(PangoLayout& layout, const TextStyle& style) {
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family_static(font, "Inter");
    pango_font_description_set_weight(font, weightOf(style.weight));
    pango_font_description_set_absolute_size(font, style.size * PANGO_SCALE);
    pango_layout_set_font_description(&layout, font);
    pango_font_description_free(font);
}

/// Digits of one width, so that columns of numbers stand in line.
void setFeatures(PangoLayout& layout) {
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
    pango_layout_set_attributes(&layout, attributes);
    pango_attr_list_unref(attributes);
}

}  // namespace

LayoutPointer layoutOf(std::string_view words, const TextStyle& style) {
    LayoutPointer layout(pango_layout_new(context().get()));
    setFont(*layout, style);
    setFeatures(*layout);
    pango_layout_set_text(layout.get(), words.data(), static_cast<int>(words.size()));
    return layout;
}

double textWidth(std::string_view words, const TextStyle& style) {
    int width = 0;
    pango_layout_get_size(layoutOf(words, style).get(), &width, nullptr);
    return static_cast<double>(width) / PANGO_SCALE;
}

std::vector<std::string> wrapped(std::string_view words, const TextStyle& style, double width) {
    const LayoutPointer layout = layoutOf(words, style);
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_width(layout.get(), static_cast<int>(std::floor(width * PANGO_SCALE)));
    const std::string_view text = pango_layout_get_text(layout.get());
    std::vector<std::string> lines;
    for (int i = 0; i < pango_layout_get_line_count(layout.get()); ++i) {
        const PangoLayoutLine* line = pango_layout_get_line_readonly(layout.get(), i);
        lines.emplace_back(
            text.substr(static_cast<std::size_t>(line->start_index), static_cast<std::size_t>(line->length)));
    }
    return lines;
}

double capitalHeight() {
    constexpr double kSize = 1000;
    PangoRectangle ink{};
    pango_layout_get_extents(layoutOf("H", {.size = kSize}).get(), &ink, nullptr);
    return ink.height / (kSize * PANGO_SCALE);
}

double emOfCapitals(double height) {
    return height / capitalHeight();
}

}  // namespace bandwright::paper
