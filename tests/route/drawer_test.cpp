#include "drawer.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace bandwright::route {
namespace {

/// Outside 20 + 2 * 2 = 24 mm, turned to 24.2; bored to 19.6.
design::Design plain() {
    design::Design design;
    design.finger.size = {trade::SizeSystem::Diameter, 20};
    design.band.thickness = 2;
    design.band.width = 6;
    design.allowances = {
        .sizing = 0.2, .truing = 0.1, .fill = 0.2, .parting = 0.5, .blankOutside = 1, .blankBore = 1};
    return design;
}

// ASTM B348 allows bars of 25 mm to be 0.25 off and as much out of round; below 0.25 mm on the radius nothing
// is sure to clean up.
TEST(Stock, IsTheSmallestThatCleansUp) {
    trade::Workshop shop;
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock.diameter, 25);
    shop.stock = {{"", 24.6, 0, 0}, {"", 24.8, 0, 0}, {"", 30, 0, 0}};
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock.diameter, 24.8);
    shop.stock.push_back({"titanium-grade-5", 28, 0, 200});
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock.diameter, 28);
    EXPECT_TRUE(pieceFor(plain(), trade::builtInCatalogue(), shop).atHand);
    shop.stock.back().length = 20;
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock.diameter, 24.8);
    EXPECT_FALSE(pieceFor(plain(), trade::builtInCatalogue(), shop).atHand);
    shop.stock = {{"brass", 30, 0, 100}};
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock.diameter, 25);
}

TEST(Stock, OfTubeLeavesSomethingToBore) {
    trade::Workshop shop;
    shop.stock = {{"", 25, 19, 0}, {"", 25, 0, 0}, {"", 24.9, 19.3, 0}};
    EXPECT_EQ(pieceFor(plain(), trade::builtInCatalogue(), shop).stock, shop.stock[0]);
    EXPECT_EQ(blankHole(plain(), trade::builtInCatalogue(), shop), 19);
}

// Trade facts: width, 0.5 mm for each face, the parting blade, 15 mm for the grip once.
// Common practice, no source: nobody drills the middle out of a bar of gold.
TEST(Stock, OfPreciousMetalIsOrderedToSize) {
    design::Design design = plain();
    design.band.metal = "gold-18k-yellow";
    trade::Workshop shop;
    shop.stock = {{"", 25, 0, 0}};
    const Piece ordered = pieceFor(design, trade::builtInCatalogue(), shop);
    EXPECT_TRUE(ordered.toOrder);
    // Outside 24.2 and 1 mm more on the radius; bore 19.6 and 1 mm less.
    EXPECT_NEAR(ordered.stock.diameter, 26.2, 1e-9);
    EXPECT_NEAR(ordered.stock.bore, 17.6, 1e-9);
    shop.stock.push_back({"gold-18k-yellow", 25, 18, 100});
    EXPECT_EQ(pieceFor(design, trade::builtInCatalogue(), shop).stock, shop.stock.back());
}

TEST(Stock, IsLongEnough) {
    trade::Workshop shop;
    shop.partingBlade = trade::Blade{1.5, 0};
    const Piece piece = pieceFor(plain(), trade::builtInCatalogue(), shop);
    EXPECT_NEAR(piece.used, 6 + 1 + 1.5, 1e-12);
    EXPECT_NEAR(piece.length, 8.5 + 15, 1e-12);
    EXPECT_NEAR(piece.volume, std::numbers::pi * 12.5 * 12.5 * 8.5, 1e-9);
}

