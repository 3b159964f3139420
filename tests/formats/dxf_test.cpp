#include "formats/dxf.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "design/design_file.hpp"
#include "drawing/section_drawing.hpp"
#include "drawing/unrolled_drawing.hpp"
#include "geometry/ring.hpp"
#include "is_buildable.hpp"
#include "program.hpp"
#include "random_design.hpp"

// DXF files as ezdxf reads them.
namespace bandwright::formats {
namespace {

using Json = nlohmann::json;
using geometry::Vec2;

drawing::Layout trueSize() {
    drawing::Layout layout;
    layout.scale = 1;
    layout.textHeight = 0.25;
    return layout;
}

/// Plain section, one through each setting, and the outside, apart from each other.
std::vector<DxfView> viewsOf(const design::Design& design) {
    const geometry::RingSections plain = geometry::sections(design);
    constexpr auto kStage = design::Stage::Finished;
    std::vector<DxfView> views{{"Section", drawing::sectionDrawing(design, kStage, plain, trueSize()), {}}};
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        views.push_back({"Setting \u00D8",
                         drawing::settingDrawing(design, kStage, i, plain,
                                                 geometry::sectionThrough(design, i), trueSize()),
                         {30.0 * static_cast<double>(i + 1), 0}});
    }
    views.push_back({"Outside", drawing::unrolledDrawing(design, kStage, plain, trueSize()), {0, -40}});
    return views;
}

/// The designs of the samples, and some drawn by lot.
std::vector<design::Design> designs() {
    std::vector<design::Design> all;
    for (const std::string name : {"harbour", "lantern", "night-ferry", "orchard-gate", "tide-mill"})
        all.push_back(design::readDesign(app::sample(name)));
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(40); ++seed) {
        all.push_back(geometry::randomDesign(seed));
        if (!geometry::isBuildable(all.back())) all.pop_back();
    }
    return all;
}

/// What ezdxf finds in the files of these views.
std::vector<Json> readBack(const std::vector<std::vector<DxfView>>& all) {
    const app::ScratchFolder folder;
    std::vector<std::string> command{"/usr/bin/python3",
                                     std::string(BANDWRIGHT_TESTS) + "/formats/read_dxf.py"};
    for (const std::vector<DxfView>& views : all) {
        command.push_back(folder / (std::to_string(command.size()) + ".dxf"));
        app::writeFile(command.back(), dxf(views));
    }
    const app::Outcome outcome = app::runProgram(command);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    std::istringstream lines(outcome.out);
    std::vector<Json> found;
    for (std::string line; std::getline(lines, line);)
        found.push_back(Json::parse(line));
    EXPECT_EQ(found.size(), all.size());
    return found;
}

struct ReadBack {
    std::vector<std::vector<DxfView>> written;
    std::vector<Json> read;
};

const ReadBack& everything() {
    static const ReadBack both = [] {
        ReadBack made;
        for (const design::Design& design : designs())
            made.written.push_back(viewsOf(design));
        made.read = readBack(made.written);
        return made;
    }();
    return both;
}

bool isAt(const Json& place, Vec2 p) {
    return std::hypot(place[0].get<double>() - p.z, place[1].get<double>() - p.r) < 1e-9;
}

TEST(Dxf, AnotherReaderFindsNoFault) {
    for (const Json& file : everything().read) {
        EXPECT_EQ(file.at("faults"), Json::array());
        EXPECT_EQ(file.at("version"), "AC1015");
        EXPECT_EQ(file.at("units"), 4);               // mm
        EXPECT_EQ(file.at("layers").at("BAND"), 50);  // hundredths of a mm, wide
        EXPECT_EQ(file.at("layers").at("DIMENSIONS"), 25);
    }
}

const char* bodyLayer(geometry::PartRole role) {
    switch (role) {
        case geometry::PartRole::Band:
            return "BAND";
        case geometry::PartRole::Fill:
            return "FILL";
        case geometry::PartRole::Tube:
            return "TUBE";
        case geometry::PartRole::Stone:
            return "STONE";
        case geometry::PartRole::Liner:
            return "LINER";
    }
    return "";
}

