#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"
#include "design/design.hpp"
#include "paper/page.hpp"
#include "route/plan.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

namespace bandwright::paper {

/// A picture of the ring for a paper.
struct Picture {
    std::string png;   ///< the bytes of a PNG file, for a page of HTML also of a WebP file; empty = none
    double ratio = 1;  ///< width to height
};

/// A ring and all that papers tell of it.
struct Job {
    const design::Design& design;  ///< the ring as measured so far
    const trade::Catalogue& catalogue;
    const trade::Workshop& workshop;
    const check::Report& report;
    const route::Plan& plan;
    Picture picture;
    std::string date;  ///< yyyy-mm-dd
};

/// The sheet that hangs over the lathe: the ring, its section, and each operation with a box to tick, what to
/// set and what to read, a line for each reading; what goes in; cautions. Black on white, to be read at arm's
/// length.
std::vector<Page> benchSheet(const Job& job, Size sheet);

/// The same as one table, for who knows the work: each operation with a box to tick, its tool, speed, dial
/// and readings, and a line for what was read; above it the sentence on local codes.
std::vector<Page> briefBenchSheet(const Job& job, Size sheet);

}  // namespace bandwright::paper
