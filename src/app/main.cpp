#include "app/command_line.hpp"

int main(int argc, char** argv) {
    return bandwright::runCommandLine(argc, argv);
}
