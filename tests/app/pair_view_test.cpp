#include "app/pair_view.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <numbers>

#include "app/differences.hpp"
#include "headless.hpp"
#include "program.hpp"
#include "random_design.hpp"
#include "trade/workshop.hpp"

namespace bandwright::app {
namespace {

RingInFigures figuresOf(const design::Design& design, const trade::Workshop& workshop = {}) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    const Derived derived = derive(design, catalogue, design::Stage::Finished, {.remedies = false});
    return inFigures(design, derived.made, derived.report, derived.bodies, catalogue, workshop);
}

std::vector<std::string> linesUnder(const std::string& heading, const std::vector<Differences>& all) {
    for (const Differences& kind : all)
        if (kind.heading == heading) return kind.lines;
    return {};
}

/// What a hundred workshops may tell: gold by the gram and an hour of work.
trade::Workshop pricing() {
    trade::Workshop workshop;
    workshop.currency = "EUR";
    workshop.hourlyRate = 60;
    workshop.prices.push_back({"titanium-grade-5", 0.2, trade::PriceUnit::Gram});
    workshop.prices.push_back({"gold-14k-yellow", 50, trade::PriceUnit::Gram});
    return workshop;
}

using Lines = std::vector<std::string>;

TEST(DifferencesOfRings, AreToldByWhatAClientSees) {
    const design::Design left = harbour();
    design::Design right = left;
    right.band.metal = "gold-14k-yellow";
    right.band.width = 8.5;
    right.band.surface.outside = design::Finish::Satin;
    right.channels.front().depth += 0.1;
    right.note = "for Thursday";
    right.title = "Harbour in gold";
    const auto told = differences(figuresOf(left), figuresOf(right), trade::builtInCatalogue());
    EXPECT_EQ(linesUnder("Size and fit", told), Lines{"Width of the band: 8.5 mm instead of 8 mm"});
    const Lines look = linesUnder("Look", told);
    ASSERT_EQ(look.size(), 2U);
    EXPECT_EQ(look[0], "Metal of the band: 14K yellow gold instead of Titanium grade 5 (6Al-4V)");
    EXPECT_NE(look[1].find("satin instead of"), std::string::npos) << look[1];
    const Lines unseen = linesUnder("Out of sight", told);
    ASSERT_EQ(unseen.size(), 2U);
    EXPECT_EQ(unseen[0].substr(0, 33), "Note: 'for Thursday' instead of '");
    EXPECT_EQ(unseen[1].substr(0, 20), "Depth of the channel");
    EXPECT_EQ(linesUnder("Price", told), Lines()) << "the workshop tells none";
}

TEST(DifferencesOfRings, TellEachChannelAndStoneThatOneHasMore) {
    const design::Design left = harbour();
    design::Design right = left;
    right.channels.clear();
    right.settings.clear();
    const auto told = differences(figuresOf(left), figuresOf(right), trade::builtInCatalogue());
    const auto back = differences(figuresOf(right), figuresOf(left), trade::builtInCatalogue());
    const Lines look = linesUnder("Look", told), lookBack = linesUnder("Look", back);
    ASSERT_EQ(look.size(), left.channels.size() + left.settings.size());
    ASSERT_EQ(lookBack.size(), look.size());
    for (const std::string& line : look)
        EXPECT_TRUE(line.starts_with("No more: ")) << line;
    for (const std::string& line : lookBack)
        EXPECT_TRUE(line.starts_with("More: ")) << line;
}

/// Mass: a plain flat band is a tube, pi (R^2 - r^2) w; density of Ti-6Al-4V 4.43 g/cm3 (ASM Aerospace
/// Specification Metals data sheet). Price: the printed sum of the quote.
TEST(DifferencesOfRings, TellBothMassesAndPrices) {
    design::Design left;
    left.band.metal = "titanium-grade-5";
    left.band.left.shape = left.band.right.shape = design::EdgeShape::Sharp;
    left.band.bore.shape = design::BoreShape::Straight;
    design::Design right = left;
    right.band.width = left.band.width + 1;
    const RingInFigures a = figuresOf(left, pricing()), b = figuresOf(right, pricing());
    const double inner = trade::innerDiameter(left.finger.size) / 2, outer = inner + left.band.thickness;
    const double perMm = std::numbers::pi * (outer * outer - inner * inner) * 4.43e-3;
    EXPECT_NEAR(b.mass - a.mass, perMm, 0.005 * perMm);
    const auto told = differences(a, b, trade::builtInCatalogue());
    const Lines mass = linesUnder("Mass", told);
    ASSERT_EQ(mass.size(), 1U);
    EXPECT_NE(mass.front().find("heavier"), std::string::npos) << mass.front();
    ASSERT_GT(b.price, a.price);
    const Lines price = linesUnder("Price", told);
    ASSERT_FALSE(price.empty());
    EXPECT_EQ(price.front(), route::money(b.price) + " EUR instead of " + route::money(a.price) + " EUR, " +
                                 route::money(b.price - a.price) + " dearer");
}

TEST(DifferencesOfRings, ByLotAreNoneOnlyBetweenTheSame) {
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(60); ++seed) {
        RingInFigures one, other;
        one.design = geometry::randomDesign(seed);
        other.design = geometry::randomDesign(seed + 1);
        const auto count = [](const std::vector<Differences>& all) {
            std::size_t lines = 0;
            for (const Differences& kind : all) {
                EXPECT_FALSE(kind.lines.empty());
                lines += kind.lines.size();
            }
            return lines;
        };
        const trade::Catalogue catalogue = trade::builtInCatalogue();
        EXPECT_EQ(count(differences(one, one, catalogue)), 1U) << "the mass alone, " << seed;
        EXPECT_GT(count(differences(one, other, catalogue)), 1U) << seed;
        EXPECT_EQ(count(differences(one, other, catalogue)), count(differences(other, one, catalogue)))
            << seed;
    }
}

