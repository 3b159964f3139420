#include "latest.hpp"

#include <gtest/gtest.h>

#include <stdexcept>
#include <thread>
#include <vector>

#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {
namespace {

/// Squares of numbers; a number weighs itself.
struct Squares {
    Latest<int, int> latest;
    int get(int of) {
        return *latest.get(
            of, [of] { return of * of; }, [of](int) { return static_cast<std::size_t>(of); });
    }
};

TEST(Latest, KeepsWhatWasAskedForLast) {
    Squares squares{{3, 1000}};
    for (const int of : {1, 2, 3, 1, 4, 1, 3, 4})
        EXPECT_EQ(squares.get(of), of * of);
    EXPECT_EQ(squares.latest.made(), 4U);  // 2 made room for 4
    squares.get(2);
    EXPECT_EQ(squares.latest.made(), 5U);
}

TEST(Latest, KeepsNoMoreThanMayBeHeldButAlwaysTheLast) {
    Squares squares{{100, 10}};
    for (const int of : {4, 5, 4, 5, 50, 50, 5})
        squares.get(of);
    EXPECT_EQ(squares.latest.made(), 4U);  // 4, 5, 50, and 5 again
}

TEST(Latest, TriesAnewWhereNothingCameOfIt) {
    Latest<int, int> latest(4, 4);
    const auto weigh = [](int) { return std::size_t{1}; };
    const auto fail = []() -> int { throw std::runtime_error("no"); };
    EXPECT_THROW(latest.get(1, fail, weigh), std::runtime_error);
    EXPECT_EQ(*latest.get(
                  1, [] { return 7; }, weigh),
              7);
}

TEST(Latest, LetsOneThreadWorkForAll) {
    Latest<int, int> latest(64, 64);
    std::vector<std::thread> threads;
    for (int i = 0; i < 8; ++i) {
        threads.emplace_back([&] {
            for (int of = 0; of < 32; ++of) {
                const auto make = [of] {
                    std::this_thread::yield();
                    return of;
                };
                EXPECT_EQ(*latest.get(of, make, [](int) { return std::size_t{1}; }), of);
            }
        });
    }
    for (std::thread& thread : threads)
        thread.join();
    EXPECT_EQ(latest.made(), 32U);
}

/// A ring with this many stones, no two alike.
design::Design ringOf(int stones, design::StoneCut cut) {
    design::Design design;
    design.band.width = 8;
    for (int i = 0; i < stones; ++i) {
        design::Setting setting;
        setting.stone->cut = cut;
        setting.stone->table += 0.01 * i;
        setting.stone->dome += 0.01 * i;
        setting.placement.angles = {360.0 / stones * i};
        design.settings.push_back(setting);
    }
    return design;
}

TEST(Latest, WorksEachStoneOfARingOutOnce) {
    for (const design::StoneCut cut : {design::StoneCut::RoundBrilliant, design::StoneCut::Cabochon}) {
        // A curved stone is meshed as finely as the model and, for its solid, as usual.
        const BuildOptions fine{base::Micrometres(5)};
        for (const int stones : {8, 16, 17, 32}) {
            const design::Design design = ringOf(stones, cut);
            const std::size_t before = stonesWorkedOut();
            for (int i = 0; i < 3; ++i) {
                bodies(design);
                for (const design::Setting& setting : design.settings)
                    stoneMesh(*setting.stone, fine.tolerance);
            }
            const auto perStone = static_cast<std::size_t>(cut == design::StoneCut::Cabochon ? 2 : 1);
            EXPECT_LE(stonesWorkedOut() - before, perStone * static_cast<std::size_t>(stones));
        }
    }
}

}  // namespace
}  // namespace bandwright::geometry
