#include "paint_page.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>

#include "base/input_error.hpp"
#include "pango_layout.hpp"

namespace bandwright::paper {

namespace {

void setColour(cairo_t& cairo, Colour colour) {
    cairo_set_source_rgb(&cairo, colour.red, colour.green, colour.blue);
}

void addArc(cairo_t& cairo, const Step& step) {
    Point from;
    cairo_get_current_point(&cairo, &from.x, &from.y);
    const auto angle = [&](Point p) { return std::atan2(p.y - step.centre.y, p.x - step.centre.x); };
    const double radius = std::hypot(step.to.x - step.centre.x, step.to.y - step.centre.y);
    // y runs down, so growing angles run clockwise.
    (step.clockwise ? cairo_arc : cairo_arc_negative)(&cairo, step.centre.x, step.centre.y, radius,
                                                      angle(from), angle(step.to));
}

void addPath(cairo_t& cairo, const Path& path) {
    cairo_new_path(&cairo);
    for (const Step& step : path) {
        switch (step.kind) {
            case Step::Kind::Begin:
                cairo_move_to(&cairo, step.to.x, step.to.y);
                break;
            case Step::Kind::Line:
                cairo_line_to(&cairo, step.to.x, step.to.y);
                break;
            case Step::Kind::Arc:
                addArc(cairo, step);
                break;
            case Step::Kind::Close:
                cairo_close_path(&cairo);
                break;
        }
    }
}

/// Paints marks of each kind.
struct Painter {
    cairo_t& cairo;
    Letters letters;

    void operator()(const Stroke& stroke) const {
        setColour(cairo, stroke.colour);
        cairo_set_line_width(&cairo, stroke.width);
        cairo_set_dash(&cairo, stroke.dashes.data(), static_cast<int>(stroke.dashes.size()), 0);
        addPath(cairo, stroke.path);
        cairo_stroke(&cairo);
    }

    void operator()(const Fill& fill) const {
        setColour(cairo, fill.colour);
        addPath(cairo, fill.path);
        cairo_fill(&cairo);
    }

    void operator()(const Text& text) const {
        const LayoutPointer layout = layoutOf(text.words, text.style);
        int width = 0;
        pango_layout_get_size(layout.get(), &width, nullptr);
        const double share = text.style.align == Align::Left     ? 0
                             : text.style.align == Align::Middle ? 0.5
                                                                 : 1;
        cairo_save(&cairo);
        setColour(cairo, text.style.colour);
        cairo_translate(&cairo, text.at.x, text.at.y);
        cairo_rotate(&cairo, -text.turned * std::numbers::pi / 180);
        cairo_move_to(&cairo, -share * width / PANGO_SCALE, 0);
        PangoLayoutLine* line = pango_layout_get_line_readonly(layout.get(), 0);
        if (letters == Letters::Outlined) {
            pango_cairo_layout_line_path(&cairo, line);
            cairo_fill(&cairo);
        } else {
            pango_cairo_show_layout_line(&cairo, line);
        }
        cairo_restore(&cairo);
    }

    void operator()(const Image& image) const;
};

/// What is still to be read of a PNG.
struct Unread {
    const std::string& bytes;
    std::size_t at = 0;
};

cairo_status_t readNext(void* source, unsigned char* to, unsigned int count) {
    Unread& unread = *static_cast<Unread*>(source);
    if (unread.bytes.size() - unread.at < count) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(to, unread.bytes.data() + unread.at, count);
    unread.at += count;
    return CAIRO_STATUS_SUCCESS;
}

void Painter::operator()(const Image& image) const {
    Unread unread{image.png};
    const SurfacePointer picture(cairo_image_surface_create_from_png_stream(readNext, &unread));
    if (cairo_surface_status(picture.get()) != CAIRO_STATUS_SUCCESS)
        throw base::InputError("A picture for the page is no PNG that can be read.");
    cairo_save(&cairo);
    cairo_translate(&cairo, image.box.at.x, image.box.at.y);
    cairo_scale(&cairo, image.box.size.width / cairo_image_surface_get_width(picture.get()),
                image.box.size.height / cairo_image_surface_get_height(picture.get()));
    cairo_set_source_surface(&cairo, picture.get(), 0, 0);
    cairo_pattern_set_extend(cairo_get_source(&cairo), CAIRO_EXTEND_PAD);
    cairo_rectangle(&cairo, 0, 0, cairo_image_surface_get_width(picture.get()),
                    cairo_image_surface_get_height(picture.get()));
    cairo_fill(&cairo);
    cairo_restore(&cairo);
}

void paintElement(const Element& element, cairo_t& cairo, Letters letters) {
    const std::string type = structureType(element.role);
    if (!type.empty()) cairo_tag_begin(&cairo, type.c_str(), "");
    cairo_save(&cairo);
    if (element.clip) {
        const Box& box = *element.clip;
        cairo_rectangle(&cairo, box.at.x, box.at.y, box.size.width, box.size.height);
        cairo_clip(&cairo);
    }
    for (const Mark& mark : element.marks)
        std::visit(Painter{cairo, letters}, mark);
    for (const Element& part : element.parts)
        paintElement(part, cairo, letters);
    cairo_restore(&cairo);
    if (!type.empty()) cairo_tag_end(&cairo, type.c_str());
}

}  // namespace

std::string structureType(Role role) {
    switch (role) {
        case Role::Decoration:
            break;
        case Role::Title:
        case Role::Heading1:
            return "H1";
        case Role::Heading2:
            return "H2";
        case Role::Paragraph:
            return "P";
        case Role::Table:
            return "Table";
        case Role::TableRow:
            return "TR";
        case Role::TableHead:
            return "TH";
        case Role::TableCell:
            return "TD";
        case Role::Figure:
            return "Figure";
        case Role::Section:
            return "Sect";
    }
    return "";
}

void paint(const Page& page, cairo_t& cairo, Letters letters) {
    for (const Element& element : page.elements)
        paintElement(element, cairo, letters);
    requireDone(cairo_status(&cairo));
}

void requireDone(cairo_status_t status) {
    if (status != CAIRO_STATUS_SUCCESS)
        throw std::runtime_error(std::string("The page cannot be drawn: ") + cairo_status_to_string(status));
}

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count) {
    static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace bandwright::paper
