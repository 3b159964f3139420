#include "app/hand_over.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <filesystem>

#include "app/command_line.hpp"
#include "formats/model.hpp"
#include "headless.hpp"
#include "platform/offscreen_context.hpp"
#include "program.hpp"
#include "render/renderer.hpp"
#include "render/still.hpp"

namespace bandwright::app {
namespace {

namespace fs = std::filesystem;

/// The harbour ring with the panel open, by the keyboard.
class HandsOver : public testing::Test {
  protected:
    HandsOver() {
        desk.bench().open(sample("harbour"));
        desk.settle();
        desk.press(Key::E, kCtrl);
    }
    const HandOver& panel() { return desk.bench().handOver(); }
    void press(const std::string& place) { desk.clickAt(panel().places().at(place)); }
    void pressRow(const std::string& place) { desk.clickAt(panel().rows().places().at(place)); }
    void begin(const fs::path& file) {
        desk.press(Key::E, kCtrl);
        desk.press(Key::A, kCtrl);
        desk.type(file.string());
        desk.press(Key::Enter);
    }
    void await() {
        while (panel().busy()) {
            desk.frames(1);
            std::this_thread::yield();
        }
        desk.frames(1);
    }
    void write(const fs::path& file) {
        begin(file);
        await();
    }
    /// The bytes that the command line writes to a file of this name.
    std::string told(std::vector<std::string> words) {
        std::vector<const char*> call = {"bandwright"};
        for (const std::string& word : words)
            call.push_back(word.c_str());
        EXPECT_EQ(runCommandLine(static_cast<int>(call.size()), call.data()), 0);
        return readFile(words.back());
    }
    const ScratchFolder folder;
    Headless desk;
};

TEST_F(HandsOver, EachFormatOfTheTableAsTheCommandWritesIt) {
    for (const formats::ModelFormat& format : formats::modelFormats()) {
        press(std::string(format.ending));
        const fs::path seen = folder / ("seen" + std::string(format.ending)),
                       as = folder / ("told" + std::string(format.ending));
        write(seen);
        if (panel().said().find("built without OpenCASCADE") != std::string::npos) {
            EXPECT_EQ(format.ending, ".step");
            EXPECT_FALSE(fs::exists(seen));
            continue;
        }
        if (format.ending == ".obj" || format.ending == ".stl") continue;  // several files, held below
        EXPECT_NE(panel().said().find("is written"), std::string::npos) << panel().said();
        EXPECT_TRUE(readFile(seen) == told({"export", sample("harbour"), "-o", as.string()}))
            << format.ending;
    }
    EXPECT_TRUE(fs::exists(folder / "seen.mtl"));
    EXPECT_TRUE(readFile(folder / "seen-band.stl") ==
                (told({"export", sample("harbour"), "-o", (folder / "told.stl").string()}),
                 readFile(folder / "told-band.stl")));
}

TEST_F(HandsOver, ThePartsTheToleranceAndTheStepThatAreChosen) {
    press(".stl");
    for (const auto& [place, box] : std::map(panel().rows().places()))
        if (place.starts_with("part=") && place != "part=band") desk.clickAt(box);
    pressRow("tolerance");
    desk.type("0.05");
    desk.press(Key::Enter);
    pressRow("larger");
    desk.type("1.5");
    desk.press(Key::Enter);
    write(folder / "seen");
    EXPECT_TRUE(readFile(folder / "seen.stl") ==
                told({"export", sample("harbour"), "--parts", "band", "--chord", "50", "--shrink", "1.5",
                      "-o", (folder / "told.stl").string()}));
    pressRow("part=band");  // nothing is left to write
    press("write");
    EXPECT_FALSE(panel().busy());
    pressRow("part=band");
    pressRow("for-metal");
    write(folder / "cast");
    EXPECT_NE(panel().said().find("shrinks"), std::string::npos) << panel().said();
}

TEST_F(HandsOver, APictureAndTheWeights) {
    press(".txt");
    write(folder / "weights");
    EXPECT_NE(readFile(folder / "weights.txt").find("The ring about its centre of mass"), std::string::npos);
    press(".json");
    write(folder / "weights");
    EXPECT_TRUE(fs::exists(folder / "weights.json"));
    press(".png");
    pressRow("view=bore");
    pressRow("width=800 x 600");
    write(folder / "ring");
    EXPECT_TRUE(fs::exists(folder / "ring.png")) << panel().said();
}

/// As the window's own renderer does.
TEST_F(HandsOver, ATurningPictureAsTheCommandWritesIt) {
    desk.press(Key::Escape);
    desk.bench().open(sample("first-frost"));  // soon drawn
    desk.settle();
    desk.press(Key::E, kCtrl);
    const platform::OffscreenContext context;
    render::Renderer renderer(context.loader());
    desk.painter().turn = [&](render::TurntablePainting& painting) { return painting.advance(renderer); };
    press(".webp");
    pressRow("turn-width=480");
    pressRow("turn-pictures");
    desk.type("2");
    desk.press(Key::Enter);
    write(folder / "seen.webp");
    EXPECT_NE(panel().said().find("is written"), std::string::npos) << panel().said();
    EXPECT_TRUE(readFile(folder / "seen.webp") ==
                told({"picture", sample("first-frost"), "--turntable", "--width", "480", "--height", "480",
                      "--frames", "2", "-o", (folder / "told.webp").string()}));
    // Stopped, nothing is left behind.
    pressRow("turn-pictures");
    desk.type("720");
    desk.press(Key::Enter);
    begin(folder / "seen.webp");
    const std::string before = readFile(folder / "seen.webp");
    while (panel().share().value_or(1) == 0)
        desk.frames(1);
    ASSERT_TRUE(panel().busy());
    desk.press(Key::Escape);
    await();
    EXPECT_EQ(panel().said(), "Stopped; seen.webp is as it was before.");
    EXPECT_TRUE(readFile(folder / "seen.webp") == before);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 2);
}

TEST_F(HandsOver, WhatIsStoppedLeavesTheFileAsItWas) {
    writeFile(folder / "old.3mf", "old");
    press(".3mf");
    pressRow("tolerance");
    desk.type("0.00002");  // takes its time
    desk.press(Key::Enter);
    begin(folder / "old.3mf");
    ASSERT_TRUE(panel().busy());
    EXPECT_TRUE(panel().share());
    press("stop");
    await();
    EXPECT_EQ(panel().said(), "Stopped; old.3mf is as it was before.");
    EXPECT_EQ(readFile(folder / "old.3mf"), "old");
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), {}), 1);
}

