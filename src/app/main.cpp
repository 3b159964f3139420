#include <exception>
#include <string>
#include <vector>

#include "app/command_line.hpp"
#include "platform/begin.hpp"
#include "platform/memory.hpp"

int main(int argc, char** argv) {
    std::set_terminate(bandwright::app::endAtOnce);
    bandwright::platform::keepFreedMemory();
    const std::vector<std::string> call = bandwright::platform::begin(argc, argv);
    std::vector<const char*> words;
    words.reserve(call.size());
    for (const std::string& word : call)
        words.push_back(word.c_str());
    return bandwright::app::runCommandLine(static_cast<int>(words.size()), words.data());
}
