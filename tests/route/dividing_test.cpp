#include "dividing.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace bandwright::route {
namespace {

trade::Divider head(double ratio, std::vector<int> circles) {
    return {trade::DividerKind::Head, ratio, std::move(circles)};
}

/// One maker's three plates, from memory, and the double plate of US Army OD16448.
const std::vector<int> kThreePlates{15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49};
const std::vector<int> kDoublePlate{24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43,
                                    46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66};

std::vector<double> evenly(int count) {
    std::vector<double> angles;
    for (int i = 0; i < count; ++i)
        angles.push_back(360.0 * i / count);
    return angles;
}

struct Turns {
    int whole, holes, circle;
};
struct Row {
    int count;
    Turns forty, fortyDouble, sixty, ninety;
    bool wholeDegrees;
};

// The usual dividing tables, turns = ratio / N, by an exact sum in fractions.
const std::array<Row, 21> kTable{{
    {3, {13, 5, 15}, {13, 8, 24}, {20, 0, 0}, {30, 0, 0}, true},
    {4, {10, 0, 0}, {10, 0, 0}, {15, 0, 0}, {22, 8, 16}, true},
    {5, {8, 0, 0}, {8, 0, 0}, {12, 0, 0}, {18, 0, 0}, true},
    {6, {6, 10, 15}, {6, 16, 24}, {10, 0, 0}, {15, 0, 0}, true},
    {7, {5, 15, 21}, {5, 20, 28}, {8, 12, 21}, {12, 18, 21}, false},
    {8, {5, 0, 0}, {5, 0, 0}, {7, 8, 16}, {11, 4, 16}, true},
    {9, {4, 8, 18}, {4, 24, 54}, {6, 10, 15}, {10, 0, 0}, true},
    {10, {4, 0, 0}, {4, 0, 0}, {6, 0, 0}, {9, 0, 0}, true},
    {11, {3, 21, 33}, {3, 42, 66}, {5, 15, 33}, {8, 6, 33}, false},
    {12, {3, 5, 15}, {3, 8, 24}, {5, 0, 0}, {7, 8, 16}, true},
    {13, {3, 3, 39}, {3, 3, 39}, {4, 24, 39}, {6, 36, 39}, false},
    {14, {2, 18, 21}, {2, 24, 28}, {4, 6, 21}, {6, 9, 21}, false},
    {15, {2, 10, 15}, {2, 16, 24}, {4, 0, 0}, {6, 0, 0}, true},
    {16, {2, 8, 16}, {2, 12, 24}, {3, 12, 16}, {5, 10, 16}, false},
    {18, {2, 4, 18}, {2, 12, 54}, {3, 5, 15}, {5, 0, 0}, true},
    {20, {2, 0, 0}, {2, 0, 0}, {3, 0, 0}, {4, 8, 16}, true},
    {24, {1, 10, 15}, {1, 16, 24}, {2, 8, 16}, {3, 12, 16}, true},
    {30, {1, 5, 15}, {1, 8, 24}, {2, 0, 0}, {3, 0, 0}, true},
    {36, {1, 2, 18}, {1, 6, 54}, {1, 10, 15}, {2, 8, 16}, true},
    {40, {1, 0, 0}, {1, 0, 0}, {1, 8, 16}, {2, 4, 16}, true},
    {48, {0, 15, 18}, {0, 20, 24}, {1, 4, 16}, {1, 14, 16}, false},
}};

void expectFirstStep(int count, const trade::Divider& divider, const Turns& turns) {
    const std::vector<double> angles = evenly(count);
    const int circle = bestCircle(angles, 0, divider);
    const std::vector<Indexing> readings = indexed(angles, 0, divider, circle);
    SCOPED_TRACE(std::to_string(count) + " at " + std::to_string(divider.ratio));
    EXPECT_EQ(readings[1].turns, turns.whole);
    EXPECT_EQ(readings[1].holes, turns.holes);
    EXPECT_EQ(readings[1].circle, turns.circle);
    for (const Indexing& reading : readings)
        EXPECT_EQ(reading.errorMinutes, 0);
}

TEST(Dividing, IsThatOfTheTables) {
    for (const Row& row : kTable) {
        expectFirstStep(row.count, head(40, kThreePlates), row.forty);
        expectFirstStep(row.count, head(40, kDoublePlate), row.fortyDouble);
        expectFirstStep(row.count, head(60, kThreePlates), row.sixty);
        expectFirstStep(row.count, head(90, kThreePlates), row.ninety);
    }
}

TEST(Dividing, WholeDegreesDivideThreeHundredAndSixty) {
    const trade::Divider degrees{trade::DividerKind::Degrees, 1, {360}};
    for (const Row& row : kTable) {
        double worst = 0;
        for (const Indexing& reading : indexed(evenly(row.count), 0, degrees, 0))
            worst = std::max(worst, std::abs(reading.errorMinutes));
        EXPECT_EQ(worst == 0, row.wholeDegrees) << row.count;
    }
    // 360 / 7 is 51 degrees and 25.71 minutes: the second place lies that much short.
    EXPECT_NEAR(indexed({0, 360.0 / 7}, 0, degrees, 0)[1].errorMinutes, -25.714, 1e-3);
}

TEST(Dividing, OneDegreeIsTwoHolesOfEighteenOrThreeOfTwentySeven) {
    // Machinery's Handbook, 1916: at 40 to 1 a turn is 9 degrees.
    const Indexing eighteen = indexed({0, 1}, 0, head(40, {18}), 18)[1];
    EXPECT_EQ(eighteen.turns, 0);
    EXPECT_EQ(eighteen.holes, 2);
    EXPECT_EQ(eighteen.errorMinutes, 0);
    const Indexing twentySeven = indexed({0, 1}, 0, head(40, {27}), 27)[1];
    EXPECT_EQ(twentySeven.holes, 3);
    EXPECT_EQ(twentySeven.errorMinutes, 0);
}

TEST(Dividing, ADirectPlateOfTwentyFourServesItsDivisors) {
    const trade::Divider plate{trade::DividerKind::Plate, 1, {24}};
    for (const int count : {2, 3, 4, 6, 8, 12, 24}) {
        const std::vector<Indexing> readings = indexed(evenly(count), 0, plate, 24);
        EXPECT_EQ(readings[1].holes, 24 / count);
        EXPECT_EQ(readings[1].errorMinutes, 0) << count;
    }
    EXPECT_NE(indexed(evenly(5), 0, plate, 24)[1].errorMinutes, 0);
}

TEST(Dividing, CountsOnwardsFromTheZeroAcrossTheRound) {
    const std::vector<Indexing> readings = indexed({90, 64, 116, 90}, 90, head(40, kThreePlates), 18);
    EXPECT_EQ(readings[0].turns, 0);
    EXPECT_EQ(readings[1].angle, 334);  // 26 degrees back is 334 on
    EXPECT_EQ(inWords(readings[1], head(40, kThreePlates)), "37 turns and 2 holes of 18");
    EXPECT_EQ(readings[2].angle, 26);
    EXPECT_EQ(inWords(readings[2], head(40, kThreePlates)), "2 turns and 16 holes of 18");
    EXPECT_EQ(readings[3].angle, 0);
}

TEST(Dividing, ReadingsTurnedBackAreTheAnglesButForTheErrorTheyState) {
    std::mt19937_64 lot(7);
    std::uniform_real_distribution<double> anywhere(0, 360);
    for (int round = 0; round < 2000; ++round) {
        std::vector<double> angles;
        for (std::uint64_t i = 0; i < 1 + lot() % 8; ++i)
            angles.push_back(round % 3 == 0 ? std::round(anywhere(lot)) : anywhere(lot));
        trade::Divider divider = head(std::array{40.0, 60.0, 90.0}[lot() % 3], {});
        divider.kind = std::array{trade::DividerKind::Head, trade::DividerKind::Degrees,
                                  trade::DividerKind::Plate}[lot() % 3];
        for (std::uint64_t i = 0; i < 1 + lot() % 6; ++i)
            divider.circles.push_back(static_cast<int>(2 + lot() % 65));
        const int circle = bestCircle(angles, angles.front(), divider);
        double worst = 0;
        for (const Indexing& reading : indexed(angles, angles.front(), divider, circle)) {
            EXPECT_NEAR(angleSet(reading, divider), reading.angle + reading.errorMinutes / 60, 1e-9);
            worst = std::max(worst, std::abs(reading.errorMinutes));
            const double wanted = angles[static_cast<std::size_t>(reading.place - 1)] - angles.front();
            EXPECT_NEAR(std::remainder(wanted - reading.angle, 360), 0, 1e-9);
            EXPECT_LT(reading.holes,
                      divider.kind == trade::DividerKind::Plate ? circle + 1 : std::max(1, circle));
        }
        // No other circle does better.
        for (const int other : divider.circles) {
            double its = 0;
            for (const Indexing& reading : indexed(angles, angles.front(), divider, other))
                its = std::max(its, std::abs(reading.errorMinutes));
            EXPECT_LE(worst, its + 1e-6);
        }
    }
}

}  // namespace
}  // namespace bandwright::route
