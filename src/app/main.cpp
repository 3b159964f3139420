#include "app/command_line.hpp"
#include "platform/memory.hpp"

int main(int argc, char** argv) {
    bandwright::platform::keepFreedMemory();
    return bandwright::app::runCommandLine(argc, argv);
}
