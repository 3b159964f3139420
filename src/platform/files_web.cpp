// Files in a browser's page, where they are in the page's memory and go out of it as downloads; and under
// Node.js, for the tests.
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <system_error>
#include <utility>

#include "base/input_error.hpp"
#include "platform/ask_file.hpp"
#include "platform/atomic_file.hpp"
#include "platform/file_lock.hpp"
#include "platform/paths.hpp"
#include "platform/show_folder.hpp"
#include "web.hpp"

namespace bandwright::platform {

namespace {

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why) {
    throw base::InputError(file.string() + ": cannot be saved: " + why);
}

/// A file under another name until it is whole.
class Written {
  public:
    Written(const std::filesystem::path& file, const Produce& produce) : file_(file), temporary_(file) {
        if (file.empty()) throw base::InputError("a file name is needed to save");
        std::error_code error;
        const auto there = std::filesystem::status(file, error);
        if (std::filesystem::exists(there) && !std::filesystem::is_regular_file(there))
            refuse(file, "what is there is no plain file");
        temporary_ += ".part";
        std::ofstream out(temporary_, std::ios::binary | std::ios::trunc);
        if (!out) refuse(file, "its folder cannot be written");
        try {
            produce([&](std::string_view bytes) {
                if (!out.write(bytes.data(), static_cast<std::streamsize>(bytes.size())))
                    refuse(file, "there is no room for it");
            });
            out.close();
            if (!out) refuse(file, "there is no room for it");
        } catch (...) {
            remove();
            throw;
        }
    }
    Written(const Written&) = delete;
    Written& operator=(const Written&) = delete;
    Written(Written&& other) noexcept
        : file_(std::move(other.file_)), temporary_(std::exchange(other.temporary_, {})) {}
    ~Written() { remove(); }

    void takePlace() {
        std::error_code error;
        std::filesystem::rename(temporary_, file_, error);
        if (error) refuse(file_, error.message());
        temporary_.clear();
        bandwright_written(file_.c_str());
    }

  private:
    void remove() {
        std::error_code ignored;
        if (!temporary_.empty()) std::filesystem::remove(temporary_, ignored);
    }
    std::filesystem::path file_, temporary_;
};

}  // namespace

void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes) {
    writeFileAtomically(file, [&](const ByteSink& sink) { sink(bytes); });
}

void writeFileAtomically(const std::filesystem::path& file, const Produce& produce) {
    Written(file, produce).takePlace();
}

void writeSetAtomically(const std::vector<std::filesystem::path>& files,
                        const std::function<void(std::size_t, const ByteSink&)>& produce) {
    std::vector<Written> written;
    for (std::size_t i = 0; i < files.size(); ++i)
        written.emplace_back(files[i], [&](const ByteSink& sink) { produce(i, sink); });
    for (Written& file : written)
        file.takePlace();
}

// A page's files are its own: what other pages have stored reaches it only where they have ended (shell.js).
std::optional<FileLock> FileLock::tryTake(const std::filesystem::path& file) {
    if (!std::ofstream(file)) return std::nullopt;
    return FileLock(file, 0);
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
    if (std::exchange(descriptor_, -1) >= 0) ::unlink(file_.c_str());
}

std::filesystem::path absolutePath(const std::filesystem::path& path) {
    std::error_code gone;
    const std::filesystem::path whole = std::filesystem::absolute(path, gone);
    return gone ? path : whole.lexically_normal();
}

std::filesystem::path homeFolder() {
    return {};
}

std::filesystem::path stateFolder() {
    const char* state = std::getenv("XDG_STATE_HOME");  // shell.js sets it, Node.js does not
    return state == nullptr ? std::filesystem::path() : std::filesystem::path(state) / "bandwright";
}

std::filesystem::path cacheFolder() {
    return {};
}

std::filesystem::path samplesFolder() {
    return {};
}

std::string dataOf(std::string_view /*name*/) {
    return {};
}

std::string fontOf(std::string_view name) {
    std::ifstream in(std::filesystem::path(BANDWRIGHT_FONTS) / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

bool canAskForFile() {
    return bandwright_ask_file(nullptr) != 0;
}

void askForFile(const std::string& ending) {
    bandwright_ask_file(ending.c_str());
}

bool canAskWhereToSave() {
    return false;
}

std::optional<std::filesystem::path> askWhereToSave(const std::filesystem::path& /*folder*/,
                                                    const std::string& /*ending*/) {
    return std::nullopt;
}

bool showFolder(const std::filesystem::path& /*folder*/) {
    return false;
}

}  // namespace bandwright::platform
