#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "design/design.hpp"

/// Locks on fields for what the client asked for, by paths such as "band.width" or "channels[0].depth". No
/// remedy and no mending changes a locked field; the maker may.
namespace bandwright::design {

bool isLocked(const Design& design, std::string_view path);

/// Puts a lock on a field, or takes it off.
void setLocked(Design& design, std::string_view path, bool locked);

/// "names no field of this design; ..." where a lock cannot be on this path.
std::optional<std::string> lockComplaint(const Design& design, std::string_view path);

/// Whether `other` has every locked field of `design` as it is there.
bool keepsLocked(const Design& design, const Design& other);

/// `to` with every locked field of `design` as it is there, where both have it.
Design withLockedOf(const Design& design, Design to);

/// Takes off the locks of fields that the design has no more, such as those of a liner that was taken away.
void dropLostLocks(Design& design);

/// To be called where item `at` of a list ("channels") is taken away: its locks go, and those of the items
/// after it stay with them.
void dropLocksOf(Design& design, std::string_view list, std::size_t at);

}  // namespace bandwright::design
