#pragma once

#include <string>

#include "design/field_table.hpp"

/// Private to the room.
namespace bandwright::design {

/// Whether two designs have the same in a field. Changes neither.
bool isSameAt(Design& a, Design& b, const std::string& path);

/// Gives `to` the value of a field of the same kind.
void assign(const FieldValue& to, const FieldValue& value);

}  // namespace bandwright::design
