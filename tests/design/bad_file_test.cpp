#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "file_contents.hpp"

namespace bandwright::design {
namespace {

namespace fs = std::filesystem;

std::string refusal(const std::string& text, const std::string& name) {
    try {
        parseDesign(text, name);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return name + ": was read";
}

std::string harbour() {
    return contents(fs::path(BANDWRIGHT_MODELS) / "harbour.ring.json");
}

/// Whether the text can be printed as it is: one line, no control characters, valid UTF-8.
bool isOneSentence(const std::string& message) {
    for (const char c : message)
        if (static_cast<unsigned char>(c) < 0x20) return false;
    return !message.empty() && message.size() < 800;
}

// bad/sentences.txt holds the sentence for every file beside it; a new pair of file and line is a new case.
TEST(BadFile, EachGetsItsOneSentence) {
    const fs::path folder = fs::path(BANDWRIGHT_TESTS) / "design/bad";
    std::set<std::string> expected;
    std::ifstream lines(folder / "sentences.txt");
    for (std::string line; std::getline(lines, line);)
        expected.insert(line);
    std::set<std::string> said;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".json")
            said.insert(refusal(contents(entry.path()), entry.path().filename().string()));
    ASSERT_GE(said.size(), 40U);
    for (const std::string& sentence : said)
        EXPECT_TRUE(expected.contains(sentence)) << sentence;
    for (const std::string& sentence : expected)
        EXPECT_TRUE(said.contains(sentence)) << "never said: " << sentence;
}

TEST(BadFile, AFileThatIsNotThereIsNamed) {
    EXPECT_THROW(
        {
            try {
                readDesign("no-such.ring.json");
            } catch (const base::InputError& error) {
                EXPECT_STREQ(error.what(), "no-such.ring.json: cannot be opened: No such file or directory");
                throw;
            }
        },
        base::InputError);
}

TEST(BadFile, AFolderIsNamed) {
    EXPECT_THROW(
        {
            try {
                readDesign(BANDWRIGHT_MODELS);
            } catch (const base::InputError& error) {
                EXPECT_EQ(std::string(error.what()),
                          std::string(BANDWRIGHT_MODELS) + ": is a folder; a design file is needed");
                throw;
            }
        },
        base::InputError);
}

/// Nobody may ever write into a pipe, and a device may never end: neither is opened.
TEST(BadFile, APipeOrADeviceIsNamedAndNotWaitedFor) {
    const fs::path pipe = fs::temp_directory_path() / ("bandwright-pipe-" + std::to_string(::getpid()));
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    for (const fs::path& file : {pipe, fs::path("/dev/zero")}) {
        std::string said;
        try {
            readDesign(file);
        } catch (const base::InputError& error) {
            said = error.what();
        }
        EXPECT_EQ(said, file.string() + ": is a pipe or a device; a design file is needed");
    }
    fs::remove(pipe);
}

/// U+202E turns a printed line round, U+2028 ends one, and U+009B begins a terminal's command.
TEST(BadFile, ATitleWithAMarkThatHidesIsRefused) {
    for (const char* mark : {"\u202e", "\u2066", "\u200f", "\u2028", "\u009b"}) {
        const std::string text = std::string(R"({"bandwright": 1, "title": "a)") + mark + "b\"}";
        EXPECT_NE(refusal(text, "x").find("title is text with a mark that hides"), std::string::npos) << text;
    }
    EXPECT_EQ(parseDesign(R"({"bandwright": 1, "title": "ä–שלום"})", "x").title, "ä–שלום");
}

TEST(BadFile, NestingBeyondTheLimitIsRefused) {
    for (const char* bracket : {"[", "{\"a\":"}) {
        std::string text;
        for (int i = 0; i < 20000; ++i)
            text += bracket;
        EXPECT_NE(refusal(text, "x").find("lists and objects are nested deeper than 32"), std::string::npos);
    }
}

TEST(BadFile, TooManyItemsAreCounted) {
    std::string text = R"({"bandwright": 1, "channels": [{})";
    for (int i = 0; i < 999; ++i)
        text += ",{}";
    EXPECT_EQ(refusal(text + "]}", "x"), "x:1:31: channels is a list of 1000; allowed: a list of at most 16");
}

TEST(BadFile, EveryPrefixOfASampleIsRefused) {
    const std::string whole = harbour();
    const std::size_t end = whole.find_last_of('}') + 1;
    for (std::size_t length = 0; length < end; ++length) {
        const std::string said = refusal(whole.substr(0, length), "x");
        ASSERT_EQ(said.find("was read"), std::string::npos) << length;
        ASSERT_TRUE(isOneSentence(said)) << length << ": " << said;
    }
}

/// The text either reads as a design that can be written again, or is refused in one sentence.
void expectReadOrRefused(const std::string& text) {
    try {
        const Design design = parseDesign(text, "x");
        EXPECT_EQ(parseDesign(formatDesign(design), "x"), design);
    } catch (const base::InputError& error) {
        EXPECT_TRUE(isOneSentence(error.what())) << error.what();
    }
}

TEST(BadFile, RandomBytesInPlaceOfOthersNeverCrash) {
    const std::string whole = harbour();
    std::mt19937 random(20240229);
    for (int round = 0; round < 5000; ++round) {
        std::string text = whole;
        const auto changes = 1 + random() % 4;
        for (unsigned i = 0; i < changes; ++i)
            text[random() % text.size()] = static_cast<char>(random() % 256);
        expectReadOrRefused(text);
    }
}

TEST(BadFile, PiecesCutOutAndPutInElsewhereNeverCrash) {
    const std::string whole = harbour();
    std::mt19937 random(20240301);
    for (int round = 0; round < 5000; ++round) {
        std::string text = whole;
        const std::string piece = text.substr(random() % text.size(), random() % 60);
        if (random() % 2 == 0) text.erase(random() % text.size(), random() % 60);
        text.insert(random() % text.size(), piece);
        expectReadOrRefused(text);
    }
}

TEST(BadFile, SignsOfJsonInAnyOrderNeverCrash) {
    constexpr std::string_view kSigns[] = {"{",
                                           "}",
                                           "[",
                                           "]",
                                           ",",
                                           ":",
                                           "\"",
                                           "\"a\"",
                                           "1",
                                           "-",
                                           "1e9",
                                           ".5",
                                           "true",
                                           "null",
                                           "\\u",
                                           "/*",
                                           "\n",
                                           " ",
                                           "NaN",
                                           "\xFF",
                                           "½",
                                           "\"band\"",
                                           "\"bandwright\"",
                                           "1e999",
                                           "00",
                                           "\t"};
    std::mt19937 random(20240302);
    for (int round = 0; round < 20000; ++round) {
        std::string text = round % 2 == 0 ? "" : "{\"bandwright\":1,";
        const auto count = random() % 12;
        for (unsigned i = 0; i < count; ++i)
            text += kSigns[random() % std::size(kSigns)];
        expectReadOrRefused(text);
    }
}

}  // namespace
}  // namespace bandwright::design
