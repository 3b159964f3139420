#include <exception>

#include "app/command_line.hpp"
#include "platform/memory.hpp"

int main(int argc, char** argv) {
    std::set_terminate(bandwright::app::endAtOnce);
    bandwright::platform::keepFreedMemory();
    return bandwright::app::runCommandLine(argc, argv);
}
