#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "check/check.hpp"

/// What becomes of the findings when the ring is not exactly as drawn, but within workshop tolerances.
namespace bandwright::check {

/// Stands in place of a number's path for the diameter of the bore.
inline constexpr std::string_view kBore = "finger.size";

/// Plus or minus on one number of the design.
struct Tolerance {
    std::string field;  ///< its path, or kBore
    double plusMinus = 0;
    std::string source;
};

/// The tolerances of every length and angle that is made or bought: the maker's own, else those of ISO
/// 2768-1, and the trade's for stones. Percentages, grain sizes and features that are absent (a length of 0
/// that is not a position) have none.
std::vector<Tolerance> tolerances(const design::Design& design, const trade::Catalogue& catalogue);

struct StackOptions {
    std::size_t rings = 1000;                           ///< drawn by lot; 0 = none
    std::uint64_t seed = 20'250'101;                    ///< the same seed draws the same rings
    std::optional<design::Stage> stage = std::nullopt;  ///< as in CheckOptions
};

struct StackSummary {
    std::vector<Tolerance> tolerances;
    std::size_t rings = 0;   ///< drawn and judged
    std::size_t unmade = 0;  ///< drawn, but no ring can be made of such numbers
};

/// Fills in the spread of each finding (Finding::spread):
/// - the worst case, every number at the worse end of its tolerance: the sum of what each does alone, or the
///   ring with all of them there if that is worse still;
/// - the chance of no-go by root sum of squares, each number normal with three sigma in its tolerance, the
///   measure taken as linear;
/// - the same by rings drawn by lot, numbers normal in the same way but cut off at their tolerance, each
///   measured and judged anew.
StackSummary addSpreads(const design::Design& design, const trade::Catalogue& catalogue, Report& report,
                        const StackOptions& options = {});

/// Judges the findings of a report with spreads at their worst case instead of as drawn. A remedy then leaves
/// room for what the tolerances take away from the measure now.
void judgeAtWorst(const design::Design& design, const trade::Catalogue& catalogue, Report& report);

}  // namespace bandwright::check
