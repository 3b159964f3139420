#include "platform/atomic_file.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <fstream>
#include <sstream>
#include <string>
#include <thread>

#include "base/input_error.hpp"
#include "design/design_file.hpp"

namespace bandwright::platform {
namespace {

namespace fs = std::filesystem;

std::string contents(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << stream.rdbuf();
    return bytes.str();
}

std::string refusal(const fs::path& file, std::string_view bytes) {
    try {
        writeFileAtomically(file, bytes);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "written";
}

/// Each test has its own folder, which is removed at its end.
class AtomicFile : public testing::Test {
  protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "bandwright-test-XXXXXX").string();
        ASSERT_NE(mkdtemp(name.data()), nullptr);
        folder_ = name;
    }
    void TearDown() override { fs::remove_all(folder_); }

    std::size_t entries() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }

    fs::path folder_;
};

TEST_F(AtomicFile, MakesANewFileWithThePermissionsOfThePersonsMask) {
    const mode_t mask = ::umask(027);
    writeFileAtomically(folder_ / "a", "hello");
    ::umask(mask);
    EXPECT_EQ(contents(folder_ / "a"), "hello");
    EXPECT_EQ(fs::status(folder_ / "a").permissions(), static_cast<fs::perms>(0640));
    EXPECT_EQ(entries(), 1U);
}

TEST_F(AtomicFile, ReplacesAFileAndKeepsItsPermissions) {
    writeFileAtomically(folder_ / "a", "a long text that is there before");
    fs::permissions(folder_ / "a", static_cast<fs::perms>(0604));
    writeFileAtomically(folder_ / "a", "new");
    EXPECT_EQ(contents(folder_ / "a"), "new");
    EXPECT_EQ(fs::status(folder_ / "a").permissions(), static_cast<fs::perms>(0604));
    EXPECT_EQ(entries(), 1U);
}

TEST_F(AtomicFile, WritesThroughASymbolicLink) {
    writeFileAtomically(folder_ / "real", "old");
    fs::create_symlink("real", folder_ / "link");
    writeFileAtomically(folder_ / "link", "new");
    EXPECT_TRUE(fs::is_symlink(folder_ / "link"));
    EXPECT_EQ(contents(folder_ / "real"), "new");
}

TEST_F(AtomicFile, RefusesAFolderInTheWay) {
    fs::create_directory(folder_ / "a");
    EXPECT_EQ(refusal(folder_ / "a", "x"),
              (folder_ / "a").string() + ": cannot be saved: what is there is no plain file");
    EXPECT_TRUE(fs::is_directory(folder_ / "a"));
    EXPECT_EQ(entries(), 1U);
}

TEST_F(AtomicFile, LeavesADeviceInPlace) {
    EXPECT_EQ(refusal("/dev/full", "x"), "/dev/full: cannot be saved: what is there is no plain file");
    EXPECT_TRUE(fs::is_character_file("/dev/full"));
}

TEST_F(AtomicFile, LeavesAWriteProtectedFileAsItIs) {
    const fs::path file = folder_ / "a";
    writeFileAtomically(file, "kept");
    fs::permissions(file, fs::perms::owner_read);
    EXPECT_EQ(refusal(file, "x"), file.string() + ": cannot be saved: the file there is write-protected");
    EXPECT_EQ(contents(file), "kept");
}

TEST_F(AtomicFile, RefusesAFolderThatIsNotThere) {
    EXPECT_EQ(refusal(folder_ / "none" / "a", "x"),
              (folder_ / "none" / "a").string() +
                  ": cannot be saved, its folder cannot be opened: No such file or directory");
    EXPECT_EQ(entries(), 0U);
}

TEST_F(AtomicFile, RefusesAFileInThePlaceOfAFolder) {
    writeFileAtomically(folder_ / "a", "x");
    EXPECT_EQ(refusal(folder_ / "a" / "b", "x"),
              (folder_ / "a" / "b").string() + ": cannot be saved: Not a directory");
    EXPECT_EQ(contents(folder_ / "a"), "x");
}

// A limit on file size makes the write itself fail, as on a full disk, even for root.
TEST_F(AtomicFile, KeepsTheOldFileWholeWhenTheDiskTakesNoMore) {
    const std::string old(100, 'o');
    writeFileAtomically(folder_ / "a", old);
    rlimit before{};
    ASSERT_EQ(getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit tight{1000, before.rlim_max};
    ASSERT_EQ(setrlimit(RLIMIT_FSIZE, &tight), 0);
    const std::string said = refusal(folder_ / "a", std::string(5000, 'n'));
    setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    EXPECT_EQ(said, (folder_ / "a").string() + ": cannot be saved: File too large");
    EXPECT_EQ(contents(folder_ / "a"), old);
    EXPECT_EQ(entries(), 1U);
}

TEST_F(AtomicFile, DoesNotTouchTheFileWhenTheDesignCannotBeWritten) {
    const fs::path file = folder_ / "a.ring.json";
    design::saveDesign(design::Design{}, file);
    design::Design bad;
    bad.band.width = -1;
    EXPECT_THROW(design::saveDesign(bad, file), base::InputError);
    EXPECT_EQ(design::readDesign(file), design::Design{});
}

// Whenever the process is killed, the file is either the old or the new design, whole.
TEST_F(AtomicFile, SurvivesBeingKilledWhileSaving) {
    const fs::path file = folder_ / "a.ring.json";
    design::Design plain;
    design::Design rich;
    rich.note = std::string(8000, 'n');
    design::saveDesign(plain, file);
    for (int round = 0; round < 20; ++round) {
        const pid_t child = fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            for (;;) {
                design::saveDesign(rich, file);
                design::saveDesign(plain, file);
            }
        }
        std::this_thread::sleep_for(std::chrono::microseconds(2000 + 700 * round));
        kill(child, SIGKILL);
        int status = 0;
        ASSERT_EQ(waitpid(child, &status, 0), child);
        ASSERT_TRUE(WIFSIGNALED(status));
        const design::Design found = design::readDesign(file);
        EXPECT_TRUE(found == plain || found == rich);
    }
}

}  // namespace
}  // namespace bandwright::platform
