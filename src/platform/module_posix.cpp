#include <dlfcn.h>

#include "platform/module.hpp"

namespace bandwright::platform {

void* functionIn(const char* library, const char* function) {
    void* const loaded = dlopen(library, RTLD_NOW | RTLD_LOCAL);
    return loaded == nullptr ? nullptr : dlsym(loaded, function);
}

}  // namespace bandwright::platform
