#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "field_rules.hpp"

namespace bandwright::design {

void requireValid(const Design& design) {
    auto leaf = [](const WalkPlace& place, const auto& value, const auto& field) {
        if (const auto wrong = complaint(value, field)) throw base::InputError(place.path() + " " + *wrong);
    };
    FieldWalk walk(leaf);
    visitFields(walk, design);
}

}  // namespace bandwright::design