// Joint 20 + 2 * 0.6 = 21.2 mm and 0.02 of interference; bore 20 - 0.4: 0.25 mm on the radius to turn off.
TEST(Stock, OfALinerIsTakenFromWhatIsAtHand) {
    design::Design design = plain();
    design.band.liner = design::Liner{};
    design.band.liner->metal = "gold-18k-yellow";
    design.band.liner->thickness = 0.6;
    design.band.liner->interference = 0.02;
    trade::Workshop shop;
    shop.stock = {{"", 22, 18, 0}, {"titanium-grade-5", 22, 18, 100}};
    const LinerPiece bought = linerPieceFor(design, shop);
    EXPECT_FALSE(bought.atHand);
    EXPECT_NEAR(bought.stock.diameter, 21.2 + 0.5 + 0.02, 1e-9);
    EXPECT_NEAR(bought.stock.bore, 19.6 - 0.5, 1e-9);
    EXPECT_NEAR(bought.used, 6 + 2 * 0.5, 1e-12);
    shop.stock.push_back({"gold-18k-yellow", 24, 0, 40});
    EXPECT_EQ(linerPieceFor(design, shop).stock, shop.stock.back());
    EXPECT_TRUE(linerPieceFor(design, shop).atHand);
    shop.stock.push_back({"gold-18k-yellow", 22, 19, 40});
    EXPECT_EQ(linerPieceFor(design, shop).stock, shop.stock.back());
    EXPECT_EQ(linerStockText(shop.stock.back()), "tube for the liner, 22 mm by 19 mm");
    shop.stock.back().length = 6.9;  // too short
    EXPECT_EQ(linerPieceFor(design, shop).stock.diameter, 24);
    shop.stock.back() = {"gold-18k-yellow", 21.5, 19, 40};  // too thin
    EXPECT_EQ(linerPieceFor(design, shop).stock.diameter, 24);
}

TEST(Drill, LeavesTheBoringBarSomething) {
    trade::Workshop shop;
    EXPECT_EQ(blankHole(plain(), trade::builtInCatalogue(), shop), 13);
    shop.drills = {6, 12, 19, 19.3, 20};
    EXPECT_EQ(blankHole(plain(), trade::builtInCatalogue(), shop), 19);
    shop.drills = {30};
    EXPECT_LE(blankHole(plain(), trade::builtInCatalogue(), shop), 19.1);
}

// Widia; cuttingtoolsai.eu: steel bars stand out to 4 diameters, carbide to 6.
TEST(BoringBar, IsTheThickestThatFitsAndReaches) {
    trade::Workshop shop;
    shop.boringBars = {{5, 0, false}, {8, 0, false}, {12, 0, false}, {8, 0, true}};
    EXPECT_EQ(boringBarFor(shop, 13, 12).bar.diameter, 8);
    EXPECT_TRUE(boringBarFor(shop, 13, 12).reaches);
    EXPECT_FALSE(boringBarFor(shop, 13, 32).bar.carbide);
    EXPECT_TRUE(boringBarFor(shop, 13, 40).bar.carbide);
    EXPECT_TRUE(boringBarFor(shop, 13, 48).reaches);
    EXPECT_FALSE(boringBarFor(shop, 13, 49).reaches);
    EXPECT_FALSE(boringBarFor(shop, 4, 10).reaches);
    shop.boringBars = {{5, 20, false}, {8, 10, false}};
    EXPECT_EQ(boringBarFor(shop, 13, 12).bar.diameter, 5);
    EXPECT_FALSE(boringBarFor({}, 13, 12).told);
}

TEST(GroovingBlade, IsNoWiderThanTheChannelAndNoRounderThanItsCorners) {
    trade::Workshop shop;
    shop.groovingBlades = {{0.6, 0.05}, {1, 0.1}, {1.5, 0.2}};
    EXPECT_EQ(groovingBladeFor(shop, 2, 0.2).blade.width, 1.5);
    EXPECT_EQ(groovingBladeFor(shop, 2, 0.15).blade.width, 1);
    EXPECT_EQ(groovingBladeFor(shop, 0.9, 0.2).blade.width, 0.6);
    EXPECT_TRUE(groovingBladeFor(shop, 0.9, 0.2).fits);
    EXPECT_FALSE(groovingBladeFor(shop, 0.5, 0.2).fits);
    EXPECT_FALSE(groovingBladeFor(shop, 2, 0).fits);
}

}  // namespace
}  // namespace bandwright::route
