#include "in_parts.hpp"

#include <algorithm>
#include <atomic>
#include <thread>

#include "platform/concurrently.hpp"

namespace bandwright::compare {

namespace {

std::size_t beginOf(std::size_t count, std::size_t piece) {
    return count * piece / kPieces;
}

void atOnce(std::size_t workers, const std::function<void()>& work) {
    if (workers <= 1) return work();
    platform::concurrently([&] { atOnce(workers / 2, work); }, [&] { atOnce(workers - workers / 2, work); });
}

}  // namespace

std::size_t pieceAt(std::size_t count, std::size_t from) {
    std::size_t piece = count == 0 ? 0 : from * kPieces / count;
    while (beginOf(count, piece) < from)
        ++piece;
    return piece;
}

void inParts(std::size_t count, const std::function<void(std::size_t, std::size_t)>& work) {
    std::atomic<std::size_t> next = 0;
    const std::size_t workers = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, kPieces);
    atOnce(workers, [&] {
        for (std::size_t piece = next++; piece < kPieces; piece = next++) {
            const std::size_t from = beginOf(count, piece), to = beginOf(count, piece + 1);
            if (from < to) work(from, to);
        }
    });
}

}  // namespace bandwright::compare
