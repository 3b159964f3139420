#pragma once

#include <stdexcept>

namespace bandwright::base {

/// The person's input was wrong: a file, a size, a number. `what()` is one sentence fit to be shown as it is:
/// where, what was found, what is allowed. The command line prints it and leaves with exit code 2.
struct InputError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

}  // namespace bandwright::base
