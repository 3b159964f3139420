#include "app/step_list.hpp"

#include <gtest/gtest.h>

#include <random>

#include "app/change_words.hpp"
#include "design/field_table.hpp"
#include "headless.hpp"
#include "random_design.hpp"

namespace bandwright::app {
namespace {

TEST(ChangeWords, AreThoseOfTheCard) {
    const design::Design before = harbour();
    const auto words = [&](auto change) {
        design::Design after = before;
        change(after);
        return changesInWords(before, after, trade::builtInCatalogue());
    };
    using Words = std::vector<std::string>;
    EXPECT_EQ(words([](design::Design&) {}), Words());
    EXPECT_EQ(words([](design::Design& d) { d.band.width = 8.5; }),
              Words{"Width of the band: 8.5 mm instead of 8 mm"});
    EXPECT_EQ(words([](design::Design& d) { d.band.metal = "gold-14k-yellow"; }),
              Words{"Metal of the band: 14K yellow gold instead of Titanium grade 5 (6Al-4V)"});
    EXPECT_EQ(words([](design::Design& d) { d.channels.clear(); }), Words{"A channel taken out"});
    EXPECT_EQ(words([](design::Design& d) { d.settings.push_back(d.settings.front()); }),
              Words{"A setting put in"});
    EXPECT_EQ(words([](design::Design& d) { d.channels.front().fill.reset(); }),
              Words{"Fill of the channel taken out"});
    EXPECT_EQ(words([](design::Design& d) { d.done.push_back({}); }), Words{"Ticks at the bench"});
}

TEST(ChangeWords, NameEveryNumberThatDiffersInDesignsByLot) {
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(200); ++seed) {
        const design::Design before = geometry::randomDesign(seed);
        std::mt19937_64 lot(seed);
        const std::vector<design::Field> fields = design::fieldsIn(before);
        design::Design after = before;
        std::size_t numbers = 0;
        for (const design::Field& field : fields) {
            double* const number = design::numberAt(after, field.path);
            if (number == nullptr || lot() % 8 != 0) continue;
            *number += field.number.grid;
            ++numbers;
        }
        EXPECT_EQ(changesInWords(before, after, trade::builtInCatalogue()).size(), numbers) << seed;
        EXPECT_EQ(changesInWords(after, before, trade::builtInCatalogue()).size(), numbers) << seed;
    }
}

TEST(Steps, AreNamedAndGoneToByOnePress) {
    Headless desk(harbour());
    desk.enter("band.width", "8.5");
    desk.enter("band.thickness", "2.6");
    desk.enter("band.width", "9");
    desk.press(Key::H, kCtrl);
    const StepList& steps = desk.bench().steps();
    ASSERT_EQ(steps.names().size(), 4U);
    EXPECT_EQ(steps.names()[1], "Width of the band: 8.5 mm instead of 8 mm");
    EXPECT_EQ(steps.names()[2], "Thickness of the band: 2.6 mm instead of 2.4 mm");
    desk.clickAt(steps.places().at("1"));
    EXPECT_EQ(desk.design().band.width, 8.5);
    EXPECT_EQ(desk.design().band.thickness, 2.4);
    EXPECT_TRUE(steps.shown()) << "so that one can go on looking";
    desk.clickAt(steps.places().at("3"));
    EXPECT_EQ(desk.design().band.width, 9);
    desk.press(Key::Down);
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.width, 8.5) << "by keys, the last is uppermost";
    desk.press(Key::Escape);
    EXPECT_FALSE(steps.shown());
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design().band.thickness, 2.4);
}

TEST(Steps, SurviveThatTheProgramIsCutOff) {
    const ScratchFolder folder;
    {
        Headless desk(harbour(), folder.path());
        desk.enter("band.width", "8.5");
        desk.enter("band.thickness", "2.6");
        desk.enter("band.width", "9");
        desk.press(Key::Z, kCtrl);
        desk.bench().keepSafe();
    }
    Headless desk({}, folder.path());
    desk.press(Key::Enter);  // take them up
    EXPECT_EQ(desk.design().band.width, 8.5);
    EXPECT_EQ(desk.design().band.thickness, 2.6);
    desk.press(Key::Z, kCtrl | kShift);
    EXPECT_EQ(desk.design().band.width, 9) << "what was undone, too";
    for (int i = 0; i < 3; ++i)
        desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_TRUE(desk.bench().session().unsaved());
}

/// BANDWRIGHT_DESIGNS=500 for as many edits.
TEST(Steps, RandomEditsAreUndoneAndDoneAgainToTheSameBytes) {
    Headless desk(harbour());
    const design::History& history = desk.bench().session().history();
    std::vector<std::string> texts = {design::formatDesign(desk.design())};
    std::mt19937 lot(1);
    const std::uint64_t wanted = geometry::designsToDraw(40);
    for (int tries = 0; texts.size() <= wanted && tries < 100000; ++tries) {
        const auto& places = desk.fields().places();
        auto place = places.begin();
        std::advance(place, lot() % places.size());
        if (place->first.starts_with("title") || place->first.ends_with(".model")) continue;
        desk.clickAt(place->second);
        switch (lot() % 4) {
            case 0:
                desk.type(std::to_string(1 + lot() % 9));
                break;
            case 1:
                desk.press(Key::Up);
                break;
            default:
                desk.press(Key::Down);
        }
        desk.press(Key::Enter);
        if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel) ||
            ImGui::GetIO().WantTextInput)
            desk.press(Key::Escape);
        // A key may do nothing, or two things, or go on with the last.
        for (std::size_t i = texts.size(); i < history.place(); ++i)
            texts.push_back(design::formatDesign(history.designs()[i]));
        texts.resize(history.place() + 1);
        texts.back() = design::formatDesign(desk.design());
    }
    ASSERT_GT(texts.size(), wanted);
    for (std::size_t i = texts.size(); i-- > 0;) {
        EXPECT_EQ(design::formatDesign(desk.design()), texts[i]) << i;
        desk.press(Key::Z, kCtrl);
    }
    EXPECT_EQ(desk.design(), harbour());
    for (const std::string& text : texts) {
        EXPECT_EQ(design::formatDesign(desk.design()), text);
        desk.press(Key::Z, kCtrl | kShift);
    }
}

}  // namespace
}  // namespace bandwright::app
