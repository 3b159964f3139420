#include "app/window.hpp"

#include <gtest/gtest.h>

#include "program.hpp"

namespace bandwright::app {
namespace {

TEST(Window, OpensShowsTheRingAndClosesOnAVirtualDisplay) {
    const ScratchFolder folder;
    const Outcome outcome = runProgram({"xvfb-run", "-a", "-s", "-screen 0 1280x800x24", BANDWRIGHT_PROGRAM,
                                        sample("harbour"), "--close-when-shown"},
                                       {{"XDG_STATE_HOME", folder.path()},
                                        // What the display driver keeps until the end is not ours.
                                        {"ASAN_OPTIONS", "detect_leaks=0"}});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out + outcome.err, "");
}

TEST(Window, AWrongFileIsRefusedBeforeAWindowOpens) {
    const Outcome outcome = run({"none.ring.json"}, {{"DISPLAY", ""}});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("none.ring.json"), std::string::npos) << outcome.err;
}

}  // namespace
}  // namespace bandwright::app
