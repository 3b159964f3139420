#include "app/command_line.hpp"
#include "platform/memory.hpp"

int main(int argc, char** argv) {
    bandwright::keepFreedMemory();
    return bandwright::runCommandLine(argc, argv);
}
