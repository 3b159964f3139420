#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/locks.hpp"
#include "field_rules.hpp"

namespace bandwright::design {

void requireValid(const Design& design) {
    auto leaf = [](const WalkPlace& place, const auto& value, const auto& field) {
        if (const auto wrong = complaint(value, field)) throw base::InputError(place.path() + " " + *wrong);
    };
    FieldWalk walk(leaf);
    visitFields(walk, design);
    for (std::size_t i = 0; i < design.locked.size(); ++i)
        if (const auto wrong = lockComplaint(design, design.locked[i]))
            throw base::InputError("locked[" + std::to_string(i) + "] " + *wrong);
}

}  // namespace bandwright::design
