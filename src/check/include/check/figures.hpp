#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "check/check.hpp"
#include "design/fields.hpp"

/// The numbers of findings as they are printed, in the window and in text.
namespace bandwright::check {

/// How many decimals, no fewer than usual for the unit, show on which side of the finding's limits a value
/// lies, and the limits to a hundredth of themselves: 0.4996 mm against 0.5 takes four. Of a share, of its
/// percent.
int decimalsFor(double value, const Finding& finding, const std::string& unit = "mm");

/// What is said after a number above or below nothing, where its sign alone would puzzle: "proud" and "sunk".
struct Sides {
    std::string_view above, below;  ///< both empty: the sign is said
};

/// A finding's numbers, all with as many decimals as the one that needs most; a score is a word.
struct Figures {
    std::string value, limit, comfortable;
    std::string worst;                      ///< where there is a spread
    std::string across, comfortableAcross;  ///< the same on the other side of a fit
    std::string unit;                       ///< as a person reads it, "mm", "\u00B0C", "%"; or empty
    Sides sides;
};
Figures figures(const Report& report, const Finding& finding);

/// A number with its unit: "0.33 mm", "4.7\u00B0", "0.16 mm sunk"; a word as it is.
std::string withUnit(const std::string& number, const std::string& unit, const Sides& sides = {});

/// The value of a finding with its unit.
std::string inFull(const Report& report, const Finding& finding);

/// Whether it is one of the units that measures and limits have.
bool isUnit(std::string_view unit);

/// Whether a measure of this unit says that something is so, or not.
bool isYesOrNo(const std::string& unit);

/// A measure's unit as a person reads it.
std::string shownUnit(const std::string& unit);

/// A value in a sentence, with the digits it needs and no idle ones: "0.6 mm".
std::string inSentence(double value, const Finding& finding, const std::string& unit);

/// What each finding of a report is called: the label of its measure, and where two are alike what tells them
/// apart: on which side its limit lies, and the place.
std::vector<std::string> gaugeNames(const Report& report);

/// "1.8 mm instead of 2 mm", with the digits that tell the one from the other.
std::string changeText(const Change& change, const design::NumberField& field);

/// "Take epoxy instead of cyanoacrylate for the adhesive of the fill", "Make the closing of the setting
/// burnished instead of hammered".
std::string exchangeText(const Exchange& exchange, const design::Design& design,
                         const trade::Catalogue& catalogue);

}  // namespace bandwright::check
