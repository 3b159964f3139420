#include "platform/atomic_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <optional>
#include <string>
#include <system_error>
#include <utility>

#include "base/input_error.hpp"

namespace bandwright::platform {

namespace {

/// A file that is open, closed at the end of its scope.
class OpenFile {
  public:
    explicit OpenFile(int descriptor) : descriptor_(descriptor) {}
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    ~OpenFile() { close(); }

    int get() const { return descriptor_; }
    bool close() { return descriptor_ < 0 || ::close(std::exchange(descriptor_, -1)) == 0; }

  private:
    int descriptor_;
};

/// A file's name that is taken away at the end of its scope unless it is kept.
struct TemporaryName {
    std::string name;
    bool kept = false;

    ~TemporaryName() {
        if (!kept) ::unlink(name.c_str());
    }
};

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& what, int error) {
    throw base::InputError(file.string() + ": " + what + ": " + std::generic_category().message(error));
}

bool writeAll(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno != EINTR) return false;
        if (written > 0) bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

/// The permissions of the existing file, if any; refuses anything there that is not a regular file.
std::optional<mode_t> permissionsOf(const std::filesystem::path& file) {
    struct stat there {};
    if (::stat(file.c_str(), &there) != 0) {
        if (errno != ENOENT) refuse(file, "cannot be saved", errno);
        return {};
    }
    if (!S_ISREG(there.st_mode))
        throw base::InputError(file.string() + ": cannot be saved: what is there is no plain file");
    // Who may write a folder may replace the file in it all the same; the mark says that it is to stay.
    if ((there.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)) == 0)
        throw base::InputError(file.string() + ": cannot be saved: the file there is write-protected");
    return there.st_mode & 07777;
}

/// Makes a file with a new name in the folder and returns its descriptor and name; the descriptor is -1 when
/// it cannot be made.
std::pair<int, std::string> makeTemporary(const std::filesystem::path& folder) {
    constexpr int kMostTries = 100;  // names left over from crashes
    for (int i = 0; i < kMostTries; ++i) {
        const std::string number = std::to_string(::getpid()) + "-" + std::to_string(i);
        std::string name = (folder / (".bandwright-" + number)).string();
        const int descriptor = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (descriptor >= 0 || errno != EEXIST) return {descriptor, std::move(name)};
    }
    return {-1, ""};
}

/// The folder's entry for the new name must reach the disk too. Some file systems cannot flush a folder and
/// say so with EINVAL: they do it by themselves.
bool flushFolder(int descriptor) {
    return ::fsync(descriptor) == 0 || errno == EINVAL;
}

}  // namespace

void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes) {
    writeFileAtomically(file, [bytes](const ByteSink& sink) { sink(bytes); });
}

void writeFileAtomically(const std::filesystem::path& file,
                         const std::function<void(const ByteSink&)>& produce) {
    if (file.empty()) throw base::InputError("a file name is needed to save");
    std::error_code unresolved;
    std::filesystem::path target = std::filesystem::canonical(file, unresolved);
    if (unresolved) target = file;
    const std::optional<mode_t> permissions = permissionsOf(target);
    const std::filesystem::path folder = target.has_parent_path() ? target.parent_path() : ".";

    const OpenFile folderFile(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folderFile.get() < 0) refuse(file, "cannot be saved, its folder cannot be opened", errno);

    const auto [descriptor, name] = makeTemporary(folder);
    if (descriptor < 0) refuse(file, "cannot be saved, no file can be made in its folder", errno);
    TemporaryName temporary{name};
    OpenFile written(descriptor);
    produce([&file, &written](std::string_view bytes) {
        if (!writeAll(written.get(), bytes)) refuse(file, "cannot be saved", errno);
    });
    const bool complete = (!permissions || ::fchmod(descriptor, *permissions) == 0) &&
                          ::fsync(descriptor) == 0 && written.close();
    if (!complete) refuse(file, "cannot be saved", errno);
    if (::rename(name.c_str(), target.c_str()) != 0) refuse(file, "cannot be saved", errno);
    temporary.kept = true;
    if (!flushFolder(folderFile.get()))
        refuse(file, "is saved, but its folder cannot be flushed to the disk", errno);
}

}  // namespace bandwright::platform
