#pragma once

#include <cairo.h>

#include <cstdint>
#include <memory>
#include <stdexcept>
#include <string>

#include "paper/page.hpp"

/// The one code that paints pages, whatever the surface. Private to the room.
namespace bandwright::paper {

struct SurfaceEnd {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct ContextEnd {
    void operator()(cairo_t* context) const { cairo_destroy(context); }
};
using SurfacePointer = std::unique_ptr<cairo_surface_t, SurfaceEnd>;
using CairoPointer = std::unique_ptr<cairo_t, ContextEnd>;

/// The structure type that PDF has for it; empty for a decoration.
std::string structureType(Role role);

/// How letters are painted: as text, which a file keeps as such, or as outlines, since Cairo moves text to
/// whole pixels.
enum class Letters : std::uint8_t { Text, Outlined };

/// Paints with one user unit to the mm. Throws InputError where a picture is no PNG.
void paint(const Page& page, cairo_t& cairo, Letters letters = Letters::Text);

/// Throws runtime_error when Cairo could not do what was asked.
void requireDone(cairo_status_t status);

/// A writer for Cairo's streams, which appends to a std::string.
cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count);

}  // namespace bandwright::paper
