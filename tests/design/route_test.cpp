#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "random_design.hpp"

namespace bandwright::design {
namespace {

bool comesBefore(const Route& route, Stage first, Stage then) {
    return std::ranges::find(route, first) < std::ranges::find(route, then);
}

Route swapped(Stage a, Stage b) {
    Route route = usualRoute();
    for (Stage& step : route)
        step = step == a ? b : step == b ? a : step;
    return route;
}

TEST(Route, TheUsualOneCanBeGone) {
    EXPECT_EQ(fault(usualRoute()), std::nullopt);
    EXPECT_EQ(usualRoute().size(), kRouteLength);
}

// Each case follows common workshop practice; there is no source.
TEST(Route, ThatCannotBeGoneIsRefusedWithTheReason) {
    EXPECT_EQ(fault(swapped(Stage::Channelled, Stage::Filled)).value(),
              "has 'filled' before 'channelled\': a fill needs its channel");
    EXPECT_EQ(fault(swapped(Stage::Filled, Stage::Trued)).value(),
              "has 'trued' before 'filled\': truing makes the fill level with the metal");
    EXPECT_EQ(fault(swapped(Stage::Set, Stage::Closed)).value(),
              "has 'closed' before 'set\': there is nothing to close the lip over before");
    const auto reason = [](Stage first, Stage then) { return fault(swapped(first, then)).value_or("none"); };
    for (const auto& [first, then] : {std::pair{Stage::Bored, Stage::Sized},
                                      {Stage::Turned, Stage::Channelled},
                                      {Stage::Parted, Stage::Bevelled},
                                      {Stage::Drilled, Stage::Joined},
                                      {Stage::Blank, Stage::Bored},
                                      {Stage::Trued, Stage::Bevelled}})
        EXPECT_NE(reason(first, then), "none") << name(first) << " " << name(then);
    Route twice = usualRoute();
    twice.back() = Stage::Blank;
    EXPECT_EQ(fault(twice).value(), "has 'blank' more than once");
    Route lacking = usualRoute();
    lacking[kRouteLength - 1] = Stage::Finished;
    EXPECT_EQ(fault(lacking).value(), "lacks 'closed'");
}

TEST(Route, OfAFileIsRefusedWithItsPlace) {
    const auto refusal = [](const std::string& route) {
        try {
            parseDesign("{\"bandwright\": 1,\n\"route\": " + route + "}", "a.ring.json");
        } catch (const base::InputError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    EXPECT_NE(refusal("[]").find("route is a list of 0; allowed: "), std::string::npos) << refusal("[]");
    EXPECT_NE(refusal("[\"dipped\"]").find("route[0] is"), std::string::npos) << refusal("[\"dipped\"]");
    EXPECT_NE(refusal("7").find("each once"), std::string::npos) << refusal("7");
    EXPECT_NE(refusal("[]").find("a.ring.json:2"), std::string::npos) << refusal("[]");
}

TEST(Route, StepsThatDoNotHangOnEachOtherCanChangePlaces) {
    const Route route = movedBefore(usualRoute(), Stage::Drilled, Stage::Channelled);
    EXPECT_TRUE(comesBefore(route, Stage::Drilled, Stage::Channelled));
    EXPECT_EQ(fault(route), std::nullopt);
    EXPECT_EQ(fault(movedBefore(usualRoute(), Stage::Sized, Stage::Channelled)), std::nullopt);
}

TEST(Route, AStepTakesWithItWhatMustComeBeforeIt) {
    const Route route = movedBefore(usualRoute(), Stage::Closed, Stage::Etched);
    EXPECT_EQ(fault(route), std::nullopt);
    EXPECT_TRUE(comesBefore(route, Stage::Set, Stage::Etched));
    EXPECT_TRUE(comesBefore(route, Stage::Etched, Stage::Joined)) << "the join can stay";
    EXPECT_THROW(movedBefore(usualRoute(), Stage::Trued, Stage::Channelled), base::InputError);
    EXPECT_THROW(movedBefore(usualRoute(), Stage::Bored, Stage::Blank), base::InputError);
}

TEST(Route, AnyOtherOrderIsRefusedOrCanBeGone) {
    const Route usual = usualRoute();
    std::size_t moved = 0;
    for (const Stage other : usual) {
        for (const Stage step : usual) {
            if (!comesBefore(usual, other, step)) continue;
            try {
                const Route route = movedBefore(usual, step, other);
                ++moved;
                EXPECT_EQ(fault(route), std::nullopt) << name(step) << " before " << name(other);
                EXPECT_TRUE(comesBefore(route, step, other));
                EXPECT_EQ(std::set<Stage>(route.begin(), route.end()).size(), usual.size());
            } catch (const base::InputError&) {
                continue;
            }
        }
    }
    EXPECT_GT(moved, usual.size());
}

}  // namespace
}  // namespace bandwright::design
