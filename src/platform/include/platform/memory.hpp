#pragma once

namespace bandwright::platform {

/// Asks the system's memory to be kept when it is freed: each change of a number frees all meshes and makes
/// them anew, and handing their memory back in between takes longer than filling it. Only for
/// speed: a platform that cannot does nothing. Called once, at the start.
void keepFreedMemory();

}  // namespace bandwright::platform
