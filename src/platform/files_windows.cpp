// Where files lie on Windows, and who has them.
#include <windows.h>

#include <fcntl.h>
#include <io.h>
#include <share.h>
#include <shellapi.h>
#include <sys/stat.h>

#include <cstdlib>
#include <string>
#include <system_error>
#include <utility>

#include "platform/file_lock.hpp"
#include "platform/paths.hpp"
#include "platform/show_folder.hpp"
#include "windows_text.hpp"

namespace bandwright::platform {

namespace {

std::filesystem::path folderIn(const wchar_t* variable) {
    const wchar_t* value = _wgetenv(variable);
    std::filesystem::path folder = value == nullptr ? L"" : value;
    return folder.is_absolute() ? folder : std::filesystem::path();
}

}  // namespace

std::wstring wide(std::string_view utf8) {
    const int length = static_cast<int>(utf8.size());
    std::wstring text(
        static_cast<std::size_t>(MultiByteToWideChar(CP_UTF8, 0, utf8.data(), length, nullptr, 0)), L'\0');
    MultiByteToWideChar(CP_UTF8, 0, utf8.data(), length, text.data(), static_cast<int>(text.size()));
    return text;
}

std::string narrow(std::wstring_view utf16) {
    const int length = static_cast<int>(utf16.size());
    std::string text(static_cast<std::size_t>(
                         WideCharToMultiByte(CP_UTF8, 0, utf16.data(), length, nullptr, 0, nullptr, nullptr)),
                     '\0');
    WideCharToMultiByte(CP_UTF8, 0, utf16.data(), length, text.data(), static_cast<int>(text.size()), nullptr,
                        nullptr);
    return text;
}

std::filesystem::path longPath(const std::filesystem::path& path) {
    std::wstring whole(32'768, L'\0');
    const DWORD length =
        GetFullPathNameW(path.c_str(), static_cast<DWORD>(whole.size()), whole.data(), nullptr);
    if (length == 0 || length >= whole.size()) return path;
    whole.resize(length);
    constexpr std::size_t kRoom = 200;  // of 260, less what a temporary name takes
    if (length < kRoom || whole.starts_with(L"\\\\?\\") || whole.starts_with(L"\\\\.\\")) return whole;
    return whole.starts_with(L"\\\\") ? L"\\\\?\\UNC" + whole.substr(1) : L"\\\\?\\" + whole;
}

// Open for this program alone, and gone with it, however it ends.
std::optional<FileLock> FileLock::tryTake(const std::filesystem::path& file) {
    FileLock lock(file, -1);
    if (_wsopen_s(&lock.descriptor_, longPath(file).c_str(), _O_RDWR | _O_CREAT | _O_TEMPORARY | _O_NOINHERIT,
                  _SH_DENYRW, _S_IREAD | _S_IWRITE) != 0)
        return std::nullopt;
    return lock;
}

FileLock& FileLock::operator=(FileLock&& other) noexcept {
    if (this == &other) return *this;
    letGo();
    file_ = std::move(other.file_);
    descriptor_ = std::exchange(other.descriptor_, -1);
    return *this;
}

FileLock::~FileLock() {
    letGo();
}

void FileLock::letGo() noexcept {
    if (descriptor_ >= 0) _close(std::exchange(descriptor_, -1));
}

std::filesystem::path absolutePath(const std::filesystem::path& path) {
    std::error_code gone;
    const std::filesystem::path whole = std::filesystem::absolute(path, gone);
    return gone ? path : whole.lexically_normal();
}

std::filesystem::path homeFolder() {
    return folderIn(L"USERPROFILE");
}

std::filesystem::path stateFolder() {
    const std::filesystem::path local = folderIn(L"LOCALAPPDATA");
    return local.empty() ? local : local / L"Bandwright";
}

std::filesystem::path cacheFolder() {
    const std::filesystem::path state = stateFolder();
    return state.empty() ? state : state / L"Cache";
}

// Beside the program.
std::filesystem::path samplesFolder() {
    std::wstring program(32768, L'\0');
    program.resize(GetModuleFileNameW(nullptr, program.data(), static_cast<DWORD>(program.size())));
    const std::filesystem::path folder = std::filesystem::path(program).parent_path() / L"models";
    std::error_code error;
    return std::filesystem::is_directory(folder, error) ? folder : std::filesystem::path();
}

// Within the program: bandwright.rc has all there may be.
std::string dataOf(std::string_view name) {
    const HRSRC place = FindResourceW(nullptr, wide(name).c_str(), RT_RCDATA);
    const HGLOBAL loaded = place == nullptr ? nullptr : LoadResource(nullptr, place);
    const void* const bytes = loaded == nullptr ? nullptr : LockResource(loaded);
    return bytes == nullptr ? std::string()
                            : std::string(static_cast<const char*>(bytes), SizeofResource(nullptr, place));
}

std::string fontOf(std::string_view name) {
    return dataOf(name);
}

bool showFolder(const std::filesystem::path& folder) {
    constexpr INT_PTR kWorst = 32;  // of the errors that ShellExecute tells of
    return reinterpret_cast<INT_PTR>(
               ShellExecuteW(nullptr, L"open", folder.c_str(), nullptr, nullptr, SW_SHOWNORMAL)) > kWorst;
}

}  // namespace bandwright::platform
