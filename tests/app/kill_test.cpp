#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <functional>
#include <map>
#include <random>
#include <set>
#include <string>
#include <thread>

#include "app/state_folder.hpp"
#include "design/design_file.hpp"
#include "files_left.hpp"
#include "formats/model.hpp"
#include "platform/atomic_file.hpp"
#include "program.hpp"
#include "trade/catalogue.hpp"

/// Programs killed at random moments while they write. BANDWRIGHT_KILLS says how many times each
/// (DEVELOPERS.md).
namespace bandwright::app {
namespace {

namespace fs = std::filesystem;

int kills() {
    const char* text = std::getenv("BANDWRIGHT_KILLS");
    return text == nullptr ? 12 : std::atoi(text);
}

bool isTemporary(const std::string& name) {
    return name.starts_with(".bandwright-");
}

/// Does the work over and over in another process and kills it.
void killWhileWorking(const std::function<void()>& work, std::chrono::microseconds after) {
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        try {
            for (;;)
                work();
        } catch (const std::exception& error) {
            std::fprintf(stderr, "%s\n", error.what());
            _exit(1);
        }
    }
    std::this_thread::sleep_for(after);
    kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the writing was refused";
}

/// Does the work once in another process, which has not looked into the folder yet.
void workOnce(const std::function<void()>& work) {
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        work();
        _exit(0);
    }
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_EQ(status, 0);
}

class Kills : public testing::Test {
  protected:
    Kills() { second_.band.width = 7; }

