// The window gauges and builds on two threads, and several windows or programs may share the caches of one
// process. The results must not depend on what else runs. ThreadSanitizer (./dev threads) also finds races
// that fail only rarely.

#include <gtest/gtest.h>

#include <filesystem>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include "app/report_text.hpp"
#include "app/session.hpp"
#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::app {
namespace {

constexpr std::size_t kThreads = 3;

/// Runs work(i) for each thread at once.
void atOnce(const std::function<void(std::size_t)>& work) {
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < kThreads; ++i)
        threads.emplace_back(work, i);
    for (std::thread& thread : threads)
        thread.join();
}

std::vector<design::Design> samples() {
    const std::filesystem::path folder = BANDWRIGHT_MODELS;
    std::vector<design::Design> designs;
    for (const char* name : {"first-frost", "harbour", "tide-mill"}) {
        designs.push_back(design::readDesign(folder / (std::string(name) + ".ring.json")));
        formats::readStoneModels(designs.back(), folder);
    }
    return designs;
}

/// What a person reads of a ring, and how many bodies there are.
std::string told(const design::Design& design, const Derived& derived) {
    return reportJson(design, derived.report, trade::builtInCatalogue()) +
           std::to_string(derived.parts.size());
}

TEST(AtOnce, DerivedRingsAreWhatTheyAreOneAfterAnother) {
    const std::vector<design::Design> designs = samples();
    std::vector<std::vector<Derived>> found(kThreads);
    for (auto& of : found)
        of.resize(designs.size());
    // First all threads run at once, each starting at another ring, so that they meet while the caches are
    // empty.
    atOnce([&](std::size_t thread) {
        for (std::size_t i = 0; i < designs.size(); ++i) {
            const std::size_t ring = (i + 2 * thread) % designs.size();
            found[thread][ring] = derive(designs[ring], trade::builtInCatalogue(), design::Stage::Finished);
        }
    });
    for (std::size_t ring = 0; ring < designs.size(); ++ring) {
        const Derived alone = derive(designs[ring], trade::builtInCatalogue(), design::Stage::Finished);
        for (const auto& of : found) {
            EXPECT_EQ(told(designs[ring], of[ring]), told(designs[ring], alone));
            ASSERT_EQ(of[ring].parts.size(), alone.parts.size());
            for (std::size_t i = 0; i < alone.parts.size(); ++i)
                EXPECT_TRUE(geometry::sameBytes(of[ring].parts[i].mesh, alone.parts[i].mesh));
        }
    }
}

TEST(AtOnce, SessionsDoNotDisturbEachOther) {
    const std::vector<design::Design> designs = samples();
    std::vector<std::string> found(kThreads);
    const auto worked = [&](std::size_t first) {
        Session session(trade::builtInCatalogue(), designs[first]);
        design::Design wider = session.design();
        wider.band.width += 0.1;
        std::string all = told(session.design(), session.derived());
        all += session.change(wider, "width").value_or("");
        session.settle();
        session.undo();
        for (const design::Stage stage : {design::Stage::Turned, design::Stage::Finished}) {
            all += session.show(stage).value_or("");
            all += told(session.design(), session.derived());
        }
        return all;
    };
    atOnce([&](std::size_t thread) { found[thread] = worked(thread % 2); });
    for (std::size_t thread = 0; thread < kThreads; ++thread)
        EXPECT_EQ(found[thread], worked(thread % 2));
}

TEST(AtOnce, RingsDrawnByLotHaveTheirMeasures) {
    constexpr std::uint64_t kRings = 3;
    std::vector<std::vector<std::string>> found(kThreads, std::vector<std::string>(kRings));
    const auto gauged = [](std::uint64_t seed) -> std::string {
        const design::Design design = geometry::randomDesign(seed);
        try {
            // Remedies are the same check many hundred times over; the sessions seek them.
            const check::CheckOptions options{.remedies = false, .resizing = true};
            return reportJson(design, check::check(design, trade::builtInCatalogue(), options),
                              trade::builtInCatalogue());
        } catch (const std::exception& refused) {
            return refused.what();
        }
    };
    atOnce([&](std::size_t thread) {
        for (std::uint64_t seed = 0; seed < kRings; ++seed)
            found[thread][seed] = gauged(seed);
    });
    for (std::uint64_t seed = 0; seed < kRings; ++seed) {
        const std::string alone = gauged(seed);
        for (const auto& of : found)
            EXPECT_EQ(of[seed], alone) << seed;
    }
}

}  // namespace
}  // namespace bandwright::app
