#include <malloc.h>

#include "platform/memory.hpp"

namespace bandwright::platform {

void keepFreedMemory() {
    mallopt(M_MMAP_THRESHOLD, 64 << 20);
    mallopt(M_TRIM_THRESHOLD, 128 << 20);
}

}  // namespace bandwright::platform