TEST_F(HandsOver, AFolderThatIsNotThereIsTold) {
    write(folder / "not-there" / "ring.obj");
    EXPECT_NE(panel().said().find("not-there"), std::string::npos) << panel().said();
    EXPECT_TRUE(panel().shown());
    desk.press(Key::Escape);
    EXPECT_FALSE(panel().shown());
}

TEST_F(HandsOver, TheFolderIsShownByTheDesktop) {
    writeFile(folder / "xdg-open",
              "#!/bin/sh\necho \"$1\" > \"$(dirname \"$0\")/asked.tmp\"\nmv \"$(dirname \"$0\")/asked.tmp\" "
              "\"$(dirname \"$0\")/asked\"\n");
    fs::permissions(folder / "xdg-open", fs::perms::owner_all);
    const std::string path = std::getenv("PATH");
    ::setenv("PATH", (folder.path().string() + ":" + path).c_str(), 1);
    press(".txt");
    write(folder / "weights");
    press("folder");
    for (int i = 0; i < 2000 && !fs::exists(folder / "asked"); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    ::setenv("PATH", path.c_str(), 1);
    EXPECT_EQ(readFile(folder / "asked"), folder.path().string() + "\n");
}

TEST(Save, ANameOfAnotherKindIsRefusedAndNothingIsWritten) {
    const ScratchFolder folder;
    Headless desk(harbour());
    desk.press(Key::S, kCtrl);
    desk.press(Key::A, kCtrl);
    desk.type(folder / "ring.obj");
    desk.press(Key::Enter);
    EXPECT_TRUE(fs::is_empty(folder.path()));
    EXPECT_TRUE(desk.bench().session().file().empty());
    desk.press(Key::A, kCtrl);
    desk.type(folder / "spring 1.2");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.bench().session().file(), folder / "spring 1.2.ring.json");
}

}  // namespace
}  // namespace bandwright::app
