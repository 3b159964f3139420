#pragma once

#include <pango/pangocairo.h>

#include <memory>
#include <string_view>

#include "paper/page.hpp"

/// Text as Pango lays it out. Private to the room.
namespace bandwright::paper {

struct Unreferenced {
    void operator()(void* object) const { g_object_unref(object); }
};
using LayoutPointer = std::unique_ptr<PangoLayout, Unreferenced>;

/// Text in a style, its lengths in units of 1/PANGO_SCALE mm; one line unless a width is set.
LayoutPointer layoutOf(std::string_view words, const TextStyle& style);

}  // namespace bandwright::paper
