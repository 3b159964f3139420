#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <map>
#include <new>
#include <set>
#include <string>
#include <vector>

#include "app/command_line.hpp"
#include "app/state_folder.hpp"
#include "base/input_error.hpp"
#include "files_left.hpp"
#include "program.hpp"

/// Every call that touches a file, and every allocation, failing in turn while something is written. The
/// program's calls come to the functions here before they reach the system.
namespace {

enum class Kind { File, Allocation };

/// What fails: the call of this number, or that and all after it.
struct {
    bool armed = false, forGood = false;
    Kind kind = Kind::File;
    long countdown = 0;
    int error = 0;
} fault;

bool fails(Kind kind) {
    if (!fault.armed || kind != fault.kind) return false;
    --fault.countdown;
    if (fault.countdown > 0 || (fault.countdown < 0 && !fault.forGood)) return false;
    errno = fault.error;
    return true;
}

int opened(const char* path, int flags, unsigned mode) {
    if (fails(Kind::File)) return -1;
    return static_cast<int>(syscall(SYS_openat, AT_FDCWD, path, flags, mode));
}

}  // namespace

extern "C" {
int open(const char* path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const unsigned mode = (flags & O_CREAT) != 0 ? va_arg(rest, unsigned) : 0;
    va_end(rest);
    return opened(path, flags, mode);
}
int open64(const char* path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const unsigned mode = (flags & O_CREAT) != 0 ? va_arg(rest, unsigned) : 0;
    va_end(rest);
    return opened(path, flags, mode);
}
ssize_t write(int file, const void* bytes, std::size_t count) {
    // Standard output and error tell the test what happened.
    if (file > STDERR_FILENO && fails(Kind::File)) {
        // As a full disk does: a part of it is there.
        if (fault.error == ENOSPC && count > 1 && !fault.forGood)
            return syscall(SYS_write, file, bytes, count / 2);
        return -1;
    }
    return syscall(SYS_write, file, bytes, count);
}
int fsync(int file) {
    return fails(Kind::File) ? -1 : static_cast<int>(syscall(SYS_fsync, file));
}
int fchmod(int file, mode_t mode) {
    return fails(Kind::File) ? -1 : static_cast<int>(syscall(SYS_fchmod, file, mode));
}
int rename(const char* from, const char* to) noexcept {
    return fails(Kind::File) ? -1 : static_cast<int>(syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0));
}
}

// NOLINTBEGIN(misc-new-delete-overloads): those not named here come to these.
void* operator new(std::size_t size) {
    if (fails(Kind::Allocation)) throw std::bad_alloc();
    void* const place = std::malloc(std::max<std::size_t>(size, 1));
    if (place == nullptr) throw std::bad_alloc();
    return place;
}
void operator delete(void* place) noexcept {
    std::free(place);
}
void operator delete(void* place, std::size_t) noexcept {
    std::free(place);
}
// NOLINTEND(misc-new-delete-overloads)

namespace bandwright::app {
namespace {

namespace fs = std::filesystem;

/// BANDWRIGHT_FAULTS=all lets every single call fail, and every hundredth allocation; else a share of them.
bool isThorough() {
    return std::getenv("BANDWRIGHT_FAULTS") != nullptr;
}

int call(std::vector<std::string> words) {
    words.insert(words.begin(), "bandwright");
    std::vector<const char*> arguments;
    for (const std::string& word : words)
        arguments.push_back(word.c_str());
    return runCommandLine(static_cast<int>(arguments.size()), arguments.data());
}

/// Whether all are of the first or all of the second: of an OBJ and its materials, whether it has all it
/// names.
bool belongTogether(const Files& found, const Files& old, const Files& next) {
    if (!found.contains("ring.mtl")) return found == old || found == next;
    const auto isWhole = [&](const std::string& name) {
        return found.at(name) == old.at(name) || found.at(name) == next.at(name);
    };
    const std::set<std::string> known = wordsAfter(found.at("ring.mtl"), "newmtl ");
    return found.size() == 2 && isWhole("ring.obj") &&
           std::ranges::includes(known, wordsAfter(found.at("ring.obj"), "usemtl "));
}

class Faults : public testing::Test {
  protected:
    struct Ended {
        int code = -1;
        bool came = false;  ///< whether the call that was to fail was made
        std::string said;
    };

