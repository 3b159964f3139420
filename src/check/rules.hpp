#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "check/check.hpp"
#include "check/figures.hpp"

namespace bandwright::check {

/// What a measure is held against.
struct Limit {
    double limit = 0;        ///< past it: no-go
    double comfortable = 0;  ///< past it: marginal
    std::string source;
};

/// A way to mend a finding: one number of the design, and which way to change it.
struct Lever {
    /// A pattern of the table of fields; "#" stands for the channel or setting of the measure and for the
    /// last step of its hole, or its pilot where it has no step. An edge's number is a lever only where the
    /// measure touches that edge.
    std::string_view field;
    int direction = 1;                        ///< +1: more; -1: less
    std::vector<std::string_view> with = {};  ///< numbers turned by as much the same way
};

/// A limit that depends on what the ring is made of.
using LimitOf = Limit (*)(const design::Design& design, const trade::Catalogue& catalogue);

/// What a rule is called and what it measures.
struct Subject {
    std::string_view id;
    std::string_view measured;     ///< as a maker says it: "the wall of the tube's lip"
    std::string_view unit = "mm";  ///< in which the limits are given
    Sides sides = {};
};

/// The other side of a fit: at most so much.
struct Upper {
    std::string_view id;  ///< by which the maker's own limit names it
    Limit fixed;
};

/// Judges every measure of an id ("floor-wall", "floor-wall@2", ...).
struct Rule {
    std::string_view id;
    std::string_view measured, unit;  ///< see Subject
    Sides sides;
    std::string_view measure;  ///< id of the measures it judges
    Sense sense = Sense::AtLeast;
    Limit fixed;
    LimitOf limitOf = nullptr;  ///< replaces `fixed` where given; null = the same for all
    std::string_view why;       ///< one sentence: what goes wrong past the limit
    std::vector<Lever> levers;
    std::optional<Reorder> reorder = std::nullopt;  ///< where no lever helps
    std::optional<Upper> upper = std::nullopt;      ///< of a fit, beside the limits at the lower side
    Group group = Group::Walls;  ///< given by the table it stands in, but for a few (rules.cpp)

    /// Of the checks themselves.
    Limit book(const design::Design& design, const trade::Catalogue& catalogue) const;
    /// The maker's own where there is one.
    Limit limit(const design::Design& design, const trade::Catalogue& catalogue) const;
    /// The same of the upper side of a fit.
    std::optional<Limit> upperLimit(const design::Design& design, const trade::Catalogue& catalogue) const;
};

/// A rule of one number, or of one that comes from the catalogue, judging the measure of its own
/// name.
Rule atLeast(const Subject& subject, LimitOf limit, std::string_view why, std::vector<Lever> levers);
Rule atLeast(const Subject& subject, Limit limit, std::string_view why, std::vector<Lever> levers);
Rule atMost(const Subject& subject, LimitOf limit, std::string_view why, std::vector<Lever> levers);
Rule atMost(const Subject& subject, Limit limit, std::string_view why, std::vector<Lever> levers);

/// A fit: at least so much and at most so much, told on one line.
Rule between(const Subject& subject, Limit least, Upper most, std::string_view why,
             std::vector<Lever> levers);

/// The same with a change of the route that may mend it.
Rule orElse(Reorder reorder, Rule rule);

/// The same judging the measure of another rule.
Rule onMeasure(std::string_view measure, Rule rule);

/// The table, by subject; a new rule is one entry.
std::vector<Rule> metalRules();
std::vector<Rule> strengthRules();
std::vector<Rule> linerRules();
std::vector<Rule> settingRules();
std::vector<Rule> fillRules();
std::vector<Rule> materialRules();
std::vector<Rule> fitRules();
std::vector<Rule> workRules();

/// All of them, in the order a maker would read them.
std::span<const Rule> rules();

/// Nothing of that name: nullptr. Not by the name of an upper side.
const Rule* ruleNamed(std::string_view id);

/// The name by which the maker's own limit names what a finding is held against.
std::string_view limitName(const Finding& finding);

/// The id of a measure without its number, which a rule names.
std::string_view subjectOf(const Measure& measure);

/// A value or a limit that is NaN is no-go.
Verdict judged(double value, Sense sense, const Limit& limit);

}  // namespace bandwright::check
