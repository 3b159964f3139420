#include "design/route.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/fields.hpp"

namespace bandwright::design {

namespace {

/// What must be done before what, or the ring would not come out as it was designed.
struct Order {
    Stage first, then;
    std::string_view reason;
};

constexpr std::array<Order, 19> kOrders{{
    {Stage::Bored, Stage::Lined, "the liner is pressed into the bore"},
    {Stage::Bored, Stage::Drilled, "a hole drilled right through opens into the bore"},
    {Stage::Bored, Stage::Sized, "sizing opens the bore"},
    {Stage::Lined, Stage::Sized, "it is the liner's bore that is sized"},
    {Stage::Lined, Stage::Channelled, "a channel may reach into the liner"},
    {Stage::Lined, Stage::Drilled, "the holes go through the liner too"},
    {Stage::Turned, Stage::Channelled, "a channel's depth counts from the turned outside"},
    {Stage::Turned, Stage::Drilled, "a hole's depth counts from the turned outside"},
    {Stage::Turned, Stage::Etched, "turning takes the etched skin off"},
    {Stage::Parted, Stage::Trued, "the outside has its shape only between faced edges"},
    {Stage::Parted, Stage::Bevelled, "there is no edge to bevel before"},
    {Stage::Parted, Stage::Sized, "the bore is eased at its edges"},
    {Stage::Channelled, Stage::Filled, "a fill needs its channel"},
    {Stage::Filled, Stage::Trued, "truing makes the fill level with the metal"},
    {Stage::Trued, Stage::Bevelled, "a bevel's width counts from the trued outside"},
    {Stage::Trued, Stage::Polished, "truing takes the polish off"},
    {Stage::Drilled, Stage::Joined, "a tube needs its hole"},
    {Stage::Drilled, Stage::Set, "a stone needs its hole"},
    {Stage::Set, Stage::Closed, "there is nothing to close the lip over before"},
}};

std::ptrdiff_t placeOf(const Route& route, Stage stage) {
    return std::find(route.begin(), route.end(), stage) - route.begin();
}

/// Whether one step must come before the other, directly or by those between.
bool mustPrecede(Stage first, Stage then) {
    return std::any_of(kOrders.begin(), kOrders.end(), [&](const Order& order) {
        return order.then == then && (order.first == first || mustPrecede(first, order.first));
    });
}

/// The reason of the rule, or of the last rule of the chain, that keeps `first` before `then`.
std::string_view reasonFor(Stage first, Stage then) {
    for (const Order& order : kOrders)
        if (order.first == first && order.then == then) return order.reason;
    for (const Order& order : kOrders)
        if (order.then == then && mustPrecede(first, order.first)) return order.reason;
    return "the work begins with it";
}

std::string refusal(Stage first, Stage then) {
    return "has " + base::inQuotes(name(then)) + " before " + base::inQuotes(name(first)) + ": " +
           std::string(reasonFor(first, then));
}

}  // namespace

Route usualRoute() {
    Route route{};
    std::ranges::transform(kRouteSteps, route.begin(), &Word<Stage>::value);
    return route;
}

const Word<Stage>& word(Stage stage) {
    static constexpr Word<Stage> kFinished{Stage::Finished, "finished", "Finished", "all done"};
    return stage == Stage::Finished ? kFinished : kRouteSteps[stage];
}

std::string name(Stage stage) {
    return std::string(word(stage).id);
}

std::string_view doing(Stage step) {
    switch (step) {
        case Stage::Blank:
            return "cutting the blank";
        case Stage::Bored:
            return "boring";
        case Stage::Turned:
            return "turning the outside";
        case Stage::Parted:
            return "parting off";
        case Stage::Lined:
            return "putting the liner in";
        case Stage::Channelled:
            return "cutting the channels";
        case Stage::Drilled:
            return "drilling the holes";
        case Stage::Filled:
            return "packing the fill";
        case Stage::Trued:
            return "truing the outside";
        case Stage::Bevelled:
            return "shaping the edges";
        case Stage::Polished:
            return "polishing";
        case Stage::Sized:
            return "sizing the bore";
        case Stage::Etched:
            return "etching";
        case Stage::Joined:
            return "joining the tubes";
        case Stage::Set:
            return "laying the stones in";
        case Stage::Closed:
            return "closing the metal over the stones";
        case Stage::Finished:
            break;
    }
    return "finishing";
}

std::optional<std::string> fault(const Route& route) {
    for (const Word<Stage>& step : kRouteSteps) {
        const auto count = std::count(route.begin(), route.end(), step.value);
        if (count == 0) return "lacks " + base::inQuotes(step.id);
        if (count > 1) return "has " + base::inQuotes(step.id) + " more than once";
    }
    if (route.front() != Stage::Blank) return refusal(Stage::Blank, route.front());
    for (const Order& order : kOrders)
        if (isBefore(route, order.then, order.first)) return refusal(order.first, order.then);
    return std::nullopt;
}

bool isBefore(const Route& route, Stage first, Stage then) {
    return placeOf(route, first) < placeOf(route, then);
}

Route movedBefore(const Route& route, Stage step, Stage other) {
    const auto to = placeOf(route, other), from = placeOf(route, step);
    if (from <= to) return route;  // it stands there already
    if (other == Stage::Blank || mustPrecede(other, step))
        throw base::InputError(base::inQuotes(name(step)) + " cannot come before " +
                               base::inQuotes(name(other)) + ": " + std::string(reasonFor(other, step)) +
                               ".");
    std::vector<Stage> before(route.begin(), route.begin() + to), held;
    for (auto i = to; i < from; ++i) {
        const Stage between = route[static_cast<std::size_t>(i)];
        (mustPrecede(between, step) ? before : held).push_back(between);
    }
    before.push_back(step);
    before.insert(before.end(), held.begin(), held.end());
    before.insert(before.end(), route.begin() + from + 1, route.end());
    Route result = route;
    std::ranges::copy(before, result.begin());
    return result;
}

}  // namespace bandwright::design
