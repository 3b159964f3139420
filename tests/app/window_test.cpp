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

TEST(Window, OpensWhereTheDisplayKnowsNoGlx) {
    const ScratchFolder folder;
    const Outcome outcome =
        runProgram({"xvfb-run", "-a", "-s", "-screen 0 1280x800x24 -extension GLX", BANDWRIGHT_PROGRAM,
                    sample("harbour"), "--close-when-shown"},
                   {{"XDG_STATE_HOME", folder.path()}, {"ASAN_OPTIONS", "detect_leaks=0"}});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
}

TEST(Window, SaysInAWindowOfAnotherKindThatTheDisplayIsTooOld) {
    const ScratchFolder folder;
    // xdotool finds the window by its title and presses a key in it; Mesa then offers nothing newer than 3.3.
    const std::string script =
        std::string("'") + BANDWRIGHT_PROGRAM + "' '" + sample("harbour") +
        "' & bandwright=$!; for i in $(seq 600); do kill -0 $bandwright 2>/dev/null || break; "
        "xdotool search --name '^Bandwright$' key Escape >/dev/null 2>&1; sleep 0.1; done; wait $bandwright";
    const Outcome outcome =
        runProgram({"xvfb-run", "-a", "-s", "-screen 0 1280x800x24", "bash", "-c", script},
                   {{"XDG_STATE_HOME", folder.path()},
                    {"MESA_GL_VERSION_OVERRIDE", "3.3"},
                    {"ASAN_OPTIONS", "detect_leaks=0"}});
    EXPECT_EQ(outcome.code, 2) << outcome.err;
    EXPECT_NE(outcome.err.find("cannot show OpenGL 4.1"), std::string::npos) << outcome.err;
}

TEST(Window, AWrongFileIsRefusedBeforeAWindowOpens) {
    const Outcome outcome = run({"none.ring.json"}, {{"DISPLAY", ""}});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("none.ring.json"), std::string::npos) << outcome.err;
}

}  // namespace
}  // namespace bandwright::app
