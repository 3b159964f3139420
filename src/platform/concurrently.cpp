#include "platform/concurrently.hpp"

#include <future>

namespace bandwright::platform {

void concurrently(const std::function<void()>& first, const std::function<void()>& second) {
    std::future<void> other = std::async(std::launch::async, second);
    first();  // when it throws, the future waits for the other before it goes
    other.get();
}

}  // namespace bandwright::platform
