#include "geometry/part.hpp"

namespace bandwright {

std::string name(const Part& part) {
    const std::string number = std::to_string(part.number);
    switch (part.role) {
        case PartRole::Band:
            return "band";
        case PartRole::Liner:
            return "liner";
        case PartRole::Fill:
            return "fill-" + number;
        case PartRole::Tube:
            return "tube-" + number;
        case PartRole::Stone:
            return "stone-" + number;
    }
    return {};
}

}  // namespace bandwright
