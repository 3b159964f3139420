#pragma once

#include <cstddef>
#include <functional>

/// Private to the room.
namespace bandwright::compare {

/// Calls the work with pieces [from, to) that together are [0, count), several at once. Each piece is cut at
/// the same places on every machine, so what is summed up piece by piece comes out the same.
void inParts(std::size_t count, const std::function<void(std::size_t from, std::size_t to)>& work);

/// How many pieces those are, and which one a piece that begins at `from` is.
inline constexpr std::size_t kPieces = 64;
std::size_t pieceAt(std::size_t count, std::size_t from);

}  // namespace bandwright::compare
