#include <gtest/gtest.h>

#include <filesystem>

#include "page_mark.hpp"
#include "platform/paths.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

// The vectors published with the hash (Fowler, Noll, Vo: draft-eastlake-fnv, appendix C).
TEST(ClientPage, MarkIsThePublishedHash) {
    EXPECT_EQ(pageMark(""), "cbf29ce484222325");
    EXPECT_EQ(pageMark("a"), "af63dc4c8601ec8c");
    EXPECT_EQ(pageMark("foobar"), "85944171f73967e8");
}

/// What turns the ring is built by `./dev web` alone; tests/web/turn.mjs looks at whole pages.
TEST(ClientPage, IsRefusedInOneSentenceWhereNothingTurnsIt) {
    if (!platform::dataFile("client-viewer.html").empty()) GTEST_SKIP() << "it is built here";
    const ScratchFolder folder;
    const std::filesystem::path page = folder / "page.html";
    expectRefused(run({"page", sample("harbour"), "-o", page.string()}), "./dev web");
    EXPECT_FALSE(std::filesystem::exists(page));
}

}  // namespace
}  // namespace bandwright::app
