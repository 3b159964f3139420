#pragma once

#include <cstdint>
#include <string>

/// General tolerances of ISO 2768-1: what a workshop keeps where a drawing gives nothing.
namespace bandwright::trade {

enum class ToleranceClass : std::uint8_t { Fine, Medium, Coarse, VeryCoarse };

/// "fine", "medium", "coarse", "very-coarse".
std::string name(ToleranceClass grade);

/// Plus or minus in mm of a length in mm, table 1. Below 0.5 mm, where the standard gives none, the first row
/// but at most half of the length: our own choice.
double lengthTolerance(ToleranceClass grade, double length);

/// The same for the width of a bevel or the radius of a round, table 2.
double edgeTolerance(ToleranceClass grade, double length);

/// Plus or minus in degrees of an angle whose shorter side is at most 10 mm long, table 3.
double angleTolerance(ToleranceClass grade);

/// Plus or minus in mm of a diameter in mm that is made to fit another: half of the grade IT7 of ISO 286-1.
/// General tolerances are not for fits.
double fitTolerance(double diameter);

/// A tolerance the maker keeps on one number of the design.
struct OwnTolerance {
    std::string field;     ///< its path, "#" for any place in a list: "channels[#].depth"
    double plusMinus = 0;  ///< in the field's unit
    std::string source;    ///< "the maker's own: ..."
    std::string place;     ///< where it stands, for messages

    bool operator==(const OwnTolerance&) const = default;
};

}  // namespace bandwright::trade
