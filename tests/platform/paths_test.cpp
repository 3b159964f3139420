#include "platform/paths.hpp"

#include <gtest/gtest.h>

#include <string>

namespace bandwright::platform {
namespace {

TEST(Fonts, ThatAreMissingHaveTheNearestInTheirPlace) {
    // How OpenType and TrueType files begin (ISO/IEC 14496-22).
    EXPECT_EQ(fontOf("Inter-Regular.otf").substr(0, 4), "OTTO");
    const std::string other = fontOf("Nowhere-SemiBold.otf").substr(0, 4);
    EXPECT_TRUE(other == "OTTO" || other == std::string("\0\1\0\0", 4) || other == "ttcf") << other;
}

}  // namespace
}  // namespace bandwright::platform
