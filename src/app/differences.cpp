#include "app/differences.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <exception>
#include <string_view>

#include "app/change_words.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "card_summaries.hpp"
#include "check/sight.hpp"
#include "check/weighed.hpp"
#include "design/field_table.hpp"
#include "geometry/boundary.hpp"
#include "issue.hpp"
#include "route/plan.hpp"

namespace bandwright::app {

namespace {

enum class Seen : std::uint8_t { Look, Size, Unseen };

Seen seenIn(const std::string& path) {
    static constexpr std::array<std::string_view, 4> kFit = {"finger", "band.width", "band.thickness",
                                                             "band.bore"};
    static constexpr std::array<std::string_view, 5> kPapers = {"note", "route", "done", "locked",
                                                                "measured"};
    const auto covers = [&](std::string_view pattern) { return design::covers(pattern, path); };
    if (std::ranges::any_of(kFit, covers)) return Seen::Size;
    if (path.empty() || std::ranges::any_of(kPapers, covers)) return Seen::Unseen;
    return check::sightOf(path) == check::Sight::Hidden ? Seen::Unseen : Seen::Look;
}

std::vector<std::string> channelLines(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<std::string> lines;
    for (const design::Channel& channel : design.channels)
        lines.push_back("channel " + channelInLine(channel, catalogue));
    return lines;
}

std::vector<std::string> settingLines(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        lines.push_back(stoneInLine(design, i, catalogue));
    return lines;
}

/// Those of `of` that `others` has not, each as often as it has it too few times.
std::vector<std::string> lacking(const std::vector<std::string>& of, std::vector<std::string> others) {
    std::vector<std::string> left;
    for (const std::string& line : of) {
        const auto found = std::ranges::find(others, line);
        if (found == others.end())
            left.push_back(line);
        else
            others.erase(found);
    }
    return left;
}

/// Channels or settings, of which one ring has more, told one by one.
void tellParts(const std::vector<std::string>& before, const std::vector<std::string>& after,
               std::vector<std::string>& lines) {
    for (const std::string& line : lacking(after, before))
        lines.push_back("More: " + line);
    for (const std::string& line : lacking(before, after))
        lines.push_back("No more: " + line);
}

std::string massLine(double from, double to) {
    const double more = base::roundedTo(base::roundedTo(to, 2) - base::roundedTo(from, 2), 2);
    if (more == 0) return base::fixed(to, 2) + " g, as heavy";
    return base::fixed(to, 2) + " g instead of " + base::fixed(from, 2) + " g, " +
           base::fixed(std::abs(more), 2) + " g " + (more > 0 ? "heavier" : "lighter");
}

std::string priceText(const RingInFigures& ring) {
    return route::money(ring.price) + (ring.currency.empty() ? "" : " " + ring.currency);
}

std::vector<std::string> priceLines(const RingInFigures& from, const RingInFigures& to) {
    if (!from.hasPrice || !to.hasPrice) return {};
    std::vector<std::string> lines;
    if (from.notPriced.empty() && to.notPriced.empty()) {
        const route::Cents more = to.price - from.price;
        lines.push_back(more == 0 ? priceText(to) + ", as dear"
                                  : priceText(to) + " instead of " + priceText(from) + ", " +
                                        route::money(std::abs(more)) + (more > 0 ? " dearer" : " cheaper"));
    }
    const auto remark = [&](const std::string& which, const RingInFigures& ring) {
        if (!ring.notPriced.empty())
            lines.push_back(which + " no price: " + ring.notPriced);
        else if (!ring.unpriced.empty())
            lines.push_back(which + " no price for " + base::listed(ring.unpriced));
    };
    if (from.notPriced == to.notPriced && from.unpriced == to.unpriced) {
        remark("Both have", to);
    } else {
        remark("The left ring has", from);
        remark("The right ring has", to);
    }
    return lines;
}

}  // namespace

RingInFigures inFigures(const design::Design& design, const design::Design& made, const check::Report& report,
                        const std::vector<geometry::SolidPart>& bodies, const trade::Catalogue& catalogue,
                        const trade::Workshop& workshop) {
    RingInFigures ring;
    ring.design = design;
    ring.mass = check::weighed(bodies, made, catalogue).volume;
    ring.hasPrice = !workshop.prices.empty() || workshop.hourlyRate;
    if (!ring.hasPrice) return ring;
    try {
        // What holes that run into each other take would be counted twice.
        geometry::boundaries(made);
        const route::Quote quote =
            route::quote(made, catalogue, workshop, route::plan(made, catalogue, workshop, report), today());
        ring.price = quote.total;
        ring.currency = quote.currency;
        ring.unpriced = quote.unpriced;
    } catch (const std::exception& error) {
        ring.notPriced = error.what();
    }
    return ring;
}

std::vector<Differences> differences(const RingInFigures& from, const RingInFigures& to,
                                     const trade::Catalogue& catalogue) {
    Differences look{"Look", {}}, size{"Size and fit", {}}, unseen{"Out of sight", {}};
    for (const FieldChange& change : changesByField(from.design, to.design, catalogue)) {
        if (change.path == "title") continue;  // it is what tells the two apart
        if (change.path == "channels") {
            tellParts(channelLines(from.design, catalogue), channelLines(to.design, catalogue), look.lines);
            continue;
        }
        if (change.path == "settings") {
            tellParts(settingLines(from.design, catalogue), settingLines(to.design, catalogue), look.lines);
            continue;
        }
        const Seen seen = seenIn(change.path);
        (seen == Seen::Look ? look : seen == Seen::Size ? size : unseen).lines.push_back(change.text);
    }
    std::vector<Differences> all;
    for (Differences each : {size, Differences{"Mass", {massLine(from.mass, to.mass)}},
                             Differences{"Price", priceLines(from, to)}, look, unseen})
        if (!each.lines.empty()) all.push_back(std::move(each));
    return all;
}

}  // namespace bandwright::app
