#include "paper/flow.hpp"

#include <gtest/gtest.h>

#include <random>
#include <set>

#include "paper/typeset.hpp"
#include "random_design.hpp"

namespace bandwright::paper {
namespace {

void gather(const Element& element, std::vector<Text>& texts, bool read) {
    if (read != (element.role != Role::Decoration)) return;
    for (const Mark& mark : element.marks) {
        if (const Text* text = std::get_if<Text>(&mark)) texts.push_back(*text);
    }
    for (const Element& part : element.parts)
        gather(part, texts, read);
}

/// What is read on a page; or what is not, such as its number.
std::vector<Text> textsOf(const Page& page, bool read = true) {
    std::vector<Text> texts;
    for (const Element& element : page.elements)
        gather(element, texts, read);
    return texts;
}

/// Words "w17" in order, so that any that is lost or moved is seen.
class Words {
  public:
    std::string next(int count) {
        std::string text;
        for (int i = 0; i < count; ++i)
            text += (i > 0 ? " w" : "w") + std::to_string(made_++);
        return text;
    }
    int made() const { return made_; }

  private:
    int made_ = 0;
};

/// Content drawn by lot; its heads of tables begin with "head".
std::vector<Block> randomBlocks(std::uint64_t seed, Words& words) {
    std::mt19937_64 lot(seed);
    const auto upTo = [&](int most) {
        return static_cast<int>(lot() % static_cast<std::uint64_t>(most)) + 1;
    };
    std::vector<Block> blocks;
    for (int i = upTo(12); i > 0; --i) {
        switch (upTo(6)) {
            case 1:
                blocks.emplace_back(Heading{words.next(upTo(3)), upTo(2)});
                break;
            case 2:
                blocks.emplace_back(Tick{words.next(upTo(40))});
                break;
            case 3: {
                Table table{{{"head1", 1}, {"head2", 3}}, {}};
                for (int row = upTo(60); row > 0; --row)
                    table.rows.push_back({{words.next(1)}, {words.next(upTo(30)), true}});
                blocks.emplace_back(table);
                break;
            }
            case 4:
                blocks.emplace_back(Figure{{30.0, 10.0 * upTo(10)}, {}, "a figure", words.next(3)});
                break;
            case 5:
                if (upTo(4) == 1)
                    blocks.emplace_back(NewPage{});
                else
                    blocks.emplace_back(Space{5.0 * upTo(5)});
                break;
            default:
                blocks.emplace_back(Paragraph{words.next(upTo(300))});
        }
    }
    return blocks;
}

TEST(Flow, LosesNothingAndKeepsTheOrderWithinTheMargins) {
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(150); ++seed) {
        Words words;
        const std::vector<Block> blocks = randomBlocks(seed, words);
        const Size sheet = seed % 3 == 0 ? kA5 : kA4;
        const FlowLayout layout{.sheet = sheet};
        int next = 0;
        for (const Page& page : flow(blocks, layout)) {
            double last = 0;
            for (const Text& text : textsOf(page)) {
                std::istringstream in(text.words);
                for (std::string word; in >> word;) {
                    if (word.starts_with("head")) continue;
                    EXPECT_EQ(word, "w" + std::to_string(next)) << "seed " << seed;
                    ++next;
                }
                EXPECT_LE(text.at.y, sheet.height - layout.below) << "seed " << seed;
                EXPECT_GE(text.at.y, layout.above) << "seed " << seed;
                EXPECT_GE(text.at.x, layout.left) << "seed " << seed;
                const std::string seen = text.words.substr(0, text.words.find_last_not_of(' ') + 1);
                EXPECT_LE(text.at.x + textWidth(seen, text.style), sheet.width - layout.right + 0.01)
                    << "seed " << seed;
                last = text.at.y;
            }
            EXPECT_LE(last, sheet.height) << "seed " << seed;
        }
        EXPECT_EQ(next, words.made()) << "seed " << seed;
    }
}

TEST(Flow, PagesAreNumberedOfAll) {
    const std::vector<Page> pages =
        flow({Paragraph{"a"}, NewPage{}, Paragraph{"b"}, NewPage{}, Paragraph{"c"}}, {});
    ASSERT_EQ(pages.size(), 3U);
    for (int i = 0; i < 3; ++i)
        EXPECT_EQ(textsOf(pages[static_cast<std::size_t>(i)], false).back().words,
                  std::to_string(i + 1) + " of 3");
}

TEST(Flow, APageIsBegunOnlyWhenThereIsSomethingForIt) {
    EXPECT_EQ(flow({NewPage{}, Paragraph{"a"}}, {}).size(), 1U);
    EXPECT_EQ(flow({}, {}).size(), 1U);
}

/// The role of the last element of a page that is read.
Role lastRole(const Page& page) {
    Role last = Role::Decoration;
    for (const Element& element : page.elements) {
        if (element.role != Role::Decoration) last = element.role;
    }
    return last;
}

TEST(Flow, AHeadingIsNeverTheLastOfAPage) {
    for (int lines = 1; lines < 70; ++lines) {
        std::string text = "a";
        for (int i = 1; i < lines; ++i)
            text += "\na";
        const std::vector<Page> pages = flow({Paragraph{text}, Heading{"Next"}, Paragraph{"b\nb\nb"}}, {});
        for (const Page& page : pages)
            EXPECT_EQ(lastRole(page), Role::Paragraph) << lines;
    }
}

TEST(Flow, NoLineOfAParagraphStandsAlone) {
    for (int lines = 40; lines < 130; ++lines) {
        std::string text = "a";
        for (int i = 1; i < lines; ++i)
            text += "\na";
        const std::vector<Page> pages = flow({Paragraph{text}}, {});
        EXPECT_GE(pages.size(), lines > 65 ? 2U : 1U);
        for (const Page& page : pages)
            EXPECT_GE(textsOf(page).size(), 2U) << lines;
    }
}

TEST(Flow, EachPageOfATableBeginsWithItsHead) {
    Table table{{{"Step", 1}, {"What", 3}}, {}};
    for (int i = 0; i < 200; ++i)
        table.rows.push_back({{std::to_string(i)}, {"row"}});
    const std::vector<Page> pages = flow({Heading{"Steps"}, table}, {});
    ASSERT_GE(pages.size(), 3U);
    EXPECT_EQ(textsOf(pages[0])[1].words, "Step");
    for (std::size_t i = 1; i < pages.size(); ++i) {
        const std::vector<Text> texts = textsOf(pages[i]);
        EXPECT_EQ(texts[0].words, "Step");
        EXPECT_EQ(texts[1].words, "What");
        EXPECT_EQ(texts[0].style.weight, Weight::SemiBold);
        EXPECT_EQ(texts[3].words, "row");
    }
}

TEST(Typeset, LinesAreNoWiderThanAskedAndNothingIsLost) {
    const std::string words =
        "Channels packed with crushed stone, bevels, comfort bores and Ø 4.50 tubes — ä 漢字 end";
    for (double width = 8; width < 120; width += 3.7) {
        std::string all;
        for (const std::string& line : wrapped(words, {}, width)) {
            std::string seen = line;
            while (seen.ends_with(' '))
                seen.pop_back();
            EXPECT_LE(textWidth(seen, {}), width + 0.01) << seen;
            all += line;
        }
        EXPECT_EQ(all, words) << width;
    }
}

TEST(Typeset, DigitsAreAllOfOneWidth) {
    std::set<double> widths;
    for (char digit = '0'; digit <= '9'; ++digit)
        widths.insert(textWidth(std::string(10, digit), {}));
    EXPECT_EQ(widths.size(), 1U);
}

/// Inter's own tables give capitals 1490 of 2048 units (read by memory of its design files; FreeType's OS/2
/// table of the installed font says the same share).
TEST(Typeset, LetteringIsNamedByTheHeightOfItsCapitals) {
    EXPECT_NEAR(capitalHeight(), 1490.0 / 2048, 0.003);
    EXPECT_NEAR(emOfCapitals(2.5) * capitalHeight(), 2.5, 1e-12);
}

}  // namespace
}  // namespace bandwright::paper
