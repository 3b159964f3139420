#include <cairo-pdf.h>

#include <algorithm>
#include <cstdio>
#include <iterator>

#include "finish_pdf.hpp"
#include "paint_page.hpp"
#include "paper/write.hpp"

namespace bandwright::paper {

namespace {

constexpr double kPointsPerMm = 72 / 25.4;

/// Adds bookmarks, those of second headings under the one before them.
struct Bookmarks {
    cairo_surface_t* surface;
    int page = 1;
    int above = CAIRO_PDF_OUTLINE_ROOT;

    void add(const Element& element) {
        if (!element.bookmark.empty()) {
            const bool isUnder = element.role == Role::Heading2;
            char place[80];
            std::snprintf(place, sizeof place, "page=%d pos=[%.2f %.2f]", page, kPointsPerMm * element.top.x,
                          kPointsPerMm * element.top.y);
            const int made =
                cairo_pdf_surface_add_outline(surface, isUnder ? above : CAIRO_PDF_OUTLINE_ROOT,
                                              element.bookmark.c_str(), place, CAIRO_PDF_OUTLINE_FLAG_OPEN);
            if (!isUnder) above = made;
        }
        for (const Element& part : element.parts)
            add(part);
    }
};

void setMetadata(cairo_surface_t* surface, const Document& document) {
    const auto set = [&](cairo_pdf_metadata_t what, const std::string& text) {
        if (!text.empty()) cairo_pdf_surface_set_metadata(surface, what, text.c_str());
    };
    set(CAIRO_PDF_METADATA_TITLE, document.title);
    set(CAIRO_PDF_METADATA_AUTHOR, document.author);
    set(CAIRO_PDF_METADATA_CREATOR, "Bandwright");
    // A date there must be, or the clock is asked.
    set(CAIRO_PDF_METADATA_CREATE_DATE,
        (document.date.empty() ? "2000-01-01" : document.date) + "T00:00:00Z");
}

void gatherAlternatives(const std::vector<Element>& elements, std::vector<std::string>& all) {
    for (const Element& element : elements) {
        if (element.role == Role::Figure) all.push_back(element.alternative);
        gatherAlternatives(element.parts, all);
    }
}

}  // namespace

std::string pdf(const Document& document) {
    std::string bytes;
    std::vector<std::string> alternatives;
    {
        const SurfacePointer surface(
            cairo_pdf_surface_create_for_stream(append, &bytes, kPointsPerMm, kPointsPerMm));
        setMetadata(surface.get(), document);
        const CairoPointer cairo(cairo_create(surface.get()));
        Bookmarks bookmarks{surface.get()};
        for (const Page& page : document.pages) {
            cairo_pdf_surface_set_size(surface.get(), kPointsPerMm * page.size.width,
                                       kPointsPerMm * page.size.height);
            cairo_save(cairo.get());
            cairo_scale(cairo.get(), kPointsPerMm, kPointsPerMm);
            paint(page, *cairo);
            cairo_restore(cairo.get());
            for (const Element& element : page.elements)
                bookmarks.add(element);
            ++bookmarks.page;
            cairo_show_page(cairo.get());
            gatherAlternatives(page.elements, alternatives);
        }
        cairo_surface_finish(surface.get());
        requireDone(cairo_surface_status(surface.get()));
    }
    return finishedPdf(bytes, document, alternatives);
}

}  // namespace bandwright::paper
