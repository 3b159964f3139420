#include <glad/gl.h>
// After it, so that GLFW brings no OpenGL of its own.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "app/ring_pictures.hpp"
#include "app/state_folder.hpp"
#include "app/theme.hpp"
#include "app/window.hpp"
#include "platform/paths.hpp"
#include "program.hpp"
#include "render/image.hpp"

/// The real window on the real OpenGL, driven frame by frame. Runs where there is a display; see
/// CMakeLists.txt.
namespace bandwright::app {
namespace {

/// The pixels on the screen, row by row from the top, as ImGui packs colours.
struct Pixels {
    int width = 0, height = 0;
    std::vector<std::uint32_t> colours;

    std::uint32_t at(int x, int y) const {
        return colours[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                       static_cast<std::size_t>(x)];
    }
    template <class Test>
    double share(Test test) const {
        return static_cast<double>(std::ranges::count_if(colours, test)) /
               static_cast<double>(colours.size());
    }
    double paper() const {
        return share([](std::uint32_t colour) { return colour == palette::kPaper; });
    }
    double black() const {
        return share([](std::uint32_t colour) { return colour == IM_COL32(0, 0, 0, 255); });
    }
};

class WindowFrames : public testing::Test {
  protected:
    WindowFrames() {
        setenv("XDG_STATE_HOME", folder_.path().c_str(), 1);
        setenv("XDG_CACHE_HOME", folder_.path().c_str(), 1);
    }

    static void press(int key, int modifiers) {
        GLFWwindow* window = glfwGetCurrentContext();
        const GLFWkeyfun taker = glfwSetKeyCallback(window, nullptr);
        glfwSetKeyCallback(window, taker);
        taker(window, key, 0, GLFW_PRESS, modifiers);
        taker(window, key, 0, GLFW_RELEASE, 0);
    }

    static bool settle(WindowLoop& loop) {
        bool goesOn = true;
        do {
            loop.wait();
            goesOn = loop.frame();
        } while (goesOn && loop.due());
        return goesOn;
    }

    static Pixels shown() {
        gladLoadGL(glfwGetProcAddress);
        Pixels pixels;
        glfwGetFramebufferSize(glfwGetCurrentContext(), &pixels.width, &pixels.height);
        std::vector<std::uint32_t> upward(static_cast<std::size_t>(pixels.width) *
                                          static_cast<std::size_t>(pixels.height));
        glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
        glReadBuffer(GL_BACK);  // a driver that draws in software copies it to the screen and keeps it
        glPixelStorei(GL_PACK_ALIGNMENT, 4);
        glReadPixels(0, 0, pixels.width, pixels.height, GL_RGBA, GL_UNSIGNED_BYTE, upward.data());
        EXPECT_EQ(glGetError(), static_cast<GLenum>(GL_NO_ERROR));
        for (int row = pixels.height - 1; row >= 0; --row) {
            const auto begin = upward.begin() + static_cast<std::ptrdiff_t>(row) * pixels.width;
            pixels.colours.insert(pixels.colours.end(), begin, begin + pixels.width);
        }
        for (std::uint32_t& colour : pixels.colours)
            colour |= 0xFF000000U;  // a window's own alpha means nothing
        return pixels;
    }

    /// The height of the bar over the panes as a share of its height at scale 1; the bar ends where bare desk
    /// begins.
    static double scaleSeen(const Pixels& pixels) {
        int y = 0;
        while (y < pixels.height && pixels.at(8, y) != palette::kDesk)
            ++y;
        return y / 54.0;
    }