    void write(const design::Design& ring, const std::string& ending) {
        formats::ModelOptions options;
        options.build = {base::Micrometres(100)};
        formats::writeModel(ring, catalogue_, options, folder_ / ("ring" + ending));
    }
    void writeBoth(const std::string& ending) {
        write(first_, ending);
        write(second_, ending);
    }
    Files written(const design::Design& ring, const std::string& ending) {
        workOnce([&] { write(ring, ending); });
        return filesIn(folder_.path());
    }
    /// Neither too soon to have begun nor always at the same place.
    std::chrono::microseconds moment() {
        return std::chrono::microseconds(std::uniform_int_distribution<int>(500, 30'000)(random_));
    }

    ScratchFolder folder_;
    trade::Catalogue catalogue_ = trade::builtInCatalogue();
    design::Design first_ = design::readDesign(sample("harbour"));
    design::Design second_ = design::readDesign(sample("shallows"));
    std::mt19937_64 random_{20261128};
};

TEST_F(Kills, LeaveAnObjWithAllItsMaterials) {
    const Files first = written(first_, ".obj");
    const Files second = written(second_, ".obj");
    ASSERT_NE(first.at("ring.mtl"), second.at("ring.mtl"));
    int between = 0;
    for (int i = 0; i < kills(); ++i) {
        killWhileWorking([this] { writeBoth(".obj"); }, moment());
        const Files left = filesIn(folder_.path());
        const std::string& obj = left.at("ring.obj");
        ASSERT_TRUE(obj == first.at("ring.obj") || obj == second.at("ring.obj"));
        const std::set<std::string> known = wordsAfter(left.at("ring.mtl"), "newmtl ");
        for (const std::string& material : wordsAfter(obj, "usemtl "))
            ASSERT_TRUE(known.contains(material)) << "after kill " << i << ": " << material;
        between +=
            left.at("ring.mtl") != first.at("ring.mtl") && left.at("ring.mtl") != second.at("ring.mtl");
    }
    RecordProperty("between", between);
    EXPECT_EQ(written(first_, ".obj"), first) << "what is left of the killed is gone";
}

TEST_F(Kills, LeaveStlFilesOfOneRing) {
    Files first = written(first_, ".stl");
    workOnce([this] { fs::remove_all(folder_.path()), fs::create_directory(folder_.path()); });
    const Files second = written(second_, ".stl");
    int incomplete = 0;
    for (int i = 0; i < kills(); ++i) {
        killWhileWorking([this] { writeBoth(".stl"); }, moment());
        std::set<bool> rings;  // whether it is of the first
        std::size_t whole = 0;
        for (const auto& [name, bytes] : filesIn(folder_.path())) {
            if (isTemporary(name)) continue;
            const bool isFirst = first.contains(name) && first.at(name) == bytes;
            const bool isSecond = second.contains(name) && second.at(name) == bytes;
            ASSERT_TRUE(isFirst || isSecond) << name << " is not whole";
            if (isFirst != isSecond && first.contains(name) && second.contains(name)) rings.insert(isFirst);
            ++whole;
        }
        ASSERT_LE(rings.size(), 1U) << "files of two rings after kill " << i;
        incomplete += whole < second.size();
    }
    RecordProperty("incomplete", incomplete);
}

// The state folder is where recoveries lie; a kill may take the last second, never the file.
TEST_F(Kills, LeaveOneWholeDesignAndOneWholeRecovery) {
    const fs::path file = folder_ / "a.ring.json";
    const fs::path state = folder_ / "state";
    const std::string first = design::formatDesign(first_), second = design::formatDesign(second_);
    workOnce([&] { design::saveDesign(first_, file); });
    std::size_t kept = 0;
    // On a busy machine it may take more kills until one comes while work is kept.
    for (int i = 0; i < kills() || (kept == 0 && i < 50 * kills()); ++i) {
        killWhileWorking(
            [&] {
                design::saveDesign(second_, file);
                const RecoveryPlace place = newRecoveryPlace(state);
                for (const std::string& text : {first, second, first})
                    storeRecovery(place, file, text);
                design::saveDesign(first_, file);
            },
            moment());
        const std::string left = readFile(file);
        ASSERT_TRUE(left == first || left == second);
        for (Recovery& recovery : findRecoveries(state)) {
            ASSERT_TRUE(recovery.text == first || recovery.text == second);
            ASSERT_EQ(recovery.file, file);
            dropRecovery(std::move(recovery.place));
            ++kept;
        }
    }
    EXPECT_GT(kept, 0U) << "no kill came while work was kept";
    workOnce([&] {
        design::saveDesign(first_, file);
        design::saveDesign(first_, state / "b.ring.json");
    });
    EXPECT_EQ(filesIn(folder_.path()).size(), 1U);
    // A lock that nothing was stored beside stays for the next program to take.
    for (const auto& [name, bytes] : filesIn(state))
        EXPECT_TRUE(name == "b.ring.json" || name.ends_with(".lock")) << name;
}

// While others are killed and cleaned up after, a running program loses nothing.
TEST_F(Kills, TakeNothingFromRunningPrograms) {
    const fs::path mine = folder_ / "mine.ring.json";
    const pid_t steady = fork();
    ASSERT_GE(steady, 0);
    if (steady == 0) {
        try {
            for (;;)
                design::saveDesign(first_, mine);
        } catch (const std::exception& error) {
            std::fprintf(stderr, "%s\n", error.what());
            _exit(1);
        }
    }
    for (int i = 0; i < kills(); ++i) {
        const auto work = [this, i] {
            // A new program each time, so that each cleans up.
            workOnce(
                [this, i] { design::saveDesign(second_, folder_ / (std::to_string(i % 7) + ".ring.json")); });
        };
        killWhileWorking([&] { design::saveDesign(second_, folder_ / "other.ring.json"); }, moment() / 10);
        work();
    }
    kill(steady, SIGTERM);
    int status = 0;
    ASSERT_EQ(waitpid(steady, &status, 0), steady);
    EXPECT_TRUE(WIFSIGNALED(status)) << "its file was taken away while it wrote";
    workOnce([this] { design::saveDesign(second_, folder_ / "last.ring.json"); });
    for (const auto& [name, bytes] : filesIn(folder_.path()))
        EXPECT_FALSE(isTemporary(name)) << name;
}

// A request to stop is no kill: the program clears up by itself.
TEST_F(Kills, ByControlCLeaveNothing) {
    const fs::path out = folder_ / "ring.obj";
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        const std::string ring = sample("harbour");
        execl(BANDWRIGHT_PROGRAM, BANDWRIGHT_PROGRAM, "export", ring.c_str(), "-o", out.c_str(), "--chord",
              "0.02", nullptr);
        _exit(127);
    }
    int status = 0;
    while (fs::is_empty(folder_.path()) && waitpid(child, &status, WNOHANG) == 0)
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    kill(child, SIGINT);
    ASSERT_EQ(waitpid(child, &status, 0), child) << "it was done before it could be stopped";
    EXPECT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 130);
    EXPECT_TRUE(fs::is_empty(folder_.path()));
}

}  // namespace
}  // namespace bandwright::app
