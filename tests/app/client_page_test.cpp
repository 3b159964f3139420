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
TEST(ClientPage, IsWrittenOrRefusedInOneSentenceWhereNothingTurnsIt) {
    const ScratchFolder folder;
    const std::filesystem::path page = folder / "page.html";
    const Outcome outcome = run({"page", sample("harbour"), "-o", page.string()});
    const bool isBuilt = !platform::dataOf("client-viewer.html").empty();
    if (isBuilt) {
        EXPECT_EQ(outcome.code, 0) << outcome.err;
    } else {
        expectRefused(outcome, "./dev web");
    }
    EXPECT_EQ(std::filesystem::exists(page), isBuilt);
}

}  // namespace
}  // namespace bandwright::app
