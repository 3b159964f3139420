#include "platform/concurrently.hpp"

#include <gtest/gtest.h>

#include <stdexcept>
#include <string>

namespace bandwright::platform {
namespace {

TEST(Concurrently, ReturnsWhenBothAreDone) {
    int first = 0, second = 0;
    concurrently([&] { first = 1; }, [&] { second = 2; });
    EXPECT_EQ(first, 1);
    EXPECT_EQ(second, 2);
}

TEST(Concurrently, ThrowsWhatWentWrongOnceBothHaveEnded) {
    const auto fail = [](const char* word) { throw std::runtime_error(word); };
    const auto thrown = [&](const std::function<void()>& first, const std::function<void()>& second) {
        try {
            concurrently(first, second);
        } catch (const std::runtime_error& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    bool done = false;
    EXPECT_EQ(thrown([&] { fail("first"); }, [&] { done = true; }), "first");
    EXPECT_TRUE(done);
    EXPECT_EQ(thrown([] {}, [&] { fail("second"); }), "second");
    EXPECT_EQ(thrown([&] { fail("first"); }, [&] { fail("second"); }), "first");
}

}  // namespace
}  // namespace bandwright::platform
