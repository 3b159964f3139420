#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "compare/deviation.hpp"
#include "compare/walls.hpp"
#include "design/design.hpp"
#include "trade/catalogue.hpp"

/// The command `compare`. Private to the room.
namespace bandwright::app {

struct CompareCall {
    std::string body;
    std::string unit = "mm";  ///< of the body's file
    std::vector<std::string> parts{"band"};
    std::vector<std::string> out;  ///< .png or .ply
    double beyond = 0.05;          ///< mm; less is neither extra nor missing
    bool scale = false, holdAxis = false;
};

/// Refuses what no design could make right, before one is read.
void requireCompare(const CompareCall& call);

/// What was found.
struct Compared {
    geometry::Triangles body;  ///< in the ring's frame
    std::vector<std::string> parts;
    compare::Fit fit;
    compare::Deviation deviation;
    check::Report report;  ///< of the design
    compare::BodyWalls walls;
};

/// Reads the body, lays it into the design and measures how it differs; writes the files that were asked for.
/// Throws Stopped.
Compared compareBody(const CompareCall& call, const design::Design& design, design::Stage stage,
                     const trade::Catalogue& catalogue);

/// For people and for programs; each ends with a newline.
std::string comparedText(const CompareCall& call, const design::Design& design, const Compared& compared);
std::string comparedJson(const CompareCall& call, const design::Design& design, design::Stage stage,
                         const Compared& compared);

}  // namespace bandwright::app
