#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <fstream>
#include <string>

#include "base/input_error.hpp"
#include "formats/body.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

template <class Number>
std::string low(Number number) {
    std::string bytes(sizeof number, '\0');
    std::memcpy(bytes.data(), &number, sizeof number);
    return bytes;
}
template <class Number>
std::string high(Number number) {
    std::string bytes = low(number);
    std::reverse(bytes.begin(), bytes.end());
    return bytes;
}

using Corner = std::array<float, 3>;
/// A tetrahedron of volume 2 * 3 * 4 / 6, outward.
const std::array<std::array<Corner, 3>, 4> kFacets = {{{{{0, 0, 0}, {0, 3, 0}, {2, 0, 0}}},
                                                       {{{0, 0, 0}, {2, 0, 0}, {0, 0, 4}}},
                                                       {{{0, 0, 0}, {0, 0, 4}, {0, 3, 0}}},
                                                       {{{2, 0, 0}, {0, 3, 0}, {0, 0, 4}}}}};

std::string binaryStl(std::size_t facets = 4) {
    std::string bytes = "solid is how some begin their head";
    bytes.resize(80, ' ');
    bytes += low(static_cast<std::uint32_t>(facets));
    for (std::size_t i = 0; i < facets; ++i) {
        bytes += low(0.F) + low(0.F) + low(0.F);
        for (const Corner& corner : kFacets[i])
            for (const float c : corner)
                bytes += low(c);
        bytes += std::string(2, '\0');
    }
    return bytes;
}

std::string textStl(std::size_t facets = 4) {
    std::string text = "solid a name with words\n";
    for (std::size_t i = 0; i < facets; ++i) {
        text += " FACET normal nan 0 0\n  outer loop\r\n";
        for (const Corner& corner : kFacets[i])
            text += "vertex " + std::to_string(corner[0]) + " +" + std::to_string(corner[1]) + "\t" +
                    std::to_string(corner[2]) + "e0\n";
        text += "endloop endfacet\n";
    }
    return text + "endsolid a name with words\n";
}

const std::string kPlyHead =
    "comment made by hand\nelement vertex 4\nproperty float x\nproperty double y\nproperty short z\n"
    "property uchar red\nelement other 1\nproperty list uchar int numbers\n"
    "element face 4\nproperty uchar flags\nproperty list uchar int vertex_indices\nend_header\n";
constexpr std::array<std::array<int, 3>, 4> kPoints = {{{0, 0, 0}, {2, 0, 0}, {0, 3, 0}, {0, 0, 4}}};
constexpr std::array<std::array<int, 3>, 4> kCorners = {{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}};

std::string textPly() {
    return "ply\nformat ascii 1.0\n" + kPlyHead +
           "0 0 0 255\n2 0 0 255\n0 3 0 255\n0 0 4 255\n2 7 7\n"
           "1 3 0 2 1\n1 3 0 1 3\n1 3 0 3 2\n1 3 1 2 3";
}

template <class Put>
std::string binaryPly(const std::string& form, Put put) {
    std::string bytes = "ply\nformat " + form + " 1.0\n" + kPlyHead;
    for (const auto& p : kPoints)
        bytes += put(static_cast<float>(p[0])) + put(static_cast<double>(p[1])) +
                 put(static_cast<std::int16_t>(p[2])) + "\xff";
    bytes += "\x02" + put(7) + put(7);
    for (const auto& t : kCorners)
        bytes += std::string("\x01\x03") + put(t[0]) + put(t[1]) + put(t[2]);
    return bytes;
}
const auto kLow = [](auto number) { return low(number); };
const auto kHigh = [](auto number) { return high(number); };

const std::string kObj = "v 0 0 0\nv 2 0 0\nv 0 3 0\nv 0 0 4\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n";

class BodyReader : public testing::Test {
  protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() / ("bandwright-body-" + std::to_string(::getpid()));
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    geometry::Triangles read(const std::string& bytes, const std::string& ending) {
        const fs::path file = folder_ / ("body" + ending);
        std::ofstream(file, std::ios::binary) << bytes;
        return readBody(file);
    }
    void expectTetrahedron(const std::string& bytes, const std::string& ending) {
        const geometry::Triangles body = read(bytes, ending);
        EXPECT_EQ(body.points.size(), 4U);
        EXPECT_EQ(body.triangles.size(), 4U);
        EXPECT_NEAR(geometry::volume(body), 4, 1e-12);
    }
    void expectRefused(const std::string& bytes, const std::string& ending, const std::string& sentence) {
        try {
            read(bytes, ending);
            ADD_FAILURE() << "accepted, expected: " << sentence;
        } catch (const base::InputError& error) {
            EXPECT_EQ(std::string(error.what()),
                      (folder_ / ("body" + ending)).string() + ": " + sentence + ".");
        }
    }

    fs::path folder_;
};

TEST_F(BodyReader, TakesEachForm) {
    expectTetrahedron(binaryStl(), ".stl");
    expectTetrahedron(textStl(), ".STL");
    expectTetrahedron(textPly(), ".ply");
    expectTetrahedron(binaryPly("binary_little_endian", kLow), ".ply");
    expectTetrahedron(binaryPly("binary_big_endian", kHigh), ".Ply");
    expectTetrahedron(kObj, ".obj");
}

TEST_F(BodyReader, TurnsBackWhatIsInsideOut) {
    expectTetrahedron("v 0 0 0\nv 2 0 0\nv 0 3 0\nv 0 0 4\nf 1 2 3\nf 1 4 2\nf 1 3 4\nf 2 4 3\n", ".obj");
}

