#include <windows.h>

#include <aclapi.h>

#include <atomic>
#include <cstddef>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "platform/atomic_file.hpp"
#include "windows_text.hpp"

namespace bandwright::platform {

namespace {

namespace fs = std::filesystem;

constexpr std::wstring_view kTemporary = L".bandwright-";

/// In the words that the same trouble has on every system.
[[noreturn]] void refuse(const fs::path& file, const std::string& what, DWORD error) {
    const std::error_condition plain =
        std::error_code(static_cast<int>(error), std::system_category()).default_error_condition();
    const std::string why = error == ERROR_SHARING_VIOLATION ? "another program has it open"
                            : error == ERROR_DISK_FULL || error == ERROR_HANDLE_DISK_FULL
                                ? "No space left on device"
                            : error == ERROR_PATH_NOT_FOUND ? "No such file or directory"
                                                            : plain.message();
    throw base::InputError(file.string() + ": " + what + ": " + why);
}

/// A file that is open, closed at the end of its scope.
class OpenFile {
  public:
    OpenFile(const fs::path& file, DWORD access, DWORD share, DWORD creation,
             DWORD flags = FILE_ATTRIBUTE_NORMAL)
        : handle_(CreateFileW(file.c_str(), access, share, nullptr, creation, flags, nullptr)) {}
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    ~OpenFile() {
        if (isOpen()) CloseHandle(handle_);
    }

    bool isOpen() const { return handle_ != INVALID_HANDLE_VALUE; }
    HANDLE get() const { return handle_; }

    /// Gives the file another name, in place of a file that has it, at once.
    bool moveTo(const fs::path& target) {
        const std::wstring name = target.native();
        const std::size_t bytes = name.size() * sizeof(wchar_t);
        std::vector<std::byte> room(sizeof(FILE_RENAME_INFO) + bytes);
        auto* const info = new (room.data()) FILE_RENAME_INFO{};
        info->ReplaceIfExists = TRUE;
        info->FileNameLength = static_cast<DWORD>(bytes);
        name.copy(info->FileName, name.size());
        return SetFileInformationByHandle(handle_, FileRenameInfo, info, static_cast<DWORD>(room.size())) !=
               0;
    }
    /// Gone as soon as it is closed.
    bool remove() {
        FILE_DISPOSITION_INFO info{};
        info.DeleteFile = TRUE;
        return SetFileInformationByHandle(handle_, FileDispositionInfo, &info, sizeof info) != 0;
    }

