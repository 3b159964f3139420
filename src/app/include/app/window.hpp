#pragma once

#include <filesystem>
#include <optional>

#include "trade/catalogue.hpp"

namespace bandwright {

struct WindowOptions {
    std::filesystem::path file;  ///< the design to begin with; empty = a new one
    /// Leave after the picture has settled, without a question; for measuring and for the smoke test.
    bool closeWhenSettled = false;
};

/// Opens the window and works in it until the person leaves. Throws InputError when the file is wrong and
/// std::runtime_error when there is no display or it cannot show OpenGL 4.1; the message says how to work
/// without one.
void runWindow(const WindowOptions& options, Catalogue catalogue);

}  // namespace bandwright
