#include <gtest/gtest.h>

#include <cmath>

#include "bench_job.hpp"
#include "plain_ring.hpp"
#include "route/shown.hpp"

namespace bandwright::route {
namespace {

/// All outlines there are at a stage: the turned bodies, and what stands in the plane through each hole.
std::vector<geometry::Segment> outlinesAt(const design::Design& design, design::Stage stage,
                                          const geometry::Workpiece& piece) {
    std::vector<geometry::Segment> all;
    const auto add = [&](const geometry::Section& section) {
        for (const geometry::Loop& loop : section)
            all.insert(all.end(), loop.begin(), loop.end());
    };
    const geometry::RingSections plain = geometry::sections(design, piece);
    add(plain.band);
    add(plain.liner);
    for (const geometry::Section& fill : plain.fills)
        add(fill);
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const geometry::SettingSection through = geometry::sectionThrough(design, i, stage);
        add(through.band);
        add(through.liner);
        for (const geometry::Section& fill : through.fills)
            add(fill);
        add(through.tube);
        add(through.stone);
    }
    return all;
}

double nearest(const std::vector<geometry::Segment>& outlines, geometry::Vec2 at, geometry::Tag tag) {
    double best = 1e9;
    for (const geometry::Segment& s : outlines)
        if (s.tag == tag) best = std::min(best, geometry::distance(geometry::nearestOn(s, at), at));
    return best;
}

double between(const Reading& reading) {
    switch (reading.span) {
        case Span::Diameter:
            return 2 * reading.from.r + reading.loose;
        case Span::Along:
        case Span::HoleDiameter:
            return std::abs(reading.to.z - reading.from.z);
        case Span::Radial:
            return std::abs(reading.to.r - reading.from.r);
        case Span::Angle:
        case Span::Mass:
            break;
    }
    return reading.value;
}

bool isOfTheBench(design::Stage stage) {
    switch (stage) {
        case design::Stage::Drilled:
        case design::Stage::Filled:
        case design::Stage::Polished:
        case design::Stage::Etched:
        case design::Stage::Joined:
        case design::Stage::Set:
        case design::Stage::Closed:
        case design::Stage::Finished:
            return true;
        default:
            return false;
    }
}

/// The operations of the bench, each with the stage after which it is read.
void expectOnTheRing(const design::Design& design, std::uint64_t seed, int& seen) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    const check::Report report = check::check(design, catalogue, {.remedies = false, .resizing = false});
    const trade::Workshop workshop;
    for (const StageWork& work : plan(design, catalogue, workshop, report).stages) {
        if (!isOfTheBench(work.stage)) continue;
        EXPECT_GT(work.mass, 0) << seed << design::name(work.stage);
        const auto outlines =
            outlinesAt(design, work.stage, inThisWorkshop(design, catalogue, workshop, work.stage));
        for (const Operation& op : work.operations) {
            EXPECT_FALSE(op.doing.empty()) << seed << op.name;
            EXPECT_FALSE(op.hold.empty()) << seed << op.name;
            for (const Reading& r : op.readings) {
                SCOPED_TRACE(std::to_string(seed) + ", " + op.name + ": " + r.what);
                EXPECT_LE(r.least, r.value);
                EXPECT_GE(r.most, r.value);
                if (r.span == Span::Mass || r.span == Span::Angle) continue;
                EXPECT_NEAR(r.value, between(r), 1e-9);
                EXPECT_LT(nearest(outlines, r.from, r.fromTag), 1e-6);
                EXPECT_LT(nearest(outlines, r.to, r.toTag), 1e-6);
                ++seen;
            }
        }
    }
}

TEST(BenchReadingsByLot, LieOnTheRingAsItIsThen) {
    int seen = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(120); ++seed)
        if (const auto design = whole(seed)) expectOnTheRing(*design, seed, seen);
    EXPECT_GT(seen, 2 * static_cast<int>(geometry::designsToDraw(120)));
}

TEST(BenchReadings, SeatsShowTheRoomTheyHave) {
    // A seat that is to fit is held to half of IT7 either way, ISO 286-1: 6 um from 3 to 6 mm.
    design::Design design = check::plainRing();
    design.settings = {design::Setting{}};
    design.settings[0].hole.steps[0].diameter = 4.5;
    const BenchJob bench(design, design::Stage::Drilled);
    for (const Operation& op : drillHoles(bench.job))
        for (const Reading& r : op.readings)
            if (r.what == "Seat") {
                EXPECT_EQ(shown(r).value, "4.500");
                EXPECT_EQ(shown(r).least, "4.494");
                EXPECT_EQ(shown(r).most, "4.506");
                return;
            }
    FAIL() << "no reading of the seat";
}

TEST(BenchReadings, WeighTheRingAsTheScalesWill) {
    // Pappus: a plain tube of 20 and 24.8 mm, 8 wide, of 4.42 g/cm3.
    const design::Design design = check::plainRing();
    const BenchJob bench(design, design::Stage::Finished);
    const std::vector<Operation> operations = finish(bench.job);
    const double mass = std::acos(-1) * (12.4 * 12.4 - 100) * 8 * 4.42e-3;
    ASSERT_FALSE(operations[0].readings.empty());
    const Reading& scales = operations[0].readings[0];
    EXPECT_NEAR(scales.value, mass, 1e-9);
    // ISO 2768-1 medium: 8 mm +- 0.2, 2.4 mm +- 0.1; as a root of squares.
    EXPECT_NEAR(scales.most - scales.value, mass * std::hypot(0.2 / 8, 0.1 / 2.4), 1e-9);
}

}  // namespace
}  // namespace bandwright::route
