#include "render/image.hpp"

#include <gtest/gtest.h>
#include <png.h>

#include <fstream>
#include <iterator>

namespace bandwright::render {
namespace {

Image chequered() {
    Image image{{5, 3}, {}};
    for (int i = 0; i < 15; ++i) {
        const auto v = static_cast<std::uint8_t>(17 * i);
        image.rgba.insert(image.rgba.end(),
                          {v, static_cast<std::uint8_t>(255 - v), 128, static_cast<std::uint8_t>(250 - i)});
    }
    return image;
}

std::filesystem::path scratch(const char* name) {
    return std::filesystem::path(testing::TempDir()) / name;
}

TEST(Png, ReadBackByLibpngHoldsTheSameBytes) {
    const auto file = scratch("bandwright_image_test.png");
    const Image image = chequered();
    writePng(image, file);
    png_image header{};
    header.version = PNG_IMAGE_VERSION;
    ASSERT_NE(png_image_begin_read_from_file(&header, file.c_str()), 0);
    header.format = PNG_FORMAT_RGBA;
    std::vector<std::uint8_t> bytes(PNG_IMAGE_SIZE(header));
    ASSERT_NE(png_image_finish_read(&header, nullptr, bytes.data(), 0, nullptr), 0);
    EXPECT_EQ(header.width, 5U);
    EXPECT_EQ(header.height, 3U);
    EXPECT_EQ(bytes, image.rgba);
    std::filesystem::remove(file);
}

TEST(Png, ReadBackByOurselvesIsWholeOrNothing) {
    const Image image = chequered();
    const std::string png = pngOf(image);
    const auto back = imageOf(png);
    ASSERT_TRUE(back);
    EXPECT_EQ(back->size, image.size);
    EXPECT_EQ(back->rgba, image.rgba);
    const std::size_t pixels = png.find("IDAT"), end = png.find("IEND") - 8;
    for (std::size_t length = 0; length < end; ++length)
        EXPECT_FALSE(imageOf(png.substr(0, length))) << length;
    for (std::size_t at = 16; at < end; ++at) {  // from the size on
        std::string torn = png;
        torn[at] = static_cast<char>(torn[at] + 1);
        const auto read = imageOf(torn);
        if (at > pixels + 4) {
            EXPECT_FALSE(read && read->rgba != image.rgba) << at;
        }
    }
}

TEST(Png, SaysThatItIsSrgb) {
    const auto file = scratch("bandwright_srgb_test.png");
    writePng(chequered(), file);
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    EXPECT_NE(bytes.find("sRGB"), std::string::npos);
    std::filesystem::remove(file);
}

TEST(Png, ThatCannotBeWrittenLeavesTheOldFileAndNothingBeside) {
    const auto file = scratch("no-such-folder") / "picture.png";
    EXPECT_THROW(writePng(chequered(), file), std::runtime_error);
    EXPECT_FALSE(std::filesystem::exists(file));
    const auto folder = scratch("bandwright_folder");
    const auto taken = folder / "picture.png";  // a folder stands where the file should go
    std::filesystem::create_directories(taken / "inside");
    EXPECT_THROW(writePng(chequered(), taken), std::runtime_error);
    EXPECT_TRUE(std::filesystem::is_directory(taken));
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1) << "only the taken name";
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace bandwright::render
