#include "sanding.hpp"

#include <gtest/gtest.h>

#include <map>

namespace bandwright::route {
namespace {

TEST(Sanding, GritsAreThoseOfTheFepaSeries) {
    // FEPA P, mean grain in um: sizes.com and ruddwoodfinishes.com; P600 26, P1200 15.
    const std::map<int, double> published{{120, 125}, {320, 46}, {600, 26}, {1200, 15}, {2000, 10}};
    std::size_t found = 0;
    for (const Grit& grit : grits()) {
        if (!published.contains(grit.number)) continue;
        EXPECT_EQ(grit.micrometres, published.at(grit.number));
        ++found;
    }
    EXPECT_EQ(found, published.size());
    for (std::size_t i = 1; i < grits().size(); ++i) {
        EXPECT_GT(grits()[i].number, grits()[i - 1].number);
        EXPECT_LT(grits()[i].micrometres, grits()[i - 1].micrometres);
    }
}

TEST(Sanding, LaddersNeverMoreThanDoubleTheGrit) {
    for (const Grit& from : grits()) {
        for (const Grit& to : grits()) {
            if (to.number < from.number) continue;
            const std::vector<Grit> steps = ladder(from.number, to.number);
            ASSERT_FALSE(steps.empty());
            EXPECT_EQ(steps.front().number, from.number);
            EXPECT_EQ(steps.back().number, to.number);
            for (std::size_t i = 1; i < steps.size(); ++i) {
                EXPECT_GT(steps[i].number, steps[i - 1].number);
                EXPECT_LE(steps[i].number, 2 * steps[i - 1].number);
            }
        }
    }
}

}  // namespace
}  // namespace bandwright::route