/// Each line and arc of each section is there, true to the ring and in the layer of its body, and no other.
TEST(Dxf, LinesAndArcsAreThoseOfTheSections) {
    const auto& [written, read] = everything();
    for (std::size_t f = 0; f < written.size(); ++f) {
        std::size_t lines = 0, arcs = 0;
        for (const DxfView& view : written[f]) {
            for (const drawing::CutBody& body : view.drawing.bodies) {
                for (const geometry::Loop& loop : body.outline) {
                    for (const geometry::Segment& s : loop) {
                        const Vec2 a = view.at + s.from, b = view.at + s.to;
                        ++(s.isArc() ? arcs : lines);
                        const bool found =
                            std::ranges::any_of(read[f].at(s.isArc() ? "arcs" : "lines"), [&](const Json& e) {
                                if (e[0] != bodyLayer(body.role)) return false;
                                if (!s.isArc()) return isAt(e[1], a) && isAt(e[2], b);
                                const bool ends =
                                    s.ccw ? isAt(e[3], a) && isAt(e[4], b) : isAt(e[3], b) && isAt(e[4], a);
                                return ends && isAt(e[1], view.at + s.centre) && e[2] == s.radius;
                            });
                        EXPECT_TRUE(found) << f << " " << view.name;
                    }
                }
            }
        }
        const auto ofBodies = [&](const Json& all) {
            return static_cast<std::size_t>(std::ranges::count_if(all, [](const Json& e) {
                const std::string layer = e[0];
                return layer == "BAND" || layer == "FILL" || layer == "TUBE" || layer == "STONE" ||
                       layer == "LINER";
            }));
        };
        EXPECT_EQ(ofBodies(read[f].at("lines")), lines) << f;
        EXPECT_EQ(ofBodies(read[f].at("arcs")), arcs) << f;
    }
}

/// The number a program measures on the dimension anew is the one of the section, and the one in its picture.
TEST(Dxf, DimensionsMeasureTheSection) {
    const auto& [written, read] = everything();
    std::size_t compared = 0;
    for (std::size_t f = 0; f < written.size(); ++f) {
        std::size_t next = 0;
        const Json& found = read[f].at("dimensions");
        for (const DxfView& view : written[f]) {
            const double round = drawing::bodiesOf(view.drawing).high.z;
            for (const drawing::Dimension& dimension : view.drawing.dimensions) {
                if (dimension.value == 0) continue;
                ASSERT_LT(next, found.size());
                const Json& read_ = found[next++];
                const bool isAngle = dimension.measured == drawing::Measured::Round;
                const double value = isAngle ? dimension.value / 360 * round : dimension.value;
                EXPECT_NEAR(read_.at("measured").get<double>(), value, 1e-9) << f << " " << dimension.field;
                EXPECT_NEAR(read_.at("told").get<double>(), value, 1e-9) << f << " " << dimension.field;
                EXPECT_EQ(read_.at("shown").size(), 1U);
                EXPECT_EQ(read_.at("text").get<std::string>().find("<>") == std::string::npos, isAngle);
            }
        }
        EXPECT_EQ(next, found.size());
        compared += next;
    }
    EXPECT_GT(compared, 100U);
}

TEST(Dxf, TheSameDrawingsGiveTheSameBytesInAscii) {
    const std::vector<DxfView> views = viewsOf(design::readDesign(app::sample("harbour")));
    const std::string file = dxf(views);
    EXPECT_EQ(file, dxf(views));
    EXPECT_TRUE(std::ranges::all_of(file, [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
    EXPECT_NE(file.find("Setting \\U+00D8"), std::string::npos);
}

TEST(Dxf, NoViewsAreAnEmptyDrawing) {
    const Json file = readBack({{}}).front();
    EXPECT_EQ(file.at("faults"), Json::array());
    EXPECT_TRUE(file.at("lines").empty());
}

}  // namespace
}  // namespace bandwright::formats
