// Where a tag leads: the numbers it names are looked up and changed in the design itself.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "formats/stone_model.hpp"
#include "is_buildable.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

std::vector<design::Design> samples() {
    const std::filesystem::path folder(BANDWRIGHT_MODELS);
    std::vector<design::Design> result;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        if (!entry.path().string().ends_with(".ring.json")) continue;
        result.push_back(design::readDesign(entry.path()));
        formats::readStoneModels(result.back(), folder);
    }
    return result;
}

void add(std::vector<Segment>& all, const Section& section) {
    for (const Loop& loop : section)
        all.insert(all.end(), loop.begin(), loop.end());
}

std::vector<Segment> plainSegments(const design::Design& design, design::Stage stage) {
    const RingSections plain = sections(design, stage);
    std::vector<Segment> all;
    add(all, plain.band);
    add(all, plain.liner);
    for (const Section& fill : plain.fills)
        add(all, fill);
    return all;
}

std::vector<Segment> segmentsThrough(const design::Design& design, std::size_t setting, design::Stage stage) {
    const SettingSection through = sectionThrough(design, setting, stage);
    std::vector<Segment> all;
    for (const Section& section : {through.band, through.liner, through.tube, through.stone})
        add(all, section);
    for (const Section& fill : through.fills)
        add(all, fill);
    return all;
}

std::vector<Segment> allSegments(const design::Design& design, design::Stage stage) {
    std::vector<Segment> all = plainSegments(design, stage);
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const std::vector<Segment> through = segmentsThrough(design, i, stage);
        all.insert(all.end(), through.begin(), through.end());
    }
    return all;
}

/// Every number of a design, and the only other field that tags lead to.
void expectField(const design::Design& design, Tag tag) {
    const std::string field = fieldOf(design, tag);
    EXPECT_TRUE(field == "finger.size" || design::numberAt(design, field) != nullptr)
        << name(tag.feature) << " leads to " << field;
}

void expectFields(const design::Design& design, design::Stage stage) {
    for (const Segment& s : allSegments(design, stage))
        expectField(design, s.tag);
    // While the outside is not turned yet, holes that are apart later may meet.
    for (const Part& part : partsOf(design, stage, {base::Micrometres(50)}).value_or(std::vector<Part>())) {
        for (const MeshFace& face : part.mesh.faces)
            expectField(design, face.tag);
    }
}

TEST(Features, OfADesignByLotLeadToFieldsThatItHas) {
    std::size_t built = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(200); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!partsOf(design, design::Stage::Finished, {base::Micrometres(50)})) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        ++built;
        for (const design::Stage stage :
             {design::Stage::Blank, design::Stage::Drilled, design::Stage::Finished})
            expectFields(design, stage);
        if (HasFailure()) return;
    }
    EXPECT_GT(built, designsToDraw(200) / 4);
}

TEST(Features, OfTheSamplesLeadToFieldsThatTheyHave) {
    const std::vector<design::Design> all = samples();
    EXPECT_GE(all.size(), 10U);
    for (const design::Design& design : all) {
        SCOPED_TRACE(design.title);
        expectFields(design, design::Stage::Finished);
    }
}

std::vector<Segment> tagged(const std::vector<Segment>& segments, Tag tag) {
    std::vector<Segment> result;
    std::copy_if(segments.begin(), segments.end(), std::back_inserter(result),
                 [&](const Segment& s) { return s.tag == tag; });
    return result;
}

bool sameCurves(const std::vector<Segment>& a, const std::vector<Segment>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Segment& s, const Segment& t) {
        return s.from == t.from && s.to == t.to && s.radius == t.radius;
    });
}

/// Changes the number a tag leads to and returns whether the surfaces with that tag have moved; nothing if no
/// ring can be made with the change.
std::optional<bool> moves(const design::Design& design, Tag tag, const std::vector<Segment>& before) {
    for (const double by : {0.013, -0.013}) {
        design::Design turned = design;
        *design::numberAt(turned, fieldOf(design, tag)) += by;
        if (isBuildable(turned))
            return !sameCurves(tagged(before, tag),
                               tagged(allSegments(turned, design::Stage::Finished), tag));
    }
    return std::nullopt;
}

/// Of every feature of the finished ring that a number moves; those that were seen are added.
void expectToMove(const design::Design& design, std::set<Feature>& seen) {
    const std::vector<Segment> before = allSegments(design, design::Stage::Finished);
    std::vector<Tag> done;
    for (const Segment& s : before) {
        // A tube's lower end and a stone's flat base stay on what they stand on.
        const bool stands =
            s.tag.feature == Feature::TubeEnd || fieldOf(design, s.tag).ends_with(".stone.girdle");
        if (stands || s.tag.feature == Feature::Bore) continue;
        if (std::find(done.begin(), done.end(), s.tag) != done.end()) continue;
        done.push_back(s.tag);
        const auto moved = moves(design, s.tag, before);
        if (!moved) continue;
        EXPECT_TRUE(*moved) << name(s.tag.feature) << " does not move with " << fieldOf(design, s.tag);
        seen.insert(s.tag.feature);
    }
}

TEST(Features, MoveWithTheFieldTheyLeadTo) {
    std::set<Feature> seen;
    for (std::uint64_t seed = 0; seed < designsToDraw(120); ++seed) {
        const design::Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        expectToMove(design, seen);
        if (HasFailure()) return;
    }
    EXPECT_GE(seen.size(), 25U);
}

TEST(Features, OfAFillThatEndsOnTheEdgeFaceMove) {
    constexpr std::uint64_t kEndsOnTheEdgeFace = 717;
    const design::Design design = randomDesign(kEndsOnTheEdgeFace);
    ASSERT_TRUE(isBuildable(design));
    std::set<Feature> seen;
    expectToMove(design, seen);
    EXPECT_TRUE(seen.contains(Feature::EdgeFace));
}

TEST(Features, OfEachChannelSideAndStepAreTheirOwn) {
    const design::Design design;
    EXPECT_EQ(fieldOf(design, {Feature::ChannelSide, 1, Side::Left}), "channels[1].width");
    EXPECT_EQ(fieldOf(design, {Feature::ChannelSide, 1, Side::Right}), "channels[1].width");
    EXPECT_EQ(fieldOf(design, {Feature::Seat, 2, Side::None, 1}), "settings[2].hole.steps[1].diameter");
    EXPECT_EQ(fieldOf(design, {Feature::Bevel, Side::Left}), "band.left.width");
    EXPECT_EQ(fieldOf(design, {Feature::EdgeRound, Side::Right}), "band.right.width");
}

TEST(Features, OfAStoneLeadToWhatShapesItsCut) {
    design::Design design;
    design.settings.resize(1);
    design::Stone& stone = *design.settings[0].stone;
    EXPECT_EQ(fieldOf(design, {Feature::Crown, 0}), "settings[0].stone.crown-angle");
    stone.cut = design::StoneCut::Cabochon;
    EXPECT_EQ(fieldOf(design, {Feature::Crown, 0}), "settings[0].stone.dome");
    EXPECT_EQ(fieldOf(design, {Feature::Pavilion, 0}), "settings[0].stone.girdle");
    stone.model = "six-sided.obj";
    for (const Feature feature : {Feature::Crown, Feature::Girdle, Feature::Pavilion})
        EXPECT_EQ(fieldOf(design, {feature, 0}), "settings[0].stone.diameter");
}

}  // namespace
}  // namespace bandwright::geometry
