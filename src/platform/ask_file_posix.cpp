#include "platform/ask_file.hpp"

namespace bandwright::platform {

bool canAskForFile() {
    return false;
}

void askForFile(const std::string& /*ending*/) {}

bool canAskWhereToSave() {
    return false;
}

std::optional<std::filesystem::path> askWhereToSave(const std::filesystem::path& /*folder*/,
                                                    const std::string& /*ending*/) {
    return std::nullopt;
}

}  // namespace bandwright::platform
