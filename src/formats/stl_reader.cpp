#include <algorithm>
#include <cctype>
#include <cstring>

#include "facets.hpp"

/// STL in both its forms. The binary one is known by its size, since heads of it may begin with "solid" too.
namespace bandwright::formats {

namespace {

constexpr std::size_t kStlHead = 80, kStlFacet = 50, kStlCount = 4;

std::uint32_t countOf(std::string_view bytes) {
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + kStlHead, kStlCount);
    return count;
}

Facets binaryFacets(std::string_view bytes) {
    const std::uint32_t count = countOf(bytes);
    Facets facets;
    facets.points.reserve(3 * std::size_t{count});
    facets.sizes.assign(count, 3);
    const char* at = bytes.data() + kStlHead + kStlCount;
    for (std::uint32_t i = 0; i < count; ++i, at += kStlFacet) {
        constexpr std::size_t kNumbers = 12;
        float numbers[kNumbers];
        std::memcpy(numbers, at, sizeof numbers);
        for (std::size_t corner = 3; corner < kNumbers; corner += 3)
            facets.points.push_back({numbers[corner], numbers[corner + 1], numbers[corner + 2]});
    }
    return facets;
}

bool isWord(std::string_view word, std::string_view expected) {
    if (word.size() != expected.size()) return false;
    for (std::size_t i = 0; i < word.size(); ++i)
        if (std::tolower(static_cast<unsigned char>(word[i])) != expected[i]) return false;
    return true;
}

/// facet normal x y z / outer loop / vertex x y z, three times / endloop / endfacet, between solid NAME and
/// endsolid NAME.
Facets textFacets(const std::filesystem::path& file, std::string_view text, const ReadLimits& limits) {
    Words words(text);
    Facets facets;
    const auto wrong = [&] {
        const std::size_t line =
            1 + static_cast<std::size_t>(
                    std::count(text.begin(), text.end() - static_cast<std::ptrdiff_t>(words.left()), '\n'));
        refuse(file, limits,
               words.left() == 0 ? "is cut short: it ends in the middle of a facet or without endsolid"
                                 : "is no STL file: line " + std::to_string(line) +
                                       " is not what has to stand there in one");
    };
    const auto expect = [&](std::string_view word) {
        if (!isWord(words.next(), word)) wrong();
    };
    const auto numbers = [&] {
        geometry::Vec3 p;
        if (!words.number(p.x) || !words.number(p.y) || !words.number(p.z)) wrong();
        return p;
    };
    bool inside = false;
    for (std::string_view word = words.next(); !word.empty(); word = words.next()) {
        if (!inside && isWord(word, "solid")) {
            inside = true;
            words.skipLine();
        } else if (inside && isWord(word, "endsolid")) {
            inside = false;
            words.skipLine();
        } else if (inside && isWord(word, "facet")) {
            expect("normal");
            // Only the corners count; of a facet without area some programs write "nan" here.
            for (int i = 0; i < 3; ++i)
                words.next();
            expect("outer");
            expect("loop");
            for (int i = 0; i < 3; ++i) {
                expect("vertex");
                facets.points.push_back(numbers());
            }
            facets.sizes.push_back(3);
            expect("endloop");
            expect("endfacet");
        } else {
            wrong();
        }
    }
    if (inside) wrong();
    return facets;
}

}  // namespace

Facets readStl(const std::filesystem::path& file, const ReadLimits& limits) {
    const std::string bytes = fileBytes(file, limits);
    const bool canBeBinary = bytes.size() >= kStlHead + kStlCount;
    const std::uint64_t told =
        canBeBinary ? kStlHead + kStlCount + std::uint64_t{countOf(bytes)} * kStlFacet : std::uint64_t{0};
    Facets facets;
    if (canBeBinary && told == bytes.size()) {
        facets = binaryFacets(bytes);
    } else if (isWord(Words(bytes).next(), "solid") && bytes.find('\0') == std::string::npos) {
        facets = textFacets(file, bytes, limits);
    } else if (canBeBinary) {
        refuse(file, limits,
               (bytes.size() < told ? "is no STL file, or is cut short: " : "is no STL file: ") +
                   std::string("its head tells of ") + std::to_string(countOf(bytes)) +
                   " triangles, which take " + std::to_string(told) + " bytes, and it has " +
                   std::to_string(bytes.size()));
    } else {
        refuse(file, limits, "is no STL file: it has " + std::to_string(bytes.size()) + " bytes");
    }
    facets.corners.resize(facets.points.size());
    for (std::size_t i = 0; i < facets.corners.size(); ++i)
        facets.corners[i] = static_cast<std::uint32_t>(i);
    return facets;
}

}  // namespace bandwright::formats
