#include "platform/paths.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <string>

namespace bandwright::platform {
namespace {

TEST(Fonts, ThatAreMissingHaveTheNearestInTheirPlace) {
    EXPECT_EQ(fontFile("Inter-Regular.otf").filename(), "Inter-Regular.otf");
    const std::filesystem::path other = fontFile("Nowhere-SemiBold.otf");
    ASSERT_TRUE(std::filesystem::is_regular_file(other)) << other;
    // How OpenType and TrueType files begin (ISO/IEC 14496-22).
    std::string start(4, '\0');
    std::ifstream(other, std::ios::binary).read(start.data(), 4);
    EXPECT_TRUE(start == "OTTO" || start == std::string("\0\1\0\0", 4) || start == "ttcf") << other;
}

}  // namespace
}  // namespace bandwright::platform
