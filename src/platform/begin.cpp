#include "platform/begin.hpp"

namespace bandwright::platform {

std::vector<std::string> begin(int argc, char** argv) {
    return {argv, argv + argc};
}

}  // namespace bandwright::platform
