#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "check/check.hpp"
#include "check/mend.hpp"
#include "check/rule_list.hpp"
#include "check/tolerance_stack.hpp"
#include "design/design.hpp"
#include "geometry/part.hpp"
#include "trade/catalogue.hpp"
#include "trade/ring_size.hpp"

/// Reports as text for people and as JSON for programs. UTF-8.
namespace bandwright::app {

struct TextStyle {
    bool colour = false;  ///< ANSI colours on the verdicts; shape and word are always there
    int width = 100;      ///< columns to wrap sentences at, at least 60
    bool all = false;     ///< list all gauges, also those that are go and far from their limits
};

/// Every remedy of a report in the order in which its text numbers them, from 1.
std::vector<const check::Remedy*> remediesInOrder(const check::Report& report);

/// The verdict on top and what a maker asks first; then the gauges in groups, the worst group and in it the
/// worst gauge first, with value, limit and place. Those that are not go come with the reason, numbered
/// remedies and the limit's source; of those that are go, only the few nearest to their limits are listed.
/// Then masses and the cautions of the materials used. Ends with a newline.
std::string reportText(const design::Design& design, const check::Report& report,
                       const std::vector<geometry::SolidPart>& parts, const trade::Catalogue& catalogue,
                       const TextStyle& style = {});

/// The object that `check --json` prints. Ends with a newline.
std::string reportJson(const design::Design& design, const check::Report& report,
                       const trade::Catalogue& catalogue);

/// The basis of the spreads in a report: the tolerances with their sources, and the rings drawn by lot.
std::string tolerancesText(const check::StackSummary& summary, const TextStyle& style = {});

/// What mending changed, in order, a sentence each.
std::vector<std::string> mendingSentences(const check::Mended& mended, const trade::Catalogue& catalogue);

/// What mending changed, in order, and the verdict then; or what stays no-go and, where check::hindrances
/// knows, why it must.
std::string mendedText(const check::Mended& mended, const std::vector<std::string>& locked,
                       const std::vector<std::string>& hindrances, const trade::Catalogue& catalogue,
                       const TextStyle& style = {});

/// Every rule with its limits, their sources and the reason. Ends with a newline.
std::string rulesText(const std::vector<check::ListedRule>& rules, const trade::Catalogue& catalogue,
                      const TextStyle& style = {});

/// The object that `rules --json` prints. Ends with a newline.
std::string rulesJson(const std::vector<check::ListedRule>& rules);

/// What each part and the whole ring weigh: mass, volume, area, centre of mass, and the ring's moments of
/// inertia. Ends with a newline.
std::string weighedText(const design::Design& design, const std::vector<geometry::SolidPart>& parts,
                        const trade::Catalogue& catalogue);

/// The object that `weigh --json` prints, with moments of inertia about each part's own centre of mass, in g
/// mm2, as rows of the tensor. Ends with a newline.
std::string weighedJson(const design::Design& design, const std::vector<geometry::SolidPart>& parts,
                        const trade::Catalogue& catalogue);

/// The same of the ring at a stage. Throws InputError where holes run into each other: what they take from
/// the ring would be counted twice.
std::string weighedAt(const design::Design& design, design::Stage stage, const trade::Catalogue& catalogue,
                      bool asJson);

/// As a maker writes it, e.g. "Titanium grade 5"; for a fill, "Crushed opal in cyanoacrylate".
std::string materialName(const geometry::Part& part, const design::Design& design,
                         const trade::Catalogue& catalogue);

/// The same finger in every system: size, mm, rule, source and rounding.
std::string sizeText(const trade::RingSize& size, const TextStyle& style = {});

/// "floor-wall" as words: "floor wall".
std::string spaced(std::string name);

/// How many columns of a terminal the text takes: combining marks none, wide East Asian characters two.
int columns(std::string_view text);

/// The text padded with blanks on the right, or the left, to `width` columns.
std::string padded(const std::string& text, int width);
std::string rightAligned(const std::string& text, int width);

/// The text wrapped at `width` columns, later lines indented; words are not broken.
std::string wrapped(std::string_view text, int width, int indent);

}  // namespace bandwright::app
