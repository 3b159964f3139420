#pragma once

#include <functional>

namespace bandwright::platform {

/// Does both pieces of work and returns when both are done; throws what the first threw, or else the second.
/// Neither may touch what the other changes. Where a platform has no threads, one after the other.
void concurrently(const std::function<void()>& first, const std::function<void()>& second);

}  // namespace bandwright::platform
