#include "card_summaries.hpp"

#include <cmath>
#include <vector>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/check.hpp"
#include "design/field_table.hpp"
#include "design/measured.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::app {

namespace {

std::string number(double value) {
    return base::shortestNumber(std::round(value * 1000) / 1000);
}

/// "8 \u00D7 2.2 mm"
std::string across(double width, double depth) {
    return number(width) + " \u00D7 " + number(depth) + " mm";
}

/// The word chosen at this path, as on the card, in the middle of a sentence.
std::string chosenAt(design::Design design, const std::string& path) {
    const design::FieldValue held = design::valueAt(design, path);
    const auto* choice = std::get_if<design::WordChoice>(&held);
    return choice == nullptr ? "" : base::uncapitalised(std::string(choice->options[choice->chosen].label));
}

template <class Material>
std::string nameOf(const Material* material, const std::string& id) {
    return material != nullptr ? material->name : id;
}

std::string edgeInLine(const design::Design& design, const std::string& path, const design::Edge& edge) {
    const std::string shape = chosenAt(design, path + ".shape");
    return edge.width > 0 && edge.shape != design::EdgeShape::Sharp ? shape + " " + number(edge.width) + " mm"
                                                                    : shape;
}

}  // namespace

std::string fingerInLine(const design::Design& design) {
    std::string text = trade::formatRingSize(design.finger.size) + ", " +
                       base::fixed(trade::innerDiameter(design.finger.size), 2) + " mm across";
    if (design.finger.widthCorrection != 0)
        text += ", for its width " + number(design.finger.widthCorrection) + " mm";
    return text;
}

std::string bandInLine(const design::Design& design, const trade::Catalogue& catalogue) {
    const design::Band& band = design.band;
    std::string text =
        across(band.width, band.thickness) + ", " + nameOf(catalogue.metal(band.metal), band.metal) + ", " +
        chosenAt(design, "band.outside.shape") + " outside, " + chosenAt(design, "band.bore.shape") + " bore";
    if (band.liner) text += ", lined with " + nameOf(catalogue.metal(band.liner->metal), band.liner->metal);
    return text;
}

std::string edgesInLine(const design::Design& design) {
    const std::string left = edgeInLine(design, "band.left", design.band.left),
                      right = edgeInLine(design, "band.right", design.band.right);
    return left == right ? "both " + left : "left " + left + ", right " + right;
}

std::string channelInLine(const design::Channel& channel, const trade::Catalogue& catalogue) {
    std::string text = across(channel.width, channel.depth);
    text += channel.offset == 0
                ? " in the middle"
                : ", " + number(std::abs(channel.offset)) + " mm " + (channel.offset < 0 ? "left" : "right");
    return text + ", " +
           (channel.fill ? nameOf(catalogue.filler(channel.fill->filler), channel.fill->filler) : "empty");
}

std::string stoneInLine(const design::Design& design, std::size_t at, const trade::Catalogue& catalogue) {
    const design::Setting& setting = design.settings[at];
    const std::size_t count = design::placedAngles(setting.placement).size();
    std::string text = count == 1 ? "" : std::to_string(count) + " \u00D7 ";
    if (!setting.stone) {
        text += "hole " + number(setting.hole.pilotDiameter) + " mm";
    } else {
        text += nameOf(catalogue.gem(setting.stone->gem), setting.stone->gem) + ", ";
        if (setting.stone->model.empty())
            text += chosenAt(design, "settings[" + std::to_string(at) + "].stone.cut") + " ";
        text += number(setting.stone->diameter) + " mm";
    }
    return text + (setting.tube
                       ? ", tube of " + nameOf(catalogue.metal(setting.tube->metal), setting.tube->metal)
                       : ", in the band");
}

std::string finishInLine(const design::Design& design) {
    const std::string outside = chosenAt(design, "band.finish.outside"),
                      edges = chosenAt(design, "band.finish.edges"),
                      bore = chosenAt(design, "band.finish.bore");
    std::string text = outside == edges && edges == bore
                           ? outside + " all over"
                           : "outside " + outside + ", edges " + edges + ", bore " + bore;
    if (design.band.surface.treatment != design::Treatment::None)
        text += ", " + chosenAt(design, "band.finish.treatment");
    return text;
}

std::string allowancesInLine(const design::Design& design) {
    return "sizing " + number(design.allowances.sizing) + " mm, truing " + number(design.allowances.truing) +
           " mm";
}

std::string routeInLine(const design::Design& design, const trade::Catalogue& catalogue) {
    const std::vector<design::Stage> steps = check::steps(design, catalogue);
    if (steps.empty()) return "no steps";
    return std::to_string(steps.size()) +
           " steps, the last: " + base::uncapitalised(std::string(design::word(steps.back()).label));
}

std::string readingInLine(const design::Design& design, std::size_t at) {
    const design::Measured& reading = design.measured[at];
    return chosenAt(design, "measured[" + std::to_string(at) + "].what") + " " + design::inWords(reading) +
           ", " + base::uncapitalised(std::string(design::word(reading.stage).label));
}

std::string tickInLine(const design::Done& done) {
    return done.operation + (done.date.empty() ? "" : ", " + done.date);
}

}  // namespace bandwright::app
