#include "app/state_folder.hpp"

#include <gtest/gtest.h>

#include <cstdlib>

#include "program.hpp"

namespace bandwright {
namespace {

TEST(StateFolder, IsWhereTheXdgSpecificationPutsIt) {
    setenv("HOME", "/home/maker", 1);
    unsetenv("XDG_STATE_HOME");
    EXPECT_EQ(stateFolder(), "/home/maker/.local/state/bandwright");
    setenv("XDG_STATE_HOME", "/var/maker", 1);
    EXPECT_EQ(stateFolder(), "/var/maker/bandwright");
    setenv("XDG_STATE_HOME", "relative", 1);  // the specification: relative paths are invalid and ignored
    EXPECT_EQ(stateFolder(), "/home/maker/.local/state/bandwright");
}

TEST(StateFolder, SettingsComeBackAsTheyWereStored) {
    const ScratchFolder folder;
    Settings settings;
    settings.uiScale = 1.5;
    settings.width = 1600;
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
}  // namespace bandwright
