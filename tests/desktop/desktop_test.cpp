// The program as it is installed. Each file is held to a reader of its own: desktop-file-validate,
// appstreamcli, update-mime-database and gio, mandoc, bash.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <regex>
#include <sstream>

#include "program.hpp"

namespace bandwright::app {
namespace {

namespace fs = std::filesystem;

/// What `cmake --install` puts into a folder; made once.
const fs::path& installed() {
    static const ScratchFolder folder;
    static const Outcome outcome =
        runProgram({BANDWRIGHT_CMAKE, "--install", BANDWRIGHT_BUILD, "--prefix", (folder / "usr").string()});
    static const fs::path usr = folder / "usr";
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return usr;
}

std::string program() {
    return (installed() / "bin/bandwright").string();
}

void expectValid(const std::vector<std::string>& command) {
    const Outcome outcome = runProgram(command);
    EXPECT_EQ(outcome.code, 0) << command.front();
    EXPECT_EQ(outcome.out + outcome.err, "") << command.front();
}

/// What bash offers after these words; the last is the one being typed.
std::vector<std::string> offered(const std::vector<std::string>& words, const fs::path& folder) {
    std::string script = "cd " + folder.string() + "; source " +
                         (installed() / "share/bash-completion/completions/bandwright").string() +
                         "; COMP_WORDS=(";
    for (const std::string& word : words)
        script += " '" + word + "'";
    script += "); COMP_CWORD=" + std::to_string(words.size() - 1) +
              "; _bandwright; printf '%s\\n' \"${COMPREPLY[@]}\"";
    const Outcome outcome = runProgram({"bash", "-c", script});
    EXPECT_EQ(outcome.err, "");
    std::vector<std::string> offers;
    std::istringstream lines(outcome.out);
    for (std::string line; std::getline(lines, line);)
        if (!line.empty()) offers.push_back(line);
    std::ranges::sort(offers);
    return offers;
}

using Words = std::vector<std::string>;

TEST(Desktop, FilesAreValidByTheirOwnCheckers) {
    const fs::path share = installed() / "share";
    expectValid(
        {"desktop-file-validate", (share / "applications/org.bandwright.Bandwright.desktop").string()});
    const Outcome stream = runProgram({"appstreamcli", "validate", "--no-net",
                                       (share / "metainfo/org.bandwright.Bandwright.metainfo.xml").string()});
    EXPECT_EQ(stream.code, 0) << stream.out;
}

TEST(Desktop, TakesADesignForWhatItIs) {
    const ScratchFolder folder;
    fs::create_directories(folder / "mime/packages");
    fs::copy(installed() / "share/mime/packages/bandwright.xml", folder / "mime/packages");
    fs::copy("/usr/share/mime/packages/freedesktop.org.xml", folder / "mime/packages");
    EXPECT_EQ(
        runProgram({"update-mime-database", (folder / "mime").string()}, {{"PKGSYSTEM_ENABLE_FSYNC", "0"}})
            .code,
        0);
    const auto kindOf = [&](const std::string& file) {
        return runProgram(
                   {"gio", "info", "-a", "standard::content-type", file},
                   {{"XDG_DATA_DIRS", folder.path().string()}, {"XDG_DATA_HOME", folder.path().string()}})
            .out;
    };
    EXPECT_NE(kindOf(sample("harbour")).find("application/x-bandwright-ring+json"), std::string::npos);
    EXPECT_EQ(kindOf(BANDWRIGHT_MODELS "/my-limits.json").find("bandwright"), std::string::npos);
}

TEST(Desktop, ShowsDesignsAsTheirPictures) {
    const std::string entry = readFile(installed() / "share/thumbnailers/bandwright.thumbnailer");
    std::smatch found;
    ASSERT_TRUE(std::regex_search(entry, found, std::regex("Exec=bandwright (.*)\n")));
    const ScratchFolder folder;
    const std::string picture = folder / "thumbnail.png";
    std::vector<std::string> command{program()};
    std::istringstream words(found[1]);
    for (std::string word; words >> word;)
        command.push_back(word == "%i"   ? sample("harbour")
                          : word == "%o" ? picture
                          : word == "%s" ? "128"
                                         : word);
    EXPECT_EQ(runProgram(command).code, 0);
    const Outcome kind = runProgram({"file", picture});
    EXPECT_NE(kind.out.find("PNG image data, 128 x 128"), std::string::npos) << kind.out;
}

TEST(Installed, RunsWithoutTheBuild) {
    const Outcome said = runProgram({"readelf", "-d", program()});
    EXPECT_NE(said.out.find("$ORIGIN/../lib"), std::string::npos) << said.out;
    EXPECT_EQ(said.out.find(BANDWRIGHT_BUILD), std::string::npos) << said.out;
    const ScratchFolder folder;
    const Outcome step =
        runProgram({program(), "export", (installed() / "share/bandwright/models/harbour.ring.json").string(),
                    "-o", folder / "harbour.step"});
    EXPECT_EQ(step.code, 0) << step.err;
    EXPECT_TRUE(readFile(folder / "harbour.step").starts_with("ISO-10303-21;"));
}

TEST(ManPage, IsReadWithoutAWarningAndHasEveryOption) {
    const std::string page = (installed() / "share/man/man1/bandwright.1.gz").string();
    expectValid({"mandoc", "-T", "lint", "-W", "warning", page});
    const std::string text = runProgram({"mandoc", "-T", "ascii", "-O", "width=1000", page}).out;
    std::string plain;  // without the printer's way of striking twice
    for (const char sign : text)
        sign == '\b' ? plain.pop_back() : plain.push_back(sign);
    std::string every = runProgram({program(), "--help"}).out;
    const std::regex command("\n  ([a-z]+)  +[A-Z]");
    int commands = 0;
    const std::string listed = every.substr(every.find("Subcommands:"));
    for (std::sregex_iterator i(listed.begin(), listed.end(), command), end; i != end; ++i, ++commands) {
        EXPECT_NE(plain.find("bandwright " + (*i)[1].str() + "\n"), std::string::npos) << (*i)[1];
        every += runProgram({program(), (*i)[1], "--help"}).out;
    }
    EXPECT_GE(commands, 15);
    const std::regex option("--[a-z-]+");
    for (std::sregex_iterator i(every.begin(), every.end(), option), end; i != end; ++i)
        EXPECT_NE(plain.find(i->str()), std::string::npos) << i->str();
}

TEST(Completion, OffersWhatMayFollow) {
    const ScratchFolder folder;
    writeFile(folder / "moor.ring.json", "{}");
    writeFile(folder / "moor.txt", "");
    EXPECT_EQ(offered({"bandwright", "ch"}, folder.path()), Words{"check"});
    EXPECT_EQ(offered({"bandwright", "mo"}, folder.path()), Words{"moor.ring.json"});
    EXPECT_EQ(offered({"bandwright", "check", "--a"}, folder.path()),
              (Words{"--all", "--allow-outside", "--at"}));
    EXPECT_EQ(offered({"bandwright", "check", "m"}, folder.path()), Words{"moor.ring.json"});
    EXPECT_EQ(offered({"bandwright", "sheet", "x.ring.json", "--paper", "a"}, folder.path()),
              (Words{"a4", "a5"}));
    EXPECT_EQ(offered({"bandwright", "sheet", "x.ring.json", "-o", "m"}, folder.path()),
              (Words{"moor.ring.json", "moor.txt"}));
}

}  // namespace
}  // namespace bandwright::app
