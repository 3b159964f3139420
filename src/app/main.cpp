#include <malloc.h>

#include "app/command_line.hpp"

int main(int argc, char** argv) {
    // Each change of a number frees all meshes and makes them anew. Handing their memory back to the system
    // in between takes longer than filling it.
    mallopt(M_MMAP_THRESHOLD, 64 << 20);
    mallopt(M_TRIM_THRESHOLD, 128 << 20);
    return bandwright::runCommandLine(argc, argv);
}