    ScratchFolder folder_;
};

TEST_F(WindowFrames, ShowsAllOfItselfAtEverySizeOfText) {
    WindowLoop loop({sample("harbour")}, trade::builtInCatalogue());
    ASSERT_TRUE(settle(loop));
    const Pixels before = shown();
    EXPECT_NEAR(scaleSeen(before), 1, 0.02);
    EXPECT_GT(before.paper(), 0.25);
    EXPECT_LT(before.black(), 0.01);
    struct Press {
        int key;
        double scale;
    };
    for (const auto& [key, scale] : {Press{GLFW_KEY_EQUAL, 1.125}, Press{GLFW_KEY_KP_ADD, 1.25},
                                     Press{GLFW_KEY_0, 1}, Press{GLFW_KEY_MINUS, 0.875}}) {
        press(key, GLFW_MOD_CONTROL);
        ASSERT_TRUE(settle(loop));
        const Pixels after = shown();
        EXPECT_NEAR(scaleSeen(after), scale, 0.02);
        EXPECT_GT(after.paper(), 0.25) << scale;
        EXPECT_LT(after.black(), 0.01) << scale;
    }
}

TEST_F(WindowFrames, RestsWhenNothingHappensAndEndsWhenThePersonLeaves) {
    WindowLoop loop({sample("harbour")}, trade::builtInCatalogue());
    ASSERT_TRUE(settle(loop));
    EXPECT_FALSE(loop.due());
    EXPECT_EQ(readSettings(platform::stateFolder()).recent.size(), 1U) << "known at once, even after a crash";
    press(GLFW_KEY_Q, GLFW_MOD_CONTROL);
    EXPECT_TRUE(loop.due());
    EXPECT_FALSE(settle(loop));
}

/// The same ring on both sides is the same to the pixel, however it is turned, though two renderers paint it.
TEST_F(WindowFrames, TwoRingsStandUnderOneLightAndOneTurn) {
    constexpr int kAside = 16, kGap = 5;  // of PairView, at scale 1
    Settings small;                       // few pixels, soon drawn
    small.width = 700;
    small.height = 480;
    saveSettings(platform::stateFolder(), small);
    WindowLoop loop({sample("first-frost")}, trade::builtInCatalogue());
    const auto rest = [&] {  // until nothing is left to wait for, the bands of tolerances among it
        do
            ASSERT_TRUE(settle(loop));
        while (loop.rest() < std::numeric_limits<double>::infinity());
    };
    rest();
    const Pixels bench = shown();
    press(GLFW_KEY_M, GLFW_MOD_CONTROL);
    ASSERT_TRUE(settle(loop));
    EXPECT_EQ(loop.rest(), std::numeric_limits<double>::infinity());
    const auto both = [&] {
        const Pixels now = shown();
        const int half = (now.width - 2 * kAside - kGap) / 2;
        int differing = 0;
        std::map<std::uint32_t, int> colours;
        for (int y = now.height / 4; y < now.height * 3 / 5; ++y) {
            for (int x = kAside; x < kAside + half; ++x) {
                differing += now.at(x, y) != now.at(x + half + kGap, y);
                ++colours[now.at(x, y)];
            }
        }
        EXPECT_EQ(differing, 0);
        EXPECT_GT(colours.size(), 500U) << "a ring, not a plain ground";
        return now.colours;
    };
    const auto before = both();
    press(GLFW_KEY_LEFT, 0);
    ASSERT_TRUE(settle(loop));
    EXPECT_NE(both(), before);
    press(GLFW_KEY_F, 0);
    ASSERT_TRUE(settle(loop));
    EXPECT_LE(loop.rest(), 0.5);
    press(GLFW_KEY_ESCAPE, 0);
    rest();
    EXPECT_TRUE(shown().colours == bench.colours) << "nothing of it is left";
}

TEST_F(WindowFrames, BeginsWithTheWaysToBeginWhereNoFileIsNamed) {
    WindowLoop loop({}, trade::builtInCatalogue());
    for (int i = 0; i < 3; ++i)
        ASSERT_TRUE(loop.frame());
    const Pixels pixels = shown();  // before the first ring is painted
    EXPECT_GT(pixels.paper(), 0.5);
    EXPECT_LT(pixels.black(), 0.01);
}

/// The pictures kept, by name.
std::map<std::string, std::filesystem::file_time_type> keptPictures() {
    std::map<std::string, std::filesystem::file_time_type> kept;
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(platform::cacheFolder(), none))
        if (entry.path().extension() == ".png") kept[entry.path().filename()] = entry.last_write_time();
    return kept;
}

TEST_F(WindowFrames, TheGallerysPicturesAreThoseOfTheCommandAndAreKept) {
    const std::string file = changedSample(folder_, "first-frost", "First Frost", "Frost");
    WindowLoop loop({file}, trade::builtInCatalogue());
    ASSERT_TRUE(settle(loop));
    const Pixels before = shown();
    press(GLFW_KEY_N, GLFW_MOD_CONTROL);
    while (keptPictures().empty())
        ASSERT_TRUE(loop.frame());
    const auto first = keptPictures();
    const std::string png = readFile(platform::cacheFolder() / first.begin()->first);
    EXPECT_EQ(render::imageOf(png)->size, RingPictures::kSize);
    const Outcome command =
        run({"picture", file, "--width", "320", "--height", "240", "-o", folder_ / "command.png"});
    ASSERT_EQ(command.code, 0) << command.err;
    EXPECT_EQ(readFile(folder_ / "command.png"), png);
    press(GLFW_KEY_ESCAPE, 0);
    ASSERT_TRUE(settle(loop));
    const Pixels after = shown();
    std::size_t other = 0;
    for (std::size_t i = 0; i < before.colours.size(); ++i)
        other += after.colours[i] != before.colours[i] ? 1 : 0;
    EXPECT_LT(other, before.colours.size() / 50)
        << "the ring that was open is there again, with the focus marked";
    press(GLFW_KEY_N, GLFW_MOD_CONTROL);
    while (keptPictures().size() < 2)
        ASSERT_TRUE(loop.frame());
    EXPECT_EQ(keptPictures().at(first.begin()->first), first.begin()->second) << "painted once";
}

}  // namespace
}  // namespace bandwright::app
