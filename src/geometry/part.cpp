#include "geometry/part.hpp"

#include <array>
#include <cstddef>
#include <string_view>

namespace bandwright::geometry {

namespace {

enum class Count : std::uint8_t { One, OfEachChannel, OfEachHole };

struct RoleRow {
    PartRole role;
    std::string_view name;
    Count count;
    MaterialKind material;
};

constexpr std::array kRoles{
    RoleRow{PartRole::Band, "band", Count::One, MaterialKind::Metal},
    RoleRow{PartRole::Fill, "fill", Count::OfEachChannel, MaterialKind::Filler},
    RoleRow{PartRole::Tube, "tube", Count::OfEachHole, MaterialKind::Metal},
    RoleRow{PartRole::Stone, "stone", Count::OfEachHole, MaterialKind::Gem},
    RoleRow{PartRole::Liner, "liner", Count::One, MaterialKind::Metal},
};

constexpr bool eachRoleInItsPlace() {
    for (std::size_t i = 0; i < kRoles.size(); ++i)
        if (static_cast<std::size_t>(kRoles[i].role) != i) return false;
    return kRoles.back().role == PartRole::Liner;
}
static_assert(eachRoleInItsPlace(), "one row for each role, in the order of the enumeration");

const RoleRow& rowOf(PartRole role) {
    return kRoles[static_cast<std::size_t>(role)];
}

}  // namespace

MaterialKind materialKind(PartRole role) {
    return rowOf(role).material;
}

bool isRepeated(PartRole role) {
    return rowOf(role).count == Count::OfEachHole;
}

std::string name(const Part& part) {
    const RoleRow& row = rowOf(part.role);
    std::string result(row.name);
    if (row.count != Count::One) result += "-" + std::to_string(part.number);
    return result;
}

}  // namespace bandwright::geometry