TEST_F(BodyReader, RefusesABodyThatIsOpen) {
    const std::string open =
        "the body is open: 3 edges have no facet on the other side, the first at (1.000, 1.500, 0.000); "
        "close it in the program it comes from";
    expectRefused(binaryStl(3), ".stl", open);
    expectRefused(textStl(3), ".stl", open);
    expectRefused(textStl(1), ".stl",
                  "the body is no closed surface: its 1 triangle is loose, with no edge in common");
}

TEST_F(BodyReader, RefusesLooseTriangles) {
    std::string text;
    for (int i = 0; i < 300; ++i)
        text += "v " + std::to_string(i) + " 0 0\nv " + std::to_string(i) + " 0 1\nv " + std::to_string(i) +
                " 1 0\nf -1 -2 -3\n";
    expectRefused(text, ".obj",
                  "the body is no closed surface: its 300 triangles are loose, with no edge in common");
    text.clear();
    for (int i = 0; i < 10'001; ++i) {
        const std::string x = "v " + std::to_string(4 * i), y = "v " + std::to_string(4 * i + 2);
        text += x + " 0 0\n" + y + " 0 0\n" + x + " 3 0\n" + x +
                " 0 4\nf -4 -2 -3\nf -4 -3 -1\nf -4 -1 -2\nf -3 -2 -1\n";
    }
    expectRefused(text, ".obj", "the body is in 10001 separate pieces; at most 10000 are allowed");
}

TEST_F(BodyReader, RefusesWhatIsEmptyOrNotWhatItsEndingSays) {
    for (const char* ending : {".stl", ".obj", ".ply"})
        expectRefused("", ending, "the body is an empty file");
    expectRefused("v 0 0 0\n", ".obj", "the body has no facets");
    expectRefused("solid\nendsolid\n", ".stl", "the body has no facets");
    expectRefused(binaryStl(0), ".stl", "the body has no facets");
    expectRefused(textPly(), ".stl",
                  "the body is not an STL file, as its ending says: it begins as a PLY file does");
    expectRefused(textStl(), ".ply",
                  "the body is not a PLY file, as its ending says: it begins as an STL file does");
    expectRefused(textStl(), ".obj",
                  "the body is not an OBJ file, as its ending says: it begins as an STL file does");
    expectRefused("PK\x03\x04...", ".stl",
                  "the body is not an STL file, as its ending says: it begins as a ZIP or 3MF file does");
    expectRefused(std::string(600, '\0'), ".obj",
                  "the body is not an OBJ file, as its ending says: it is not text");
    expectRefused("nothing", ".stl", "the body is no STL file: it has 7 bytes");
    expectRefused("nothing", ".ply", "the body is no PLY file: its head does not end");
    expectRefused("v 0 0 0\nv 1 0\n", ".obj", "the body has a vertex on line 2 that is not three numbers");
    expectRefused("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", ".obj",
                  "the body has a facet with a corner that does not exist");
    expectRefused("v 0 0 0\nv 2e9 0 0\nv 0 3 0\nf 1 2 3\n", ".obj",
                  "the body has a point at (2000000000.000, 0.000, 0.000), farther off than any ring");
    EXPECT_THROW(readBody(folder_ / "body.step"), base::InputError);
    EXPECT_THROW(readBody(folder_ / "missing.stl"), base::InputError);
    EXPECT_THROW(readBody(folder_), base::InputError);
}

TEST_F(BodyReader, TellsWhatIsCutShort) {
    const std::string stl = binaryStl();
    expectRefused(stl.substr(0, stl.size() - 1), ".stl",
                  "the body is no STL file, or is cut short: its head tells of 4 triangles, which take 284 "
                  "bytes, and it has 283");
    expectRefused(
        stl + "x", ".stl",
        "the body is no STL file: its head tells of 4 triangles, which take 284 bytes, and it has 285");
    const std::string text = textStl();
    expectRefused(text.substr(0, text.find("endsolid")), ".stl",
                  "the body is cut short: it ends in the middle of a facet or without endsolid");
    // Every place to cut at is refused in one sentence, none read beyond its end.
    for (const std::string& whole :
         {stl, textPly(), binaryPly("binary_little_endian", kLow), binaryPly("binary_big_endian", kHigh)}) {
        const std::string ending = whole.starts_with("ply") ? ".ply" : ".stl";
        for (std::size_t size = 0; size + 1 < whole.size(); ++size)
            EXPECT_THROW(read(whole.substr(0, size), ending), base::InputError) << ending << " " << size;
    }
}

TEST_F(BodyReader, HoldsWhatAHeadTellsAgainstTheFile) {
    const std::string head =
        "ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\n"
        "property float x\nproperty float y\nproperty float z\n";
    expectRefused(head + "element face 1\nproperty list uchar int vertex_indices\nend_header\n0", ".ply",
                  "the body is cut short: its head tells of 4000000000 elements 'vertex', for which it has "
                  "too few bytes");
    expectRefused(
        "ply\nformat binary_little_endian 1.0\nelement face 1\nproperty list uint int vertex_indices\n"
        "end_header\n" +
            low(4'000'000'000U),
        ".ply", "the body is cut short: it ends before the last element of its head");
    expectRefused(
        "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n"
        "end_header\n0 0\n",
        ".ply", "the body has vertices without x, y and z");
    expectRefused(
        "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n"
        "property float z\nend_header\n0 0 0\n",
        ".ply", "the body has points and no facets; a surface is needed");
    expectRefused(
        "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n"
        "property float z\nend_header\n0 0 no\n",
        ".ply", "the body has a value that is no number");
    expectRefused("ply\nformat ascii 1.0\nelement vertex x\nend_header\n", ".ply",
                  "the body is no PLY file: found 'element vertex x' in its head");
}

}  // namespace
}  // namespace bandwright::formats
