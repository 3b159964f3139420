// One call over many designs, by the program itself.

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <tuple>
#include <utility>

#include "program.hpp"

namespace bandwright::app {
namespace {

using Json = nlohmann::json;

TEST(ManyDesigns, AreJsonLinesInTheirOrderAndGoOnWhereTheyStopped) {
    const ScratchFolder folder;
    writeFile(folder / "bad.ring.json", "{");
    const std::vector<std::string> files = {sample("harbour"), folder / "bad.ring.json", sample("shallows"),
                                            sample("tide-mill")};
    std::vector<std::string> call = {"check", "--json"};
    call.insert(call.end(), files.begin(), files.end());
    const Outcome all = run(call);
    EXPECT_EQ(all.code, 2);
    const std::vector<int> codes = {0, 2, 1, 0};
    std::istringstream lines(all.out);
    std::string line;
    for (std::size_t i = 0; i < files.size(); ++i) {
        ASSERT_TRUE(std::getline(lines, line)) << i;
        const Json object = Json::parse(line);
        EXPECT_EQ(object["file"], files[i]);
        EXPECT_EQ(object["code"], codes[i]) << line;
    }
    // As a crash in the second line leaves it.
    writeFile(folder / "lines", all.out.substr(0, all.out.find('\n') + 20));
    call.insert(call.end(), {"--into", folder / "lines"});
    EXPECT_EQ(run(call).code, 2);
    EXPECT_EQ(readFile(folder / "lines"), all.out);
    std::swap(call[2], call[4]);
    expectRefused(run(call), "its line 1 is not of the file");
    EXPECT_EQ(readFile(folder / "lines"), all.out);
}

/// What one call tells of two designs is what two calls tell of one each.
TEST(ManyDesigns, AreEachToldAsOneIs) {
    const std::vector<std::string> files = {sample("harbour"), sample("tide-mill")};
    for (const std::string command : {"weigh", "route", "quote"}) {
        const Outcome all = run({command, "--json", files[0], files[1]});
        EXPECT_EQ(all.code, 0) << all.err;
        std::istringstream lines(all.out);
        std::string line;
        for (const std::string& file : files) {
            ASSERT_TRUE(std::getline(lines, line)) << command;
            Json object = Json::parse(line);
            EXPECT_EQ(object["file"], file);
            EXPECT_EQ(object["code"], 0);
            object.erase("file");
            object.erase("code");
            Json alone = Json::parse(run({command, "--json", file}).out);
            alone.erase("file");
            EXPECT_EQ(object, alone) << command;
        }
        expectRefused(run({command, files[0], files[1]}), command + ": several files are told as JSON lines");
    }
}

TEST(ManyDesigns, HaveAFileEach) {
    const ScratchFolder folder;
    const std::vector<std::string> files = {sample("harbour"), sample("shallows")};
    const auto call = [&](const std::string& command, const std::string& out,
                          const std::vector<std::string>& more) {
        std::vector<std::string> words = {command, files[0], files[1], "-o", out};
        words.insert(words.end(), more.begin(), more.end());
        return run(words);
    };
    const std::vector<std::string> small = {"--width", "64", "--height", "64"};
    for (const auto& [command, ending, more] :
         {std::tuple("section", ".dxf", std::vector<std::string>{}),
          std::tuple("certificate", ".pdf", std::vector<std::string>{"--date", "2026-11-27"}),
          std::tuple("mend", ".ring.json", std::vector<std::string>{})}) {
        const std::string out = folder / ("{}-" + std::string(command) + ending);
        const Outcome all = call(command, out, more);
        EXPECT_LE(all.code, 1) << all.err;
        for (const std::string name : {"harbour", "shallows"})
            EXPECT_FALSE(readFile(folder / (name + "-" + command + ending)).empty()) << all.out;
        expectRefused(call(command, folder / ("one" + std::string(ending)), more), "it must hold {}");
    }
    const Outcome pictures = call("picture", folder / "{}.png", small);
    EXPECT_EQ(pictures.code, 0) << pictures.out;
    run({"picture", files[1], "-o", folder / "alone.png", "--width", "64", "--height", "64"});
    EXPECT_EQ(readFile(folder / "shallows.png"), readFile(folder / "alone.png"));
}

}  // namespace
}  // namespace bandwright::app