  private:
    HANDLE handle_;
};

/// Where a symbolic link leads; the path itself where it is none.
fs::path followed(const fs::path& file) {
    const DWORD attributes = GetFileAttributesW(file.c_str());
    if (attributes == INVALID_FILE_ATTRIBUTES || (attributes & FILE_ATTRIBUTE_REPARSE_POINT) == 0)
        return file;
    const OpenFile there(file, 0, FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE, OPEN_EXISTING);
    if (!there.isOpen()) return file;
    std::wstring name(32'768, L'\0');
    const DWORD length = GetFinalPathNameByHandleW(there.get(), name.data(), static_cast<DWORD>(name.size()),
                                                   FILE_NAME_NORMALIZED);
    return length == 0 || length >= name.size() ? file : fs::path(name.substr(0, length));
}

/// Whether there is a file; refuses anything there that is not a plain one, or is not to be changed.
bool isThere(const fs::path& shown, const fs::path& file) {
    const DWORD attributes = GetFileAttributesW(file.c_str());
    const bool isDevice = file.native().starts_with(L"\\\\.\\");  // NUL, CON and the like
    if (attributes == INVALID_FILE_ATTRIBUTES && !isDevice) {
        const DWORD error = GetLastError();
        if (error != ERROR_FILE_NOT_FOUND && error != ERROR_PATH_NOT_FOUND)
            refuse(shown, "cannot be saved", error);
        return false;
    }
    if (isDevice || (attributes & FILE_ATTRIBUTE_DIRECTORY) != 0)
        throw base::InputError(shown.string() + ": cannot be saved: what is there is no plain file");
    if ((attributes & FILE_ATTRIBUTE_READONLY) != 0)
        throw base::InputError(shown.string() + ": cannot be saved: the file there is write-protected");
    return true;
}

/// Who may do what with it, as with the old file. Where the file system knows no such thing, nothing.
void keepPermissions(const fs::path& from, const OpenFile& to) {
    PACL list = nullptr;
    PSECURITY_DESCRIPTOR all = nullptr;
    const std::unique_ptr<wchar_t[]> name = std::make_unique<wchar_t[]>(from.native().size() + 1);
    from.native().copy(name.get(), from.native().size());
    if (GetNamedSecurityInfoW(name.get(), SE_FILE_OBJECT, DACL_SECURITY_INFORMATION, nullptr, nullptr, &list,
                              nullptr, &all) != ERROR_SUCCESS)
        return;
    SetSecurityInfo(to.get(), SE_FILE_OBJECT, DACL_SECURITY_INFORMATION, nullptr, nullptr, list, nullptr);
    LocalFree(all);
}

/// A name of this program's that was not used before.
fs::path temporaryName(const fs::path& folder) {
    static std::atomic<unsigned> used = 0;
    return folder / (std::wstring(kTemporary) + std::to_wstring(GetCurrentProcessId()) + L"-" +
                     std::to_wstring(used++));
}

/// Whether it is ".bandwright-NUMBER-NUMBER".
bool isTemporaryName(std::wstring_view name) {
    if (!name.starts_with(kTemporary)) return false;
    name.remove_prefix(kTemporary.size());
    const std::size_t dash = name.find(L'-');
    return dash != 0 && dash + 1 < name.size() && dash == name.rfind(L'-') &&
           name.find_first_not_of(L"0123456789-") == std::wstring_view::npos;
}

/// Removes what programs left in the folder that ended before they were done, once for each folder. What a
/// running one has open cannot be removed.
void removeDead(const fs::path& folder) {
    static std::mutex guard;
    static std::set<fs::path> seen;
    {
        const std::lock_guard lock(guard);
        if (!seen.insert(folder).second) return;
    }
    std::error_code error;
    for (auto entry = fs::directory_iterator(folder, error); !error && entry != fs::directory_iterator();
         entry.increment(error)) {
        if (isTemporaryName(entry->path().filename().native())) DeleteFileW(entry->path().c_str());
    }
}

/// A new file under a name of its own until it is put in its place, open until then, gone if it never is.
class Temporary {
  public:
    explicit Temporary(const fs::path& folder) {
        constexpr int kMostTries = 100;  // names of other computers' programs, and of ended ones
        for (int i = 0; i < kMostTries; ++i) {
            file_.emplace(temporaryName(folder), GENERIC_WRITE | DELETE | READ_CONTROL | WRITE_DAC, 0,
                          CREATE_NEW);
            if (file_->isOpen() || GetLastError() != ERROR_FILE_EXISTS) return;
        }
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        if (!isPlaced_ && file_->isOpen()) file_->remove();
    }

    const OpenFile& file() const { return *file_; }
    bool moveTo(const fs::path& target) { return isPlaced_ = file_->moveTo(target); }
    void remove() { file_->remove(); }

  private:
    std::optional<OpenFile> file_;
    bool isPlaced_ = false;
};

bool writeAll(HANDLE file, std::string_view bytes) {
    constexpr std::size_t kMostAtOnce = 1 << 26;
    while (!bytes.empty()) {
        DWORD written = 0;
        if (WriteFile(file, bytes.data(), static_cast<DWORD>(std::min(bytes.size(), kMostAtOnce)), &written,
                      nullptr) == 0)
            return false;
        if (written == 0) {  // how some file systems say that there is no room
            SetLastError(ERROR_DISK_FULL);
            return false;
        }
        bytes.remove_prefix(written);
    }
    return true;
}

/// A file that is written, and not yet in its place. It stays open until then, so that nobody takes it for a
/// dead program's, and its name changes in one step that the file system's journal has whole or not at all.
class Written {
  public:
    Written(const fs::path& file, const Produce& produce) : file_(file) {
        if (file.empty()) throw base::InputError("a file name is needed to save");
        target_ = followed(longPath(file));
        const bool isOld = isThere(file, target_);
        const fs::path folder = target_.parent_path();
        removeDead(folder);

        temporary_.emplace(folder);
        if (!temporary_->file().isOpen()) {
            const DWORD error = GetLastError();
            const bool noFolder = error == ERROR_PATH_NOT_FOUND || error == ERROR_DIRECTORY;
            refuse(file,
                   noFolder ? "cannot be saved, its folder cannot be opened"
                            : "cannot be saved, no file can be made in its folder",
                   error);
        }
        produce([this](std::string_view bytes) {
            if (!writeAll(temporary_->file().get(), bytes)) refuse(file_, "cannot be saved", GetLastError());
        });
        if (isOld) keepPermissions(target_, temporary_->file());
        if (FlushFileBuffers(temporary_->file().get()) == 0) refuse(file, "cannot be saved", GetLastError());
    }
    Written(const Written&) = delete;
    Written& operator=(const Written&) = delete;
    ~Written() {
        if (isPlaced_ && !isKept_) temporary_->remove();
        temporary_.reset();
        if (aside_ && !isKept_) aside_->moveTo(target_);
    }

    /// Moves the old file out of its place; until `keep`, it comes back when something fails.
    void setAside() {
        aside_.emplace(target_, DELETE, FILE_SHARE_READ, OPEN_EXISTING);
        if (!aside_->isOpen()) {
            const DWORD error = GetLastError();
            aside_.reset();
            if (error == ERROR_FILE_NOT_FOUND) return;
            refuse(file_, "cannot be saved", error);
        }
        if (aside_->moveTo(temporaryName(target_.parent_path()))) return;
        const DWORD error = GetLastError();
        aside_.reset();
        refuse(file_, "cannot be saved", error);
    }
    void putInPlace() {
        if (!temporary_->moveTo(target_)) refuse(file_, "cannot be saved", GetLastError());
        isPlaced_ = true;
    }
    void keep() {
        isKept_ = true;
        if (aside_) aside_->remove();
        aside_.reset();
    }

  private:
    fs::path file_, target_;
    std::optional<Temporary> temporary_;
    std::optional<OpenFile> aside_;  ///< the old file meanwhile
    bool isPlaced_ = false, isKept_ = false;
};

}  // namespace

void writeFileAtomically(const fs::path& file, std::string_view bytes) {
    writeFileAtomically(file, [bytes](const ByteSink& sink) { sink(bytes); });
}

void writeFileAtomically(const fs::path& file, const Produce& produce) {
    Written written(file, produce);
    written.putInPlace();
    written.keep();
}

void writeSetAtomically(const std::vector<fs::path>& files,
                        const std::function<void(std::size_t, const ByteSink&)>& produce) {
    std::vector<std::unique_ptr<Written>> set;
    for (std::size_t i = 0; i < files.size(); ++i)
        set.push_back(std::make_unique<Written>(files[i], [&](const ByteSink& sink) { produce(i, sink); }));
    if (set.size() > 1) {
        for (const auto& written : set)
            written->setAside();
    }
    for (const auto& written : set)
        written->putInPlace();
    for (const auto& written : set)
        written->keep();
}

}  // namespace bandwright::platform
