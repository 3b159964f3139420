#include "platform/file_lock.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <string>
#include <utility>

namespace bandwright::platform {
namespace {

class FileLocks : public testing::Test {
  protected:
    ~FileLocks() override { std::filesystem::remove(file_); }

    /// Whether another process can take it.
    bool othersCan() const {
        const pid_t child = fork();
        if (child == 0) {
            const bool took = FileLock::tryTake(file_).has_value();
            _exit(took ? 0 : 1);
        }
        int status = 0;
        waitpid(child, &status, 0);
        return status == 0;
    }

    std::filesystem::path file_ =
        std::filesystem::path(testing::TempDir()) / ("bandwright-lock-" + std::to_string(getpid()));
};

TEST_F(FileLocks, AreHeldByOneAtATime) {
    EXPECT_TRUE(othersCan());
    std::optional<FileLock> lock = FileLock::tryTake(file_);
    ASSERT_TRUE(lock);
    EXPECT_FALSE(othersCan());
    EXPECT_FALSE(FileLock::tryTake(file_));
    FileLock moved = *std::move(lock);
    lock.reset();
    EXPECT_FALSE(othersCan()) << "let go of by what it was moved out of";
    {
        const FileLock last = std::move(moved);
        EXPECT_FALSE(othersCan());
    }
    EXPECT_TRUE(othersCan());
    EXPECT_FALSE(std::filesystem::exists(file_));
}

TEST_F(FileLocks, AreNotToBeHadWhereNoFileCanBeMade) {
    EXPECT_FALSE(FileLock::tryTake(file_ / "none" / "lock"));
}

}  // namespace
}  // namespace bandwright::platform
