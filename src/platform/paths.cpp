#include "platform/paths.hpp"

#include <system_error>

namespace bandwright {

std::filesystem::path absolutePath(const std::filesystem::path& path) {
    std::error_code gone;
    const std::filesystem::path whole = std::filesystem::absolute(path, gone);
    return gone ? path : whole.lexically_normal();
}

}  // namespace bandwright
