#include "design/history.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <vector>

namespace bandwright::design {
namespace {

Design wide(double width) {
    Design design;
    design.band.width = width;
    return design;
}

std::vector<double> widthsBack(History history) {
    std::vector<double> widths{history.current().band.width};
    while (history.canUndo()) {
        history.undo();
        widths.push_back(history.current().band.width);
    }
    return widths;
}

TEST(History, UndoAndRedoWalkThroughWhatWasPushed) {
    History history(wide(4));
    EXPECT_FALSE(history.canUndo());
    EXPECT_FALSE(history.canRedo());
    history.push(wide(5));
    history.push(wide(6));
    history.undo();
    EXPECT_EQ(history.current(), wide(5));
    history.undo();
    EXPECT_EQ(history.current(), wide(4));
    EXPECT_FALSE(history.canUndo());
    history.redo();
    history.redo();
    EXPECT_EQ(history.current(), wide(6));
    EXPECT_FALSE(history.canRedo());
}

TEST(History, NothingHappensAtEitherEnd) {
    History history(wide(4));
    history.undo();
    history.redo();
    EXPECT_EQ(history.current(), wide(4));
}

TEST(History, APushForgetsWhatHadBeenUndone) {
    History history(wide(4));
    history.push(wide(5));
    history.undo();
    history.push(wide(6));
    EXPECT_FALSE(history.canRedo());
    EXPECT_EQ(widthsBack(history), (std::vector<double>{6, 4}));
}

TEST(History, AnEqualDesignIsNoStepAndForgetsNothing) {
    History history(wide(4));
    history.push(wide(5));
    history.undo();
    history.push(wide(4));
    EXPECT_FALSE(history.canUndo());
    EXPECT_TRUE(history.canRedo());
}

TEST(History, ADragIsOneStep) {
    History history(wide(4));
    for (const double width : {4.1, 4.2, 4.3})
        history.push(wide(width), "band.width");
    EXPECT_EQ(widthsBack(history), (std::vector<double>{4.3, 4}));
}

TEST(History, TwoDragsOfOneNumberAreTwoStepsWhenTheFirstHasEnded) {
    History history(wide(4));
    history.push(wide(5), "band.width");
    history.endDrag();
    history.push(wide(6), "band.width");
    EXPECT_EQ(widthsBack(history), (std::vector<double>{6, 5, 4}));
}

TEST(History, ADragOfAnotherNumberIsAStepOfItsOwn) {
    History history(wide(4));
    history.push(wide(5), "band.width");
    Design thick = wide(5);
    thick.band.thickness = 3;
    history.push(thick, "band.thickness");
    history.undo();
    EXPECT_EQ(history.current(), wide(5));
}

TEST(History, ADragDoesNotSwallowAStepThatWasUndoneTo) {
    History history(wide(4));
    history.push(wide(5), "band.width");
    history.push(wide(6));
    history.undo();
    history.push(wide(7), "band.width");
    EXPECT_EQ(widthsBack(history), (std::vector<double>{7, 5, 4}));
}

TEST(History, ADragThatEndsWhereItBeganLeavesNoStep) {
    History history(wide(4));
    history.push(wide(5));
    history.push(wide(6), "band.width");
    history.push(wide(5), "band.width");
    EXPECT_EQ(widthsBack(history), (std::vector<double>{5, 4}));
    history.push(wide(7), "band.width");
    EXPECT_EQ(widthsBack(history), (std::vector<double>{7, 5, 4}));
}

TEST(History, TheOldestAreForgottenBeyondTheLimit) {
    History history(wide(1), 3);
    for (int width = 2; width <= 10; ++width)
        history.push(wide(width));
    EXPECT_EQ(widthsBack(history), (std::vector<double>{10, 9, 8, 7}));
}

TEST(History, ACopyGoesItsOwnWay) {
    History history(wide(4));
    history.push(wide(5));
    History copy = history;
    copy.undo();
    EXPECT_EQ(history.current(), wide(5));
    EXPECT_EQ(copy.current(), wide(4));
}

// The model: a list of widths and a place in it, the textbook two-ended tape.
RC_GTEST_PROP(History, ActsLikeATapeWithoutDrags, ()) {
    const std::size_t limit = *rc::gen::inRange<std::size_t>(1, 6);
    History history(wide(0), limit);
    std::vector<double> tape{0};
    std::size_t at = 0;
    const int steps = *rc::gen::inRange(0, 60);
    for (int i = 0; i < steps; ++i) {
        const int action = *rc::gen::inRange(0, 5);
        if (action < 3) {
            const double width = *rc::gen::inRange(0, 4);
            history.push(wide(width));
            if (width != tape[at]) {
                tape.resize(at + 1);
                tape.push_back(width);
                if (tape.size() > limit + 1) tape.erase(tape.begin());
                at = tape.size() - 1;
            }
        } else if (action == 3) {
            history.undo();
            if (at > 0) --at;
        } else {
            history.redo();
            if (at + 1 < tape.size()) ++at;
        }
        RC_ASSERT(history.current().band.width == tape[at]);
        RC_ASSERT(history.canUndo() == (at > 0));
        RC_ASSERT(history.canRedo() == (at + 1 < tape.size()));
    }
}

RC_GTEST_PROP(History, UndoAlwaysChangesTheDesignAndRedoTakesItBack, ()) {
    History history(wide(0));
    const int steps = *rc::gen::inRange(1, 60);
    for (int i = 0; i < steps; ++i) {
        const char* drag = *rc::gen::element("", "a", "b");
        history.push(wide(*rc::gen::inRange(0, 4)), drag);
        if (*rc::gen::inRange(0, 5) == 0) history.undo();
        if (!history.canUndo()) continue;
        History back = history;
        back.undo();
        RC_ASSERT(!(back.current() == history.current()));
        back.redo();
        RC_ASSERT(back.current() == history.current());
    }
}

TEST(History, GoesToAnyPlaceAndOnFromThere) {
    History history(wide(0));
    for (int i = 1; i < 5; ++i)
        history.push(wide(i));
    history.goTo(1);
    EXPECT_EQ(history.current(), wide(1));
    history.goTo(4);
    EXPECT_EQ(history.current(), wide(4));
    history.goTo(5);
    EXPECT_EQ(history.place(), 4U);
    history.goTo(2);
    History on(history.designs(), history.place());
    on.redo();
    EXPECT_EQ(on.current(), wide(3));
    on.goTo(2);
    on.push(wide(9));
    EXPECT_EQ(on.designs().size(), 4U);
    EXPECT_FALSE(on.canRedo());
}

}  // namespace
}  // namespace bandwright::design
