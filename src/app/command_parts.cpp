#include "command_parts.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <filesystem>

#include "base/input_error.hpp"
#include "platform/terminal.hpp"

namespace bandwright::app {

Progress::Progress(const char* what) : what_(what), shown_(platform::isTerminal(platform::kStandardError)) {
    if (shown_) std::fprintf(stderr, "%s...", what_);
}

Progress::~Progress() {
    if (shown_) std::fputs("\r\033[K", stderr);
}

void Progress::show(double share) const {
    if (shown_) std::fprintf(stderr, "\r%s %3.0f %%", what_, 100 * share);
}

std::string formatEnding(const std::string& file) {
    std::string ending = std::filesystem::path(file).extension().string();
    std::ranges::transform(ending, ending.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

void requireRange(double value, double least, double most, const char* option) {
    if (value >= least && value <= most) return;
    std::array<char, 160> text{};
    std::snprintf(text.data(), text.size(), "%s: found %g; allowed is %g to %g.", option, value, least, most);
    throw base::InputError(text.data());
}

}  // namespace bandwright::app
