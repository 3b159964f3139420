#pragma once

namespace bandwright::platform {

/// A function in a library that is loaded now and stays; nullptr when there is no such library, or it cannot
/// be loaded. Another platform may always say so: what needs it then is refused in one sentence.
void* functionIn(const char* library, const char* function);

}  // namespace bandwright::platform
