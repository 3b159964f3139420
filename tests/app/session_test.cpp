#include "app/session.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "drawn_design.hpp"
#include "formats/stone_model.hpp"
#include "mesh_checks.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

bool same(const geometry::Section& a, const geometry::Section& b) {
    return std::ranges::equal(a, b, [](const geometry::Loop& p, const geometry::Loop& q) {
        return std::ranges::equal(p, q, [](const geometry::Segment& s, const geometry::Segment& t) {
            return s.from == t.from && s.to == t.to && s.radius == t.radius && s.tag == t.tag;
        });
    });
}

void expectSame(const Derived& shown, const Derived& derived) {
    ASSERT_EQ(shown.parts.size(), derived.parts.size());
    for (std::size_t i = 0; i < shown.parts.size(); ++i) {
        EXPECT_EQ(geometry::name(shown.parts[i]), geometry::name(derived.parts[i]));
        EXPECT_TRUE(geometry::sameBytes(shown.parts[i].mesh, derived.parts[i].mesh))
            << geometry::name(shown.parts[i]);
    }
    ASSERT_EQ(shown.bodies.size(), derived.bodies.size());
    for (std::size_t i = 0; i < shown.bodies.size(); ++i) {
        EXPECT_EQ(geometry::name(shown.bodies[i].part), geometry::name(derived.bodies[i].part));
        EXPECT_EQ(shown.bodies[i].solid.volume, derived.bodies[i].solid.volume);
        EXPECT_GT(shown.bodies[i].solid.volume, 0);
    }
    EXPECT_TRUE(same(shown.plain.band, derived.plain.band));
    EXPECT_TRUE(same(shown.plain.liner, derived.plain.liner));
    EXPECT_TRUE(std::ranges::equal(shown.plain.fills, derived.plain.fills, same));
    EXPECT_EQ(shown.plain.fillChannel, derived.plain.fillChannel);
    EXPECT_TRUE(std::ranges::equal(shown.settings, derived.settings,
                                   [](const geometry::SettingSection& a, const geometry::SettingSection& b) {
                                       return same(a.band, b.band) && same(a.liner, b.liner) &&
                                              std::ranges::equal(a.fills, b.fills, same) &&
                                              same(a.tube, b.tube) && same(a.stone, b.stone);
                                   }));
    EXPECT_EQ(shown.report.verdict, derived.report.verdict);
    EXPECT_EQ(shown.report.measures.size(), derived.report.measures.size());
    EXPECT_EQ(shown.report.bodies.size(), derived.report.bodies.size());
}

std::vector<design::Design> someDesigns() {
    std::vector<design::Design> designs;
    for (const auto& entry : std::filesystem::directory_iterator(BANDWRIGHT_MODELS)) {
        if (!entry.path().string().ends_with(".ring.json")) continue;
        designs.push_back(design::readDesign(entry.path()));
        formats::readStoneModels(designs.back(), BANDWRIGHT_MODELS);
    }
    EXPECT_GE(designs.size(), 10U);
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
        if (const auto design = check::drawn(seed)) designs.push_back(*design);
    }
    return designs;
}

TEST(Session, ShowsAtEveryStageWhatFollowsFromTheDesignThere) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    std::size_t compared = 0;
    for (const design::Design& design : someDesigns()) {
        SCOPED_TRACE(design.title);
        Session session(catalogue);
        // As during a drag. Remedies take long to find and are the same at every stage, so they are left out.
        if (session.change(design, "a drag")) continue;
        std::vector<design::Stage> walk = check::stages(session.design(), catalogue);
        std::ranges::reverse(walk);  // away from the finished ring, and back to it in the end
        walk.push_back(design::Stage::Finished);
        for (const design::Stage stage : walk) {
            SCOPED_TRACE(design::name(stage));
            if (const auto refused = session.show(stage)) {
                EXPECT_THROW(derive(session.design(), catalogue, stage, {.remedies = false}),
                             base::InputError)
                    << *refused;
                continue;
            }
            EXPECT_EQ(session.stage(), stage);
            expectSame(session.derived(), derive(session.design(), catalogue, stage, {.remedies = false}));
            ++compared;
        }
    }
    EXPECT_GT(compared, 150U);
}

/// The ring is there to be worked on, and no Save writes over the PDF; a model beside the PDF is still found.
TEST(Session, ADesignOutOfAPdfHasNoFileYet) {
    const ScratchFolder folder;
    const std::string pdf = folder / "honeycomb.pdf";
    ASSERT_EQ(run({"section", sample("honeycomb"), "-o", pdf}).code, 0);
    const std::string before = readFile(pdf);
    std::filesystem::copy(std::filesystem::path(sample("honeycomb")).parent_path() / "six-sided.obj",
                          folder.path());
    Session session(trade::builtInCatalogue());
    session.open(pdf);
    EXPECT_EQ(session.design().band, design::readDesign(sample("honeycomb")).band);
    EXPECT_TRUE(session.file().empty());
    EXPECT_TRUE(session.unsaved());
    design::Design wider = session.design();
    wider.band.width += 0.5;
    EXPECT_EQ(session.change(wider), std::nullopt);
    session.save(folder / "honeycomb.ring.json");
    EXPECT_EQ(readFile(pdf), before);
    Session again(trade::builtInCatalogue());
    again.open(folder / "honeycomb.ring.json");
    EXPECT_EQ(again.design().band.width, wider.band.width);
}

}  // namespace
}  // namespace bandwright::app
