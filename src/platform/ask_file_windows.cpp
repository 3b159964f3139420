#include "platform/ask_file.hpp"

#include <windows.h>

#include <commdlg.h>
#include <shellapi.h>
#include <shlobj.h>

#include <cstddef>
#include <cstring>
#include <new>
#include <thread>
#include <utility>

#include "windows_text.hpp"

namespace bandwright::platform {

namespace {

constexpr DWORD kCommon = OFN_EXPLORER | OFN_NOCHANGEDIR | OFN_HIDEREADONLY;

/// Windows' own panel; empty when the person goes back.
std::wstring chosenIn(HWND owner, const std::wstring& folder, const std::wstring& ending, bool saves) {
    const std::wstring filter = L"*" + ending + L'\0' + L"*" + ending + L'\0';
    std::wstring file(32'768, L'\0');
    OPENFILENAMEW panel{};
    panel.lStructSize = sizeof panel;
    panel.hwndOwner = owner;
    panel.lpstrFilter = filter.c_str();
    panel.lpstrFile = file.data();
    panel.nMaxFile = static_cast<DWORD>(file.size());
    panel.lpstrInitialDir = folder.empty() ? nullptr : folder.c_str();
    panel.lpstrDefExt = ending.c_str() + 1;  // without its point
    panel.Flags = kCommon | (saves ? OFN_OVERWRITEPROMPT | OFN_PATHMUSTEXIST : OFN_FILEMUSTEXIST);
    const BOOL answered = saves ? GetSaveFileNameW(&panel) : GetOpenFileNameW(&panel);
    file.resize(answered == 0 ? 0 : std::wcslen(file.c_str()));
    return file;
}

/// Tells the window of a file as the system does when one is dropped on it.
void drop(HWND window, const std::wstring& file) {
    const std::size_t bytes = (file.size() + 1) * sizeof(wchar_t);
    const HGLOBAL memory = GlobalAlloc(GHND, sizeof(DROPFILES) + bytes + sizeof(wchar_t));
    void* const place = memory == nullptr ? nullptr : GlobalLock(memory);
    if (place == nullptr) return;
    auto* const head = new (place) DROPFILES{};
    head->pFiles = sizeof(DROPFILES);
    head->fWide = TRUE;
    std::memcpy(static_cast<std::byte*>(place) + sizeof(DROPFILES), file.c_str(), bytes);
    GlobalUnlock(memory);
    if (PostMessageW(window, WM_DROPFILES, reinterpret_cast<WPARAM>(memory), 0) == 0) GlobalFree(memory);
}

}  // namespace

bool canAskForFile() {
    return true;
}

void askForFile(const std::string& ending) {
    std::thread([window = GetActiveWindow(), ending = wide(ending)] {
        if (const std::wstring file = chosenIn(window, L"", ending, false); !file.empty()) drop(window, file);
    }).detach();
}

bool canAskWhereToSave() {
    return true;
}

std::optional<std::filesystem::path> askWhereToSave(const std::filesystem::path& folder,
                                                    const std::string& ending) {
    std::filesystem::path file = chosenIn(GetActiveWindow(), folder.native(), wide(ending), true);
    return file.empty() ? std::nullopt : std::optional(std::move(file));
}

}  // namespace bandwright::platform
