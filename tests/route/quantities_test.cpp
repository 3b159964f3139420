#include "route/quantities.hpp"

#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <numbers>

#include "bench_job.hpp"
#include "plain_ring.hpp"

namespace bandwright::route {
namespace {

/// Works a sum out as a person would: numbers, + - x / and brackets; words are passed over, and what stands
/// between "=" and ";" is a result on the way.
class Sum {
  public:
    explicit Sum(std::string text) : text_(std::move(text)) {}

    std::optional<double> result() {
        if (text_.find_first_of("0123456789") == std::string::npos) return std::nullopt;
        return sum();
    }

  private:
    void skip() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '=') {
                const std::size_t end = text_.find(';', at_);
                at_ =
                    end == std::string::npos || text_.compare(end, 6, "; have") == 0 ? text_.size() : end + 1;
            } else if (c == 'x' && at_ + 1 < text_.size() && text_[at_ + 1] == ' ') {
                return;
            } else if (std::isalpha(static_cast<unsigned char>(c))) {
                at_ = std::min(text_.size(), text_.find_first_of(" );,", at_));
            } else if (c == ' ' || c == ',') {
                ++at_;
            } else {
                return;
            }
        }
    }

    char next() {
        skip();
        return at_ < text_.size() ? text_[at_] : '\0';
    }

    double sum() {
        double value = product();
        while (next() == '+' || next() == '-') {
            const bool plus = text_[at_++] == '+';
            value += plus ? product() : -product();
        }
        return value;
    }

    double product() {
        double value = atom();
        while (next() == 'x' || next() == '/') {
            const bool times = text_[at_++] == 'x';
            const double other = atom();
            value = times ? value * other : value / other;
        }
        return value;
    }

    double atom() {
        if (next() == '(') {
            ++at_;
            const double value = sum();
            if (next() == ')') ++at_;
            return value;
        }
        std::size_t used = 0;
        const double value = std::stod(text_.substr(at_), &used);
        at_ += used;
        return value;
    }

    std::string text_;
    std::size_t at_ = 0;
};

void expectSumsHold(const Quantities& quantities, std::uint64_t seed) {
    for (const Quantity& item : quantities.items) {
        const auto by = Sum(item.how).result();
        if (!by) continue;
        const double worked = item.unit == "drops" ? std::ceil(*by - 1e-9) : *by;
        // Numbers in the sum are rounded to three decimals.
        const double room = item.unit == "drops" ? 1 : std::max(0.002, 0.01 * item.amount);
        EXPECT_NEAR(worked, item.amount, room) << seed << ": " << item.what << ": " << item.how;
    }
}

TEST(Quantities, OfAPlainTubeByHand) {
    design::Design design = check::plainRing();
    design.allowances.truing = 0;  // so that a bar of 25.4 mm leaves 0.25 mm to turn off
    trade::Workshop workshop;
    workshop.stock = {{"titanium-grade-5", 25.4, 0, 300}};
    workshop.partingBlade = trade::Blade{2, 0};
    const Quantities found = quantitiesOf(design, trade::builtInCatalogue(), workshop);
    // 24.8 mm across and 20 inside, 8 wide: Pappus; a bar of 25.4 mm, 8 + 2 x 0.5 + 2 = 11 mm of it.
    const double ring = std::numbers::pi * (12.4 * 12.4 - 100) * 8;
    const double bar = std::numbers::pi / 4 * 25.4 * 25.4 * 11;
    EXPECT_NEAR(found.blankVolume, bar, 1e-6);
    EXPECT_NEAR(found.finishedVolume, ring, 1e-6);
    EXPECT_NEAR(found.chipVolume, found.blankVolume - ring, 1e-6);
    EXPECT_NEAR(found.finishedMass, ring * 4.42e-3, 1e-6);
    EXPECT_EQ(found.reclaimed, 0);
    EXPECT_EQ(found.items[0].unit, "g");
    EXPECT_EQ(found.items[0].what, found.items[1].what);
    EXPECT_EQ(found.items[1].unit, "mm");
    EXPECT_NEAR(found.items[1].amount, 11, 1e-9);
    expectSumsHold(found, 0);
}

TEST(Quantities, ChipsOfGoldComeBackByTheirFineness) {
    design::Design design = check::plainRing();
    design.band.metal = "gold-18k-yellow";
    const Quantities found = quantitiesOf(design, trade::builtInCatalogue(), {});
    // 750 in a thousand; a refiner pays for 0.85 to 0.95 of it, common practice.
    EXPECT_GE(found.reclaimed, 0.85 * 0.75 * found.chipMass);
    EXPECT_LE(found.reclaimed, 0.95 * 0.75 * found.chipMass);
}

TEST(Quantities, StonesWeighAsTheTradeSays) {
    // Trade charts: a round diamond of 4 mm weighs 0.24 to 0.26 ct; by the cube from 6.5 mm = 1 ct, 0.233.
    design::Design design = check::plainRing();
    design.settings = {design::Setting{}};
    design.settings[0].stone->gem = "diamond";
    design.settings[0].placement.count = 3;
    for (const Quantity& item : quantitiesOf(design, trade::builtInCatalogue(), {}).items) {
        if (item.unit == "ct") {
            EXPECT_NEAR(item.amount, 3 * 0.24, 3 * 0.02);
        }
        if (item.unit == "pieces") {
            EXPECT_EQ(item.amount, 3);
        }
    }
}

TEST(QuantitiesByLot, SumsInWordsCanBeWorkedOutAgain) {
    int drawn = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(200); ++seed) {
        const auto design = whole(seed);
        if (!design) continue;
        const Quantities found = quantitiesOf(*design, trade::builtInCatalogue(), {});
        expectSumsHold(found, seed);
        for (const Quantity& item : found.items) {
            EXPECT_GE(item.amount, 0) << seed << item.what;
            EXPECT_GE(item.needed, 0) << seed << item.what;
        }
        EXPECT_NEAR(found.blankMass, found.finishedMass + found.chipMass, 1e-9);
        ++drawn;
    }
    EXPECT_GT(drawn, 30);
}

}  // namespace
}  // namespace bandwright::route
