#pragma once

#include <cstdint>
#include <string>
#include <vector>

/// Pages measured as they would be printed.
namespace bandwright::paper {

/// A page in dots, 0 black to 255 white.
struct Grey {
    int width = 0, height = 0;
    std::vector<std::uint8_t> dots{};

    int at(int x, int y) const {
        return dots[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                    static_cast<std::size_t>(x)];
    }
};

/// A page of a PDF, from 1 on, painted by poppler.
Grey rasterised(const std::string& pdf, int page, int dotsPerInch);

/// Edges in dots; the right and lower ones behind the last dot.
struct Extent {
    int left = 0, top = 0, right = 0, bottom = 0;
};

/// Where there is ink within a window.
Extent extentOfInk(const Grey& page, const Extent& window);

}  // namespace bandwright::paper