/// The harbour ring, a millimetre wider than in its file.
class TwoRings : public testing::Test {
  protected:
    TwoRings() {
        desk.bench().open(sample("harbour"));
        desk.settle();
        desk.enter("band.width", "8.5");
        desk.enter("band.width", "9");
        desk.press(Key::M, kCtrl);
        await();
    }
    const PairView& pair() { return desk.bench().pair(); }
    void press(const std::string& place) {
        ASSERT_TRUE(pair().places().contains(place)) << place;
        desk.clickAt(pair().places().at(place));
    }
    void await() {
        do {
            desk.frames(1);
            std::this_thread::yield();
        } while (pair().busy());
        desk.frames(2);
    }
    Lines size() { return linesUnder("Size and fit", pair().told()); }
    Headless desk;
};

TEST_F(TwoRings, BeginWithTheSavedOneAndTheOneAsItIs) {
    EXPECT_TRUE(pair().shown());
    EXPECT_EQ(pair().moment(PairView::kLeft).kind, PairView::Moment::Kind::Saved);
    EXPECT_EQ(pair().moment(PairView::kRight).kind, PairView::Moment::Kind::Now);
    EXPECT_EQ(size(), Lines{"Width of the band: 9 mm instead of 8 mm"});
    EXPECT_EQ(pair().rest(), std::numeric_limits<double>::infinity()) << "nothing moves by itself";
    desk.press(Key::Escape);
    EXPECT_FALSE(pair().shown());
    EXPECT_EQ(desk.design().band.width, 9) << "nothing was changed";
}

TEST_F(TwoRings, AreFoundByTheirNameAndUnderTheSteps) {
    desk.press(Key::Escape);
    desk.press(Key::H, kCtrl);
    desk.clickAt(desk.bench().steps().places().at("compare"));
    await();
    EXPECT_TRUE(pair().shown());
    EXPECT_FALSE(desk.bench().steps().shown());
    desk.press(Key::Escape);
    desk.press(Key::F, kCtrl);
    desk.type("compare two");
    desk.press(Key::Enter);
    await();
    EXPECT_TRUE(pair().shown());
}

TEST_F(TwoRings, AnyStepIsChosenByMouseAndByKeys) {
    press("left");
    press("step1");
    await();
    EXPECT_EQ(size(), Lines{"Width of the band: 9 mm instead of 8.5 mm"});
    desk.press(Key::Digit2);  // the right one, its list standing at "As it is now"
    desk.press(Key::Down);    // the saved one
    desk.press(Key::Enter);
    await();
    EXPECT_EQ(pair().moment(PairView::kRight).kind, PairView::Moment::Kind::Saved);
    EXPECT_EQ(size(), Lines{"Width of the band: 8 mm instead of 8.5 mm"});
}

