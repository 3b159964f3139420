#include "measure_page.hpp"

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "program.hpp"

namespace bandwright::paper {

Grey rasterised(const std::string& pdf, int page, int dotsPerInch) {
    const std::string number = std::to_string(page), density = std::to_string(dotsPerInch);
    const app::Outcome outcome =
        app::runProgram({"pdftoppm", "-gray", "-r", density, "-f", number, "-l", number, pdf});
    std::istringstream in(outcome.out);
    std::string kind;
    Grey grey;
    int most = 0;
    in >> kind >> grey.width >> grey.height >> most;
    in.get();
    if (kind != "P5" || most != 255) throw std::runtime_error("pdftoppm: " + outcome.err);
    grey.dots.resize(static_cast<std::size_t>(grey.width) * static_cast<std::size_t>(grey.height));
    in.read(reinterpret_cast<char*>(grey.dots.data()), static_cast<std::streamsize>(grey.dots.size()));
    return grey;
}

Extent extentOfInk(const Grey& page, const Extent& window) {
    constexpr int kInk = 160;
    Extent found{window.right, window.bottom, window.left, window.top};
    for (int y = window.top; y < window.bottom; ++y) {
        for (int x = window.left; x < window.right; ++x) {
            if (page.at(x, y) >= kInk) continue;
            found = {std::min(found.left, x), std::min(found.top, y), std::max(found.right, x + 1),
                     std::max(found.bottom, y + 1)};
        }
    }
    return found;
}

}  // namespace bandwright::paper
