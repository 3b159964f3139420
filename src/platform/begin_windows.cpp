#include <windows.h>

#include <fcntl.h>
#include <io.h>

#include <array>
#include <cstdio>
#include <cstdlib>

#include "platform/begin.hpp"
#include "windows_text.hpp"

// Of Windows' C library; which structure it takes last, no header of it says.
extern "C" int __wgetmainargs(int* count, wchar_t*** words, wchar_t*** environment, int findFiles,
                              int* newMode);

namespace bandwright::platform {

namespace {

UINT codePageBefore = 0;

/// The console shows UTF-8, and colours where it can.
void prepareConsole() {
    DWORD mode = 0;
    const HANDLE console = GetStdHandle(STD_OUTPUT_HANDLE);
    if (GetConsoleMode(console, &mode) != 0)
        SetConsoleMode(console, mode | ENABLE_VIRTUAL_TERMINAL_PROCESSING);
    codePageBefore = GetConsoleOutputCP();
    if (codePageBefore == 0) return;
    SetConsoleOutputCP(CP_UTF8);
    std::atexit([] { SetConsoleOutputCP(codePageBefore); });
}

}  // namespace

std::vector<std::string> begin(int argc, char** argv) {
    prepareConsole();
    // The same bytes as on other systems, without a carriage return at the end of each line.
    for (std::FILE* stream : {stdin, stdout, stderr})
        _setmode(_fileno(stream), _O_BINARY);
    int count = 0, newMode = 0;
    wchar_t **words = nullptr, **environment = nullptr;
    if (__wgetmainargs(&count, &words, &environment, 1, &newMode) != 0) return {argv, argv + argc};
    std::vector<std::string> call;
    for (int i = 0; i < count; ++i)
        call.push_back(narrow(words[i]));
    return call;
}

}  // namespace bandwright::platform
