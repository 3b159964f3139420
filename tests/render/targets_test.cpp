#include "targets.hpp"

#include "gl_fixture.hpp"

namespace bandwright::render {
namespace {

constexpr scene::Size kTargetSize{400, 300};

class MovingPicture : public GlTest {
  protected:
    void SetUp() override {
        GlTest::SetUp();
        targets_.fit(kTargetSize);
    }
    void pace(double milliseconds, int frames) {
        for (int i = 0; i < frames; ++i)
            targets_.pace(milliseconds);
    }
    int width() const { return targets_.movingSize().width; }

    Targets targets_{false};
};

constexpr double kLate = 60, kEarly = 2, kWell = 20;  // ms

TEST_F(MovingPicture, GetsSmallerWhenSeveralInARowAreLate) {
    const int first = width();
    pace(kLate, 20);
    EXPECT_LT(width(), first / 2 + 1);
    EXPECT_GE(width(), kTargetSize.width / 4);
    pace(kEarly, 40);
    EXPECT_EQ(width(), first);
}

TEST_F(MovingPicture, KeepsItsSizeWhenOneIsLateOrTheTimeIsWell) {
    const int first = width();
    for (int i = 0; i < 10; ++i) {
        pace(kLate, 1);
        pace(kWell, 1);
    }
    for (int i = 0; i < 10; ++i) {
        pace(kLate, 2);
        pace(kEarly, 1);
    }
    pace(kWell, 50);
    EXPECT_EQ(width(), first);
}

TEST_F(MovingPicture, IsAsLargeAsItIsShownWhereAGraphicsProcessorDraws) {
    Targets targets(true);
    targets.fit(kTargetSize);
    for (int i = 0; i < 10; ++i)
        targets.pace(kLate);
    EXPECT_EQ(targets.movingSize(), kTargetSize);
}

}  // namespace
}  // namespace bandwright::render