TEST_F(TwoRings, AnotherFileIsOneSideAndStaysForTheNextTime) {
    press("left");
    press("another");
    desk.press(Key::A, kCtrl);
    desk.type(sample("tide-mill"));
    desk.press(Key::Enter);
    await();
    EXPECT_EQ(pair().problem(PairView::kLeft), "");
    EXPECT_EQ(pair().moment(PairView::kLeft).file.filename(), "tide-mill.ring.json");
    EXPECT_FALSE(linesUnder("Look", pair().told()).empty());
    EXPECT_EQ(desk.bench().session().file().filename(), "harbour.ring.json");
    desk.press(Key::Escape);
    desk.press(Key::M, kCtrl);
    await();
    EXPECT_EQ(pair().moment(PairView::kLeft).kind, PairView::Moment::Kind::File);
}

TEST_F(TwoRings, AFileThatCannotBeReadIsToldInOneSentence) {
    const ScratchFolder folder;
    const std::filesystem::path file = folder / "broken.ring.json";
    writeFile(file, "{\"title\": 3");
    desk.bench().open(file);  // as one that is dropped on the window
    await();
    const std::string& problem = pair().problem(PairView::kLeft);
    EXPECT_NE(problem.find("broken.ring.json"), std::string::npos) << problem;
    EXPECT_EQ(std::ranges::count(problem, '\n'), 0) << problem;
    EXPECT_TRUE(pair().told().empty());
    EXPECT_EQ(desk.design().band.width, 9);
    press("left");
    press("saved");
    await();
    EXPECT_FALSE(pair().told().empty());
}

TEST_F(TwoRings, OneTurnTurnsBothAtOneScale) {
    const auto views = [&] {
        return std::array{pair().scene(PairView::kLeft).view, pair().scene(PairView::kRight).view};
    };
    const auto before = views();
    const std::array<float, 4> box = pair().places().at("left picture");
    desk.moveTo((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    desk.button(true);
    desk.settle();
    desk.moveTo((box[0] + box[2]) / 2 + 100, (box[1] + box[3]) / 2);
    desk.settle();
    desk.button(false);
    await();
    const auto after = views();
    EXPECT_NEAR(after[0].camera.azimuth, before[0].camera.azimuth - 40, 1e-9) << "0.4 degrees a pixel";
    EXPECT_EQ(after[0].camera.azimuth, after[1].camera.azimuth);
    desk.press(Key::L);
    desk.press(Key::Up);
    await();
    EXPECT_TRUE(views()[0].lightsOut && views()[1].lightsOut);
    EXPECT_EQ(views()[0].camera.elevation, views()[1].camera.elevation);
    EXPECT_GT(views()[1].camera.elevation, before[1].camera.elevation);
    const scene::Size size{static_cast<int>(box[2] - box[0]), static_cast<int>(box[3] - box[1])};
    const double left = scene::viewpoint(pair().scene(PairView::kLeft), size).pixelsPerMm,
                 right = scene::viewpoint(pair().scene(PairView::kRight), size).pixelsPerMm;
    EXPECT_NEAR(left, right, 1e-9 * left) << "the wider ring is seen to be wider";
}

TEST_F(TwoRings, FlickerByItselfOnlyWhileThatIsOn) {
    desk.press(Key::Space);
    EXPECT_TRUE(pair().inOnePlace());
    const PairView::Side first = pair().seen();
    desk.press(Key::Space);
    EXPECT_NE(pair().seen(), first);
    EXPECT_EQ(pair().rest(), std::numeric_limits<double>::infinity());
    desk.press(Key::F);
    await();
    EXPECT_LE(pair().rest(), 0.5);
    EXPECT_FALSE(desk.bench().busy()) << "between two pictures it waits";
    const PairView::Side seen = pair().seen();
    while (pair().seen() == seen) {
        std::this_thread::sleep_for(std::chrono::duration<double>(pair().rest()));
        desk.frames(1);
    }
    press("beside");
    EXPECT_FALSE(pair().flickers());
    EXPECT_FALSE(pair().inOnePlace());
    EXPECT_EQ(pair().rest(), std::numeric_limits<double>::infinity());
    press("leave");
    EXPECT_FALSE(pair().shown());
}

}  // namespace
}  // namespace bandwright::app
