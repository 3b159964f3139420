#include "platform/file_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>

namespace bandwright::platform {

std::optional<FileLock> FileLock::tryTake(const std::filesystem::path& file) {
    FileLock lock(file, -1);  // before there is a file that too little memory would leave behind
    const int descriptor = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (descriptor < 0) return std::nullopt;
    struct stat taken {};
    const bool isHeld = ::flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    // The last owner may have removed the file after we opened it; then this lock keeps nobody out.
    if (isHeld || ::fstat(descriptor, &taken) != 0 || taken.st_nlink == 0) {
        ::close(descriptor);
        return std::nullopt;
    }
    lock.descriptor_ = descriptor;
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
    if (descriptor_ < 0) return;
    ::unlink(file_.c_str());
    ::close(std::exchange(descriptor_, -1));
}

}  // namespace bandwright::platform
