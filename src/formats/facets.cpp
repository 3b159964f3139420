#include "facets.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>

#include "base/input_error.hpp"

namespace bandwright::formats {

namespace {

double doubledArea(const std::vector<geometry::Vec3>& points, std::uint32_t a, std::uint32_t b,
                   std::uint32_t c) {
    return geometry::length(geometry::cross(points[b] - points[a], points[c] - points[a]));
}

/// Splits a facet as a fan from the corner that gives the least narrow triangles, because a facet may have
/// corners within an edge.
void addFacet(geometry::Triangles& surface, const std::vector<std::uint32_t>& corners) {
    constexpr std::size_t kMostTried = 64;
    const std::size_t n = corners.size();
    if (n == 3) {
        surface.triangles.push_back({corners[0], corners[1], corners[2]});
        return;
    }
    const auto corner = [&](std::size_t i) { return corners[i % n]; };
    std::size_t best = 0;
    double bestArea = -1;
    for (std::size_t from = 0; from < std::min(n, kMostTried); ++from) {
        double least = doubledArea(surface.points, corner(from), corner(from + 1), corner(from + 2));
        for (std::size_t i = 2; i + 1 < n; ++i) {
            const double area =
                doubledArea(surface.points, corner(from), corner(from + i), corner(from + i + 1));
            least = std::min(least, area);
        }
        if (least <= bestArea) continue;
        bestArea = least;
        best = from;
    }
    for (std::size_t i = 1; i + 1 < n; ++i) {
        surface.triangles.push_back({corner(best), corner(best + i), corner(best + i + 1)});
    }
}

/// Points that no facet uses must not count as part of the model's size.
void dropUnused(geometry::Triangles& surface) {
    constexpr std::uint32_t kUnused = UINT32_MAX;
    std::vector<std::uint32_t> numbers(surface.points.size(), kUnused);
    std::vector<geometry::Vec3> used;
    for (auto& triangle : surface.triangles) {
        for (std::uint32_t& corner : triangle) {
            if (numbers[corner] == kUnused) {
                numbers[corner] = static_cast<std::uint32_t>(used.size());
                used.push_back(surface.points[corner]);
            }
            corner = numbers[corner];
        }
    }
    surface.points = std::move(used);
}

}  // namespace

void refuse(const std::filesystem::path& file, const ReadLimits& limits, const std::string& why) {
    throw base::InputError(file.string() + ": " + std::string(limits.what) + " " + why + ".");
}

std::uintmax_t requireSize(const std::filesystem::path& file, const ReadLimits& limits) {
    constexpr std::uintmax_t kMebibyte = 1U << 20U;
    std::error_code error;
    if (std::filesystem::exists(file, error) && !std::filesystem::is_regular_file(file, error))
        refuse(file, limits, "is no plain file");
    const std::uintmax_t size = std::filesystem::file_size(file, error);
    if (error) refuse(file, limits, "cannot be read: " + error.message());
    if (size > limits.bytes)
        refuse(file, limits, "has more than " + std::to_string(limits.bytes / kMebibyte) + " MiB");
    return size;
}

std::string fileBytes(const std::filesystem::path& file, const ReadLimits& limits) {
    std::string bytes(static_cast<std::size_t>(requireSize(file, limits)), '\0');
    std::ifstream stream(file, std::ios::binary);
    stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!stream) refuse(file, limits, "cannot be read");
    return bytes;
}

geometry::Triangles surfaceOf(Facets facets, const std::filesystem::path& file, const ReadLimits& limits) {
    const auto tooMany = [&] {
        refuse(file, limits, "has more than " + std::to_string(limits.triangles) + " triangles");
    };
    geometry::Triangles surface;
    for (const geometry::Vec3& p : facets.points) {
        if (!std::isfinite(p.x + p.y + p.z)) refuse(file, limits, "has a point that is not a number");
    }
    const std::vector<std::uint32_t> numbers = geometry::weld(facets.points);
    surface.points = std::move(facets.points);
    if (facets.sizes.size() <= limits.triangles) surface.triangles.reserve(facets.sizes.size());
    std::vector<std::uint32_t> corners;
    std::size_t at = 0;
    for (const std::uint32_t size : facets.sizes) {
        if (surface.triangles.size() + size > limits.triangles + 2) tooMany();
        corners.clear();
        for (const std::size_t end = at + size; at < end; ++at) {
            if (facets.corners[at] >= numbers.size())
                refuse(file, limits, "has a facet with a corner that does not exist");
            corners.push_back(numbers[facets.corners[at]]);
        }
        corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
        while (corners.size() > 1 && corners.front() == corners.back())
            corners.pop_back();
        if (corners.size() >= 3) addFacet(surface, corners);
    }
    if (surface.triangles.empty()) refuse(file, limits, "has no facets");
    dropUnused(surface);
    return surface;
}

std::string_view Words::next() {
    constexpr std::string_view kBlank = " \t\r\n\v\f";
    const std::size_t start = rest_.find_first_not_of(kBlank);
    if (start == std::string_view::npos) {
        rest_ = {};
        return {};
    }
    rest_.remove_prefix(start);
    const std::string_view word = rest_.substr(0, rest_.find_first_of(kBlank));
    rest_.remove_prefix(word.size());
    return word;
}

void Words::skipLine() {
    rest_.remove_prefix(std::min(rest_.find('\n'), rest_.size()));
}

bool Words::number(double& value) {
    std::string_view word = next();
    if (word.size() > 1 && word.front() == '+' && word[1] != '-') word.remove_prefix(1);
    const char* const end = word.data() + word.size();
    const auto [rest, error] = std::from_chars(word.data(), end, value);
    return error == std::errc() && rest == end && !word.empty() && std::isfinite(value);
}

}  // namespace bandwright::formats
