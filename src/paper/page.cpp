#include "paper/page.hpp"

#include <utility>

#include "base/input_error.hpp"
#include "base/wording.hpp"

namespace bandwright::paper {

Size sheetNamed(const std::string& name, const char* option) {
    if (name == "a4") return kA4;
    if (name == "a5") return kA5;
    if (name == "letter") return kLetter;
    throw base::InputError(std::string(option) + ": found " + base::inQuotes(name) +
                           "; allowed is 'a4', 'a5' or 'letter'.");
}

Size sideways(Size sheet) {
    return {sheet.height, sheet.width};
}

Path line(Point from, Point to) {
    return {{Step::Kind::Begin, from}, {Step::Kind::Line, to}};
}

Path rectangle(const Box& box) {
    return {{Step::Kind::Begin, box.at},
            {Step::Kind::Line, {box.right(), box.at.y}},
            {Step::Kind::Line, {box.right(), box.bottom()}},
            {Step::Kind::Line, {box.at.x, box.bottom()}},
            {Step::Kind::Close}};
}

Path circle(Point centre, double radius) {
    const Point right{centre.x + radius, centre.y}, left{centre.x - radius, centre.y};
    return {{Step::Kind::Begin, right},
            {Step::Kind::Arc, left, centre, true},
            {Step::Kind::Arc, right, centre, true},
            {Step::Kind::Close}};
}

Path moved(Path path, Point by) {
    for (Step& step : path) {
        step.to = step.to + by;
        step.centre = step.centre + by;
    }
    return path;
}

Mark moved(Mark mark, Point by) {
    struct Mover {
        Point by;
        void operator()(Stroke& stroke) const { stroke.path = moved(std::move(stroke.path), by); }
        void operator()(Fill& fill) const { fill.path = moved(std::move(fill.path), by); }
        void operator()(Text& text) const { text.at = text.at + by; }
        void operator()(Image& image) const { image.box.at = image.box.at + by; }
    };
    std::visit(Mover{by}, mark);
    return mark;
}

Element moved(Element element, Point by) {
    for (Mark& mark : element.marks)
        mark = moved(std::move(mark), by);
    for (Element& part : element.parts)
        part = moved(std::move(part), by);
    element.top = element.top + by;
    if (element.clip) element.clip->at = element.clip->at + by;
    return element;
}

}  // namespace bandwright::paper
