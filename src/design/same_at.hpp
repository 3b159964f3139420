#pragma once

#include <string>

#include "design/design.hpp"

/// Private to the room.
namespace bandwright::design {

/// Whether two designs have the same in a field. Changes neither.
bool isSameAt(Design& a, Design& b, const std::string& path);

}  // namespace bandwright::design