    Ended run(const std::function<int()>& work, Kind kind, long number, int error, bool forGood) {
        const std::string told = beside_ / "told";
        const pid_t child = fork();
        if (child == 0) {
            const int out = ::open(told.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
            dup2(out, STDERR_FILENO);
            dup2(::open("/dev/null", O_WRONLY | O_CLOEXEC), STDOUT_FILENO);
            std::set_terminate(endAtOnce);
            fault = {true, forGood, kind, number, error};
            int code = 2;
            try {
                code = work();
            } catch (const std::bad_alloc&) {
                std::fputs("the test's own memory\n", stderr);
            }
            fault.armed = false;
            _exit(code + (fault.countdown <= 0 ? 100 : 0));
        }
        int status = 0;
        waitpid(child, &status, 0);
        const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
        return {code >= 100 ? code - 100 : code, code >= 100 || code < 0, readFile(told)};
    }

    /// `before` and `work` write the same files, each another ring.
    void expectOldOrNew(const std::string& name, const std::function<int()>& before,
                        const std::function<int()>& work) {
        const auto afresh = [&](const std::function<int()>& first) {
            for (const auto& [file, bytes] : filesIn(folder_.path()))
                fs::remove(folder_ / file);
            ASSERT_EQ(run(first, Kind::File, 1'000'000'000, EIO, false).code, 0);
        };
        afresh(work);
        const Files next = filesIn(folder_.path());
        afresh(before);
        const Files old = filesIn(folder_.path());
        ASSERT_NE(old, next);
        long injected = 0;
        const auto tryOne = [&](Kind kind, long number, int error, bool forGood) {
            if (filesIn(folder_.path()) != old) afresh(before);
            const Ended ended = run(work, kind, number, error, forGood);
            if (!ended.came) return false;
            ++injected;
            const std::string what = name + ", call " + std::to_string(number) +
                                     (kind == Kind::File ? " of a file" : " for memory") +
                                     (forGood ? " and all after it" : "") + ": code " +
                                     std::to_string(ended.code) + ", " + ended.said;
            const Files found = filesIn(folder_.path());
            EXPECT_TRUE(ended.code == 0 || ended.code == 2) << what;
            EXPECT_EQ(std::ranges::count(ended.said, '\n'), ended.code == 2 ? 1 : 0) << what;
            if (ended.code == 0) {
                EXPECT_EQ(found, next) << what;
            } else {
                EXPECT_TRUE(belongTogether(found, old, next)) << what;
            }
            return !HasFailure();
        };
        for (const int error : {EIO, ENOSPC})
            for (long number = 1; tryOne(Kind::File, number, error, false); number += isThorough() ? 1 : 3) {
            }
        // A set that is being put in its place cannot be put back on a disk that takes nothing any more.
        const bool isSet = old.size() > 2;
        for (long number = 1; !isSet && tryOne(Kind::File, number, EIO, true);
             number += isThorough() ? 1 : 3) {
        }
        for (long number = 1; tryOne(Kind::Allocation, number, ENOMEM, false);
             number += isThorough() ? 1 + number / 400 : 1 + number / 2) {
        }
        RecordProperty("injected " + name, static_cast<int>(injected));
    }

    ScratchFolder folder_, beside_;
};

TEST_F(Faults, WhileAModelIsWrittenLeaveTheOldOrTheNewOne) {
    for (const std::string ending : {".obj", ".glb"}) {
        const std::string out = folder_ / ("ring" + ending);
        expectOldOrNew(
            "export " + ending,
            [&] {
                return call({"export", sample("shallows"), "-o", out, "--chord", "500", "--plain"});
            },
            [&] {
                return call({"export", sample("tide-mill"), "-o", out, "--chord", "500", "--plain"});
            });
    }
}

TEST_F(Faults, WhileASetIsWrittenLeaveTheOldOrTheNewOne) {
    const std::string out = folder_ / "ring.stl";
    // Of the same parts, so that one takes the place of the other.
    std::string text = readFile(sample("harbour"));
    const std::string width = "\"width\": 8";
    ASSERT_NE(text.find(width), std::string::npos);
    text.replace(text.find(width), width.size(), "\"width\": 8.5");
    const std::string other = beside_ / "other.ring.json";
    writeFile(other, text);
    expectOldOrNew(
        "export .stl",
        [&] {
            return call({"export", sample("harbour"), "-o", out, "--chord", "500"});
        },
        [&] {
            return call({"export", other, "-o", out, "--chord", "500"});
        });
}

TEST_F(Faults, WhileARingIsMendedLeaveTheOldOrTheNewOne) {
    const std::string out = folder_ / "a.ring.json";
    expectOldOrNew(
        "mend",
        [&] {
            return call({"mend", sample("shallows"), "-o", out});
        },
        [&] {
            return call({"mend", sample("tide-mill"), "-o", out});
        });
}

TEST_F(Faults, WhileWorkIsKeptLeaveTheOldOrTheNewOne) {
    const auto keep = [this](const std::string& ring) {
        return [this, ring] {
            try {
                const fs::path stored = folder_ / "recovery-1.json";
                std::optional<platform::FileLock> lock =
                    platform::FileLock::tryTake(folder_ / "recovery-1.json.lock");
                if (!lock) throw base::InputError("no lock");
                storeRecovery({stored, *std::move(lock)}, "/a.ring.json", readFile(sample(ring)));
                return 0;
            } catch (const std::exception& error) {
                const Ending ending = endingOf(error, "");
                std::fprintf(stderr, "%s\n", ending.line.c_str());
                return ending.code;
            }
        };
    };
    expectOldOrNew("recovery", keep("shallows"), keep("harbour"));
}

}  // namespace
}  // namespace bandwright::app
