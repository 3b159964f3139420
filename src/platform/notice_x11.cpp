#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <cairo-xlib.h>
#include <pango/pangocairo.h>

#include <memory>

#include "platform/notice.hpp"

namespace bandwright::platform {

namespace {

constexpr int kWidth = 560, kMargin = 28;  // pixels

struct Free {
    void operator()(Display* display) const { XCloseDisplay(display); }
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
    void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
template <class T>
using Owned = std::unique_ptr<T, Free>;

Owned<PangoLayout> laidOut(cairo_t* cairo, const std::string& text) {
    Owned<PangoLayout> layout(pango_cairo_create_layout(cairo));
    PangoFontDescription* font = pango_font_description_from_string("Inter, Sans 11");
    pango_layout_set_font_description(layout.get(), font);
    pango_font_description_free(font);
    pango_layout_set_width(layout.get(), (kWidth - 2 * kMargin) * PANGO_SCALE);
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout.get(), text.c_str(), -1);
    return layout;
}

void paint(cairo_surface_t* surface, const std::string& text) {
    const Owned<cairo_t> cairo(cairo_create(surface));
    cairo_set_source_rgb(cairo.get(), 0.96, 0.96, 0.95);
    cairo_paint(cairo.get());
    cairo_set_source_rgb(cairo.get(), 0.12, 0.13, 0.14);
    cairo_move_to(cairo.get(), kMargin, kMargin);
    pango_cairo_show_layout(cairo.get(), laidOut(cairo.get(), text).get());
    cairo_surface_flush(surface);
}

int heightOf(const std::string& text) {
    const Owned<cairo_surface_t> nowhere(cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1, 1));
    const Owned<cairo_t> cairo(cairo_create(nowhere.get()));
    int height = 0;
    pango_layout_get_pixel_size(laidOut(cairo.get(), text).get(), nullptr, &height);
    return height + 2 * kMargin;
}

}  // namespace

bool showNotice(const std::string& title, const std::string& text) {
    const Owned<Display> display(XOpenDisplay(nullptr));
    if (!display) return false;
    const int screen = DefaultScreen(display.get());
    const int height = heightOf(text);
    const Window window =
        XCreateSimpleWindow(display.get(), RootWindow(display.get(), screen), 0, 0,
                            static_cast<unsigned>(kWidth), static_cast<unsigned>(height), 0,
                            BlackPixel(display.get(), screen), WhitePixel(display.get(), screen));
    XStoreName(display.get(), window, title.c_str());
    XSelectInput(display.get(), window, ExposureMask | KeyPressMask);
    Atom closing = XInternAtom(display.get(), "WM_DELETE_WINDOW", False);
    XSetWMProtocols(display.get(), window, &closing, 1);
    XMapWindow(display.get(), window);
    const Owned<cairo_surface_t> surface(cairo_xlib_surface_create(
        display.get(), window, DefaultVisual(display.get(), screen), kWidth, height));
    for (bool open = true; open;) {
        XEvent event;
        XNextEvent(display.get(), &event);
        if (event.type == Expose) paint(surface.get(), text);
        open = event.type != KeyPress &&
               (event.type != ClientMessage || static_cast<Atom>(event.xclient.data.l[0]) != closing);
    }
    return true;
}

}  // namespace bandwright::platform
