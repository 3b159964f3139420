#include "paper_parts.hpp"

#include <algorithm>

#include "base/numbers.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::paper {

std::string ringInOneLine(const design::Design& design, const trade::Catalogue& catalogue) {
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    return trade::formatRingSize(design.finger.size) + ", " + base::fixed(design.band.width, 2) +
           " mm wide, " + base::fixed(design.band.thickness, 2) + " mm thick, " +
           (metal != nullptr ? metal->name : design.band.metal);
}

Figure pictureFigure(const Picture& picture, double width, double height, const std::string& title) {
    const double wide = std::min(width, picture.ratio * height), high = wide / picture.ratio;
    return {{width, high},
            {Image{{{(width - wide) / 2, 0}, {wide, high}}, picture.png}},
            "A picture of the ring " + title};
}

}  // namespace bandwright::paper
