#include "app/paper_view.hpp"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>

#include "app/command_line.hpp"
#include "design/design_file.hpp"
#include "headless.hpp"
#include "paper/write.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

/// The papers of the harbour ring, opened by the keyboard.
class Papers : public testing::Test {
  protected:
    Papers() {
        desk.bench().open(sample("harbour"));
        desk.settle();
        desk.press(Key::P, kCtrl);
        await();
    }
    const PaperView& papers() { return desk.bench().papers(); }
    void await() {
        do {
            desk.frames(1);
            std::this_thread::yield();
        } while (papers().busy());
        desk.frames(1);
    }
    void writeTo(const std::string& path) {
        desk.press(Key::P, kCtrl);
        desk.press(Key::A, kCtrl);
        desk.type(path);
        desk.press(Key::Enter);
    }
    Headless desk;
};

TEST_F(Papers, EachIsSeenPageByPageOnTheSheetChosen) {
    EXPECT_TRUE(papers().shown());
    for (int i = 0; i < kPaperKinds; ++i) {
        desk.press(static_cast<Key>(static_cast<int>(Key::Digit1) + i));
        desk.painter().hasBlack = false;
        await();
        EXPECT_GT(papers().pages(), 0U) << i;
        EXPECT_EQ(papers().said(), "") << i;
        EXPECT_TRUE(desk.painter().hasBlack) << i;  // ink
        const scene::Size shown = desk.painter().shown;
        EXPECT_NEAR(static_cast<double>(shown.height) / shown.width, 297.0 / 210, 0.005) << i;
    }
    desk.press(Key::S);
    desk.press(Key::S);  // A4, A5, letter
    await();
    EXPECT_NEAR(static_cast<double>(desk.painter().shown.height) / desk.painter().shown.width, 11 / 8.5,
                0.005);
}

TEST_F(Papers, PagesTurnAndGrow) {
    const std::size_t last = papers().pages() - 1;
    ASSERT_GT(last, 1U);
    desk.press(Key::PageUp);
    EXPECT_EQ(papers().page(), 0U);
    desk.press(Key::PageDown);
    EXPECT_EQ(papers().page(), 1U);
    desk.press(Key::End);
    desk.press(Key::PageDown);
    EXPECT_EQ(papers().page(), last);
    desk.press(Key::Home);
    desk.clickAt(papers().places().at("next"));
    EXPECT_EQ(papers().page(), 1U);
    await();
    const int before = desk.painter().shown.width;
    desk.press(Key::Minus);
    await();
    EXPECT_NEAR(desk.painter().shown.width, before / 1.25, 1);
    desk.press(Key::Escape);
    EXPECT_FALSE(papers().shown());
}

TEST_F(Papers, WhatIsWrittenIsWhatTheCommandWrites) {
    const ScratchFolder folder;
    writeTo((folder / "not-there" / "sheet").string());
    EXPECT_NE(papers().said().find("sheet.pdf"), std::string::npos) << papers().said();
    EXPECT_FALSE(std::filesystem::exists(folder / "not-there"));
    EXPECT_TRUE(papers().shown());
    desk.press(Key::Digit1);
    await();
    writeTo((folder / "seen").string());
    EXPECT_EQ(papers().said(), (folder / "seen.pdf").string() + " is written, " +
                                   std::to_string(papers().pages()) +
                                   (papers().pages() == 1 ? " page." : " pages."));
    const std::string file = sample("harbour"), out = (folder / "told.pdf").string();
    const std::array<const char*, 5> call = {"bandwright", "section", file.c_str(), "-o", out.c_str()};
    ASSERT_EQ(runCommandLine(static_cast<int>(call.size()), call.data()), 0);
    EXPECT_TRUE(readFile(folder / "seen.pdf") == readFile(out));
}

TEST_F(Papers, APaperCarriesChangesThatAreInNoFile) {
    const ScratchFolder folder;
    desk.press(Key::Escape);
    desk.enter("band.width", "7");
    desk.press(Key::P, kCtrl);
    desk.press(Key::Digit4);
    await();
    writeTo((folder / "card").string());
    const std::string pdf = readFile(folder / "card.pdf");
    EXPECT_EQ(design::parseDesign(paper::attachedDesign(pdf).value_or(""), "the PDF"), desk.design());
}

}  // namespace
}  // namespace bandwright::app
