#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/ring.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// The words of limit gauging.
enum class Verdict : std::uint8_t { Go, Marginal, NoGo };

/// "go", "marginal", "no-go".
std::string name(Verdict verdict);

/// On which side of its limits a value is good.
enum class Sense : std::uint8_t { AtLeast, AtMost };

/// "at-least", "at-most".
std::string name(Sense sense);

/// What a gauge is about.
enum class Group : std::uint8_t { Walls, Setting, Fill, Fit, Work, Wear, Law };

/// "walls", "setting", "fill", "fit on the finger", "work", "wear", "law".
std::string name(Group group);

/// The steps of a design's route that do something to this ring, in the route's order.
std::vector<design::Stage> steps(const design::Design& design, const trade::Catalogue& catalogue);

/// The stages of this ring: its steps, the last of them as Finished.
std::vector<design::Stage> stages(const design::Design& design, const trade::Catalogue& catalogue);

/// A named number of the ring, found exactly, with the two places it lies between.
struct Measure {
    std::string id;     ///< e.g. "floor-wall", "rim-left"; with "@2" for the second channel or setting
    std::string label;  ///< as a maker says it, e.g. "Floor under the channel"
    design::Stage stage = design::Stage::Finished;
    double value = 0;
    std::string unit;  ///< "mm", "g", "ct", "degrees", "grains", "Mohs", "of its width"; empty for a share
    geometry::Vec3 from, to;  ///< witness points, mm; for what is no length, where it belongs
    geometry::Tag fromTag, toTag;
    std::uint16_t number = 0;  ///< the channel or setting it belongs to, from 0
    bool hasPlace = true;      ///< a mass has none: no witness points and no tags
};

/// One number of the design set to another value.
struct Change {
    std::string field;        ///< its path in the design file, e.g. "channels[0].depth"
    double from = 0, to = 0;  ///< in the unit of the file
};

/// The design with that number changed; the same design when it has no such field.
design::Design changed(const design::Design& design, const Change& change);

/// Every number that differs between two designs of the same fields, in the order of the file.
std::vector<Change> changesBetween(const design::Design& from, const design::Design& to);

/// A material, or another of a few words, in place of another.
struct Exchange {
    std::string field;     ///< its path, e.g. "band.metal"
    std::string from, to;  ///< as the file writes them
};

/// A step of the route moved before another.
struct Reorder {
    design::Stage step, before;
};

/// A way that mends one finding and makes no other worse, proved by a full check of the ring changed so. It
/// changes numbers, or one material or word, or the order of the work, or leaves out what cannot be had.
struct Remedy {
    std::vector<Change> changes;
    std::optional<Exchange> exchange;
    std::optional<Reorder> reorder;
    std::optional<std::string> leftOut;  ///< path of a part: "settings[1]", "channels[0].fill"
    std::string text;                    ///< one sentence with the new numbers in it
    std::string effect;  ///< what it does to look, mass and size: "hardly seen; 0.12 g lighter; same size"
    std::size_t noGoLeft = 0;  ///< findings of the whole ring that are no-go then
    bool keepsOrder = true;    ///< what the client ordered stays as it is
};

/// The design with a remedy carried out; what it has no field for stays as it is. Throws InputError where
/// the steps cannot be done in that order.
design::Design carriedOut(const design::Design& design, const Remedy& remedy);

/// What tolerances do to a finding; see tolerance_stack.hpp.
struct Spread {
    double worst = 0;  ///< the measure in the worst case
    Verdict atWorst = Verdict::Go;
    double noGoBySquares = 0;         ///< chance of no-go, 0..1, by root sum of squares
    std::optional<double> noGoByLot;  ///< the same by rings drawn by lot; nothing when none were
};

/// The limits on one side of a value.
struct SideLimits {
    double limit = 0;        ///< past it: no-go
    double comfortable = 0;  ///< past it: marginal
};

/// A measure held against a limit. A fit has limits on both sides; it is told by the side on which it stands
/// worse.
struct Finding {
    std::string rule;  ///< e.g. "floor-wall"; two rules may judge one measure
    Group group = Group::Walls;
    design::Stage stage = design::Stage::Finished;
    Verdict verdict = Verdict::Go;
    std::size_t measure = 0;  ///< place in Report::measures
    Sense sense = Sense::AtLeast;
    double limit = 0;                  ///< past it (below, or above for AtMost): no-go
    double comfortable = 0;            ///< past it: marginal
    std::optional<SideLimits> across;  ///< of a fit: what it is held against on the other side
    std::string why;                   ///< one sentence: what goes wrong
    std::vector<Remedy> remedies;      ///< three at most, the one a client would see least first
    std::string remedy;  ///< the first in a sentence, or what was tried in vain and over which range; empty
                         ///< when go
    std::string source;  ///< where the limit comes from
    std::optional<Spread> spread;  ///< where it was asked for
};

struct Report {
    Verdict verdict = Verdict::Go;  ///< the worst of the findings
    std::vector<Measure> measures;
    std::vector<Finding> findings;            ///< worst first
    std::vector<geometry::SolidPart> bodies;  ///< of the finished ring
};

struct CheckOptions {
    bool remedies = true;  ///< finding them takes many checks; they can wait while a number is dragged
    std::optional<design::Stage> stage = std::nullopt;  ///< measure and judge this stage alone
    /// How far the bore of the finished ring can be opened, unless it is a no-go; takes several checks.
    /// Nothing = with the remedies.
    std::optional<bool> resizing = std::nullopt;
};

/// Throws InputError when a limit of the maker's own names no rule, its comfortable value lies on the wrong
/// side of the limit, or a tolerance names no number of a design.
void requireLimits(const trade::Catalogue& catalogue);

/// Measures the ring at every stage and judges it: for each rule and place the stage where it stands worst.
/// What stays the same over several stages is measured once and reported under the first of them, or under
/// Finished when they last to the end. A remedy makes its rule hold at every stage, also where one stage
/// alone is judged. Throws InputError for a design that is not buildable (requireBuildable), names a material
/// that is not in the catalogue, or has not the stage that is to be judged alone.
Report check(const design::Design& design, const trade::Catalogue& catalogue,
             const CheckOptions& options = {});

}  // namespace bandwright::check
