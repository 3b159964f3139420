#include "app/state_folder.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <cstdlib>

#include "platform/paths.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

TEST(StateFolder, IsWhereTheXdgSpecificationPutsIt) {
    setenv("HOME", "/home/maker", 1);
    unsetenv("XDG_STATE_HOME");
    EXPECT_EQ(platform::stateFolder(), "/home/maker/.local/state/bandwright");
    setenv("XDG_STATE_HOME", "/var/maker", 1);
    EXPECT_EQ(platform::stateFolder(), "/var/maker/bandwright");
    setenv("XDG_STATE_HOME", "relative", 1);  // the specification: relative paths are invalid and ignored
    EXPECT_EQ(platform::stateFolder(), "/home/maker/.local/state/bandwright");
}

TEST(StateFolder, SettingsComeBackAsTheyWereStored) {
    const ScratchFolder folder;
    Settings settings;
    settings.uiScale = 1.5;
    settings.width = 1600;
    settings.isDark = true;
    settings.folded = {"band", "channels[0]"};
    remember(settings, "/rings/a.ring.json");
    remember(settings, "/rings/b.ring.json");
    remember(settings, "/rings/a.ring.json");
    EXPECT_EQ(settings.recent,
              (std::vector<std::filesystem::path>{"/rings/a.ring.json", "/rings/b.ring.json"}));
    saveSettings(folder / "new/folder", settings);
    EXPECT_EQ(readSettings(folder / "new/folder"), settings);
}

TEST(StateFolder, SpoiltSettingsAreTheDefaults) {
    const ScratchFolder folder;
    for (const std::string text :
         {"", "{", "[]", "{\"ui-scale\": 99, \"width\": -4, \"recent\": 7}", "{\"recent\": [1, null]}"}) {
        writeFile(folder / "window.json", text);
        EXPECT_EQ(readSettings(folder.path()), Settings{}) << text;
    }
}

TEST(StateFolder, OnlyTheLatestFilesAreRemembered) {
    Settings settings;
    for (int i = 0; i < 30; ++i)
        remember(settings, "/rings/" + std::to_string(i));
    EXPECT_EQ(settings.recent.size(), kMostRecent);
    EXPECT_EQ(settings.recent.front(), "/rings/29");
}

/// A process that stores a design in the folder and then waits to be killed.
pid_t workingProcess(const std::filesystem::path& folder) {
    std::array<int, 2> ends{};
    EXPECT_EQ(pipe(ends.data()), 0);
    const pid_t child = fork();
    if (child == 0) {
        const RecoveryPlace place = newRecoveryPlace(folder);
        storeRecovery(place, "/rings/a.ring.json", "a design");
        static_cast<void>(write(ends[1], "x", 1));
        for (;;)
            pause();
    }
    char stored = 0;
    EXPECT_EQ(read(ends[0], &stored, 1), 1);
    close(ends[0]);
    close(ends[1]);
    return child;
}

TEST(StateFolder, UnsavedWorkIsLeftBehindOnceItsProgramIsKilledAndNoSooner) {
    const ScratchFolder folder;
    const pid_t first = workingProcess(folder.path()), second = workingProcess(folder.path());
    EXPECT_TRUE(findRecoveries(folder.path()).empty());
    kill(first, SIGKILL);
    waitpid(first, nullptr, 0);
    {
        const std::vector<Recovery> found = findRecoveries(folder.path());
        ASSERT_EQ(found.size(), 1U);
        EXPECT_EQ(found[0].file, "/rings/a.ring.json");
        EXPECT_EQ(found[0].text, "a design");
        EXPECT_TRUE(findRecoveries(folder.path()).empty()) << "offered to two programs at once";
    }
    kill(second, SIGKILL);
    waitpid(second, nullptr, 0);
    EXPECT_EQ(findRecoveries(folder.path()).size(), 2U);
}

TEST(StateFolder, UnsavedWorkIsFoundWhateverNumberARunningProcessHas) {
    const ScratchFolder folder;
    // Process numbers are reused, above all after a restart; process 1 always runs.
    for (const std::string& number : {std::string("1"), std::to_string(getpid())})
        writeFile(folder / ("recovery-" + number + ".json"), R"({"file": "", "design": "a design"})");
    EXPECT_EQ(findRecoveries(folder.path()).size(), 2U);
    const RecoveryPlace place = newRecoveryPlace(folder.path());
    EXPECT_EQ(place.stored, folder / "recovery-2.json") << "what is left behind is written over";
}

TEST(StateFolder, SpoiltRecoveriesAreLeftAlone) {
    const ScratchFolder folder;
    for (const std::string name :
         {"recovery-.json", "recovery-x.json", "recovery-999999999.json", "recovery--4.json"}) {
        writeFile(folder / name, "{\"design\": 3}");
    }
    EXPECT_TRUE(findRecoveries(folder.path()).empty());
    EXPECT_TRUE(findRecoveries(folder / "none").empty());
}

}  // namespace
}  // namespace bandwright::app
