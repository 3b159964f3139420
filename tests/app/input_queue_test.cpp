#include "app/input_queue.hpp"

#include <gtest/gtest.h>
#include <imgui.h>

#include <utility>

#include "app/keys.hpp"

namespace bandwright::app {
namespace {

class InputQueueTest : public testing::Test {
  protected:
    ImGuiContext* context_ = ImGui::CreateContext();
    ImGuiIO& io_ = ImGui::GetIO();
    InputQueue queue_;

    ~InputQueueTest() override { ImGui::DestroyContext(context_); }
};

TEST_F(InputQueueTest, AButtonGoesDownAndUpInTwoFrames) {
    queue_.push({InputEvent::Kind::MouseMove, 10, 20});
    queue_.push({InputEvent::Kind::MouseButton, 0, 0, 0, true});
    queue_.push({InputEvent::Kind::MouseButton, 0, 0, 0, false});
    queue_.feed(io_);
    EXPECT_EQ(io_.MousePos.x, 10);
    EXPECT_TRUE(io_.MouseDown[0]);
    queue_.feed(io_);
    EXPECT_FALSE(io_.MouseDown[0]);
    EXPECT_TRUE(queue_.empty());
}

TEST_F(InputQueueTest, AClickBelongsToThePlaceWhereItWasMade) {
    queue_.push({InputEvent::Kind::MouseMove, 10, 20});
    queue_.push({InputEvent::Kind::MouseButton, 0, 0, 0, true});
    queue_.push({InputEvent::Kind::MouseMove, 500, 20});
    queue_.feed(io_);
    EXPECT_EQ(io_.MousePos.x, 10);
    queue_.feed(io_);
    EXPECT_EQ(io_.MousePos.x, 500);
}

TEST_F(InputQueueTest, ManyMovesShareAFrame) {
    for (int i = 0; i < 50; ++i)
        queue_.push({InputEvent::Kind::MouseMove, static_cast<float>(i), 0});
    queue_.feed(io_);
    EXPECT_TRUE(queue_.empty());
    EXPECT_EQ(io_.MousePos.x, 49);
}

constexpr int kEnter = static_cast<int>(Key::Enter);

TEST_F(InputQueueTest, WhatIsTypedComesBeforeTheKeyThatConfirmsIt) {
    queue_.push({InputEvent::Kind::Character, 0, 0, '7', true});
    queue_.push({InputEvent::Kind::Key, 0, 0, kEnter, true});
    queue_.push({InputEvent::Kind::Character, 0, 0, '8', true});
    queue_.feed(io_);
    ASSERT_EQ(io_.InputQueueCharacters.Size, 1);
    EXPECT_EQ(io_.InputQueueCharacters[0], '7');
    EXPECT_TRUE(io_.KeysDown[kEnter]);
    EXPECT_FALSE(queue_.empty());
}

TEST_F(InputQueueTest, TypingFastNeedsNotOneFrameForEachKey) {
    io_.WantTextInput = true;
    for (const auto& [key, c] :
         {std::pair{Key::Digit3, '3'}, std::pair{Key::Slash, '/'}, std::pair{Key::Digit8, '8'}}) {
        queue_.push({InputEvent::Kind::Key, 0, 0, static_cast<int>(key), true});
        queue_.push({InputEvent::Kind::Character, 0, 0, c, true});
        queue_.push({InputEvent::Kind::Key, 0, 0, static_cast<int>(key), false});
    }
    queue_.feed(io_);
    EXPECT_TRUE(queue_.empty());
    EXPECT_EQ(io_.InputQueueCharacters.Size, 3);
}

}  // namespace
}  // namespace bandwright::app
