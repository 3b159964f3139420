#include "platform/ask_file.hpp"

namespace bandwright::platform {

bool canAskForFile() {
    return false;
}

void askForFile(const std::string& /*ending*/) {}

}  // namespace bandwright::platform
