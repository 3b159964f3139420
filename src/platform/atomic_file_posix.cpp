#include "platform/atomic_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <system_error>
#include <utility>

#include "base/input_error.hpp"

namespace bandwright::platform {

namespace {

constexpr std::string_view kTemporary = ".bandwright-";

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

/// Whether the name leads to the file that is open.
bool isNamed(const std::string& name, int descriptor) {
    struct stat named {
    }, open{};
    return ::lstat(name.c_str(), &named) == 0 && ::fstat(descriptor, &open) == 0 &&
           named.st_dev == open.st_dev && named.st_ino == open.st_ino;
}

/// A name of this program's that was not used before.
std::string temporaryName(const std::filesystem::path& folder) {
    static std::atomic<unsigned> used = 0;
    return (folder / (std::string(kTemporary) + std::to_string(::getpid()) + "-" + std::to_string(used++)))
        .string();
}

/// A new file in the folder, under a name of its own until it is put in its place, gone if it never is. It is
/// locked for as long as it has that name, which tells `removeDead` that its program is running; a file
/// system without locks makes no difference here.
class Temporary {
  public:
    /// `isMade()` tells whether it could be made; where not, errno tells why.
    explicit Temporary(const std::filesystem::path& folder) {
        constexpr int kMostTries = 100;  // names of other computers' programs, and of ended ones
        for (int i = 0; i < kMostTries; ++i) {
            name_ = temporaryName(folder);
            file_.emplace(::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
            if (file_->get() < 0 && errno == EEXIST) continue;
            if (file_->get() < 0) return;
            // Closing tells of late errors, so the lock is held by a second descriptor of the same open file.
            lock_.emplace(::fcntl(file_->get(), F_DUPFD_CLOEXEC, 0));
            // Someone may have taken it for dead before the lock was held, and removed it.
            const bool isHeld = ::flock(file_->get(), LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
            if (!isHeld && isNamed(name_, file_->get())) return;
            remove();
        }
        file_.emplace(-1);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() { remove(); }

    bool isMade() const { return file_->get() >= 0; }
    int get() const { return file_->get(); }
    bool close() { return file_->close(); }
    bool moveTo(const std::filesystem::path& target) {
        if (::rename(name_.c_str(), target.c_str()) != 0) return false;
        name_.clear();
        return true;
    }

  private:
    void remove() {
        if (!name_.empty() && file_) ::unlink(name_.c_str());
    }

    std::string name_;
    std::optional<OpenFile> file_, lock_;
};

/// Removes the file if it is one of ours and nobody holds its lock. Where there are no locks nothing is
/// known, and it stays.
void removeIfDead(const std::filesystem::path& file) {
    const OpenFile left(::open(file.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
    struct stat there {};
    if (left.get() < 0 || ::fstat(left.get(), &there) != 0) return;
    if (!S_ISREG(there.st_mode) || there.st_uid != ::geteuid()) return;
    if (::flock(left.get(), LOCK_EX | LOCK_NB) != 0) return;
    // It may have been moved to its place in the meantime, and another have got its name.
    if (isNamed(file.string(), left.get())) ::unlink(file.c_str());
}

/// Whether it is ".bandwright-NUMBER-NUMBER".
bool isTemporaryName(std::string_view name) {
    if (!name.starts_with(kTemporary)) return false;
    name.remove_prefix(kTemporary.size());
    const std::size_t dash = name.find('-');
    return dash != 0 && dash + 1 < name.size() && dash == name.rfind('-') &&
           name.find_first_not_of("0123456789-") == std::string_view::npos;
}

/// Removes what programs left in the folder that ended before they were done: once for each folder, since to
/// list one takes as long as it has files.
void removeDead(const std::filesystem::path& folder, int descriptor) {
    static std::mutex guard;
    static std::set<std::pair<dev_t, ino_t>> seen;
    struct stat there {};
    if (::fstat(descriptor, &there) != 0) return;
    {
        const std::lock_guard lock(guard);
        if (!seen.emplace(there.st_dev, there.st_ino).second) return;
    }
    std::error_code error;
    for (auto entry = std::filesystem::directory_iterator(folder, error);
         !error && entry != std::filesystem::directory_iterator(); entry.increment(error)) {
        if (isTemporaryName(entry->path().filename().native())) removeIfDead(entry->path());
    }
}

/// The folder's entry for the new name must reach the disk too. Some file systems cannot flush a folder and
/// say so with EINVAL: they do it by themselves.
bool flushFolder(int descriptor) {
    return ::fsync(descriptor) == 0 || errno == EINVAL;
}

/// A file that is written, and not yet in its place.
class Written {
  public:
    Written(const std::filesystem::path& file, const Produce& produce) : file_(file), target_(file) {
        if (file.empty()) throw base::InputError("a file name is needed to save");
        std::error_code unresolved;
        const std::filesystem::path resolved = std::filesystem::canonical(file, unresolved);
        if (!unresolved) target_ = resolved;
        const std::optional<mode_t> permissions = permissionsOf(target_);
        const std::filesystem::path folder = target_.has_parent_path() ? target_.parent_path() : ".";
        folder_.emplace(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
        if (folder_->get() < 0) refuse(file, "cannot be saved, its folder cannot be opened", errno);
        removeDead(folder, folder_->get());

        temporary_.emplace(folder);
        if (!temporary_->isMade()) refuse(file, "cannot be saved, no file can be made in its folder", errno);
        produce([this](std::string_view bytes) {
            if (!writeAll(temporary_->get(), bytes)) refuse(file_, "cannot be saved", errno);
        });
        const bool complete = (!permissions || ::fchmod(temporary_->get(), *permissions) == 0) &&
                              ::fsync(temporary_->get()) == 0 && temporary_->close();
        if (!complete) refuse(file, "cannot be saved", errno);
    }
    Written(const Written&) = delete;
    Written& operator=(const Written&) = delete;
    ~Written() {
        if (isPlaced_ && !isKept_) ::unlink(target_.c_str());
        if (!aside_.empty()) ::rename(aside_.c_str(), target_.c_str());
    }

    /// Moves the old file out of its place; until `keep`, it comes back when something fails.
    void setAside() {
        old_.emplace(::open(target_.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
        if (old_->get() < 0 && errno == ENOENT) return;
        ::flock(old_->get(), LOCK_SH | LOCK_NB);  // so that it is not taken for a dead program's
        std::string aside = temporaryName(target_.parent_path());
        if (::rename(target_.c_str(), aside.c_str()) != 0) refuse(file_, "cannot be saved", errno);
        aside_ = std::move(aside);
    }
    void putInPlace() {
        if (!temporary_->moveTo(target_)) refuse(file_, "cannot be saved", errno);
        isPlaced_ = true;
    }
    void keep() {
        isKept_ = true;
        if (!aside_.empty()) ::unlink(std::exchange(aside_, "").c_str());
    }
    void flush() {
        if (!flushFolder(folder_->get()))
            refuse(file_, "is saved, but its folder cannot be flushed to the disk", errno);
    }

  private:
    std::filesystem::path file_, target_;
    std::optional<OpenFile> folder_, old_;
    std::optional<Temporary> temporary_;
    std::string aside_;  ///< where the old file is meanwhile
    bool isPlaced_ = false, isKept_ = false;
};

}  // namespace

void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes) {
    writeFileAtomically(file, [bytes](const ByteSink& sink) { sink(bytes); });
}

void writeFileAtomically(const std::filesystem::path& file, const Produce& produce) {
    Written written(file, produce);
    written.putInPlace();
    written.keep();
    written.flush();
}

void writeSetAtomically(const std::vector<std::filesystem::path>& files,
                        const std::function<void(std::size_t, const ByteSink&)>& produce) {
    std::vector<std::unique_ptr<Written>> set;
    for (std::size_t i = 0; i < files.size(); ++i)
        set.push_back(std::make_unique<Written>(files[i], [&](const ByteSink& sink) { produce(i, sink); }));
    if (set.size() > 1) {
        for (const auto& written : set)
            written->setAside();
        set.front()->flush();  // before any new one is there
    }
    for (const auto& written : set)
        written->putInPlace();
    for (const auto& written : set)
        written->keep();
    for (const auto& written : set)
        written->flush();
}

}  // namespace bandwright::platform
