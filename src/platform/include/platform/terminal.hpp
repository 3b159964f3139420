#pragma once

namespace bandwright::platform {

/// Whether a person reads what is written to standard output or standard error. A platform without terminals
/// says no.
bool isTerminal(int stream);
inline constexpr int kStandardOutput = 1, kStandardError = 2;

/// Columns of the terminal at standard output; 0 where that is none, or does not say.
int terminalColumns();

}  // namespace bandwright::platform
