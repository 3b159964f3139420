#pragma once

#include <cmath>
#include <limits>
#include <numbers>

/// Small arithmetic, for the files of this room.
namespace bandwright::geometry {

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kTurn = 2 * kPi;  ///< radians
inline constexpr double kQuarter = kPi / 2;

/// The distance or radius of a touch that does not happen.
inline constexpr double kNever = std::numeric_limits<double>::infinity();

constexpr double square(double x) {
    return x * x;
}
constexpr double radians(double degrees) {
    return degrees * kPi / 180;
}
/// The same direction as an angle from 0 to less than a turn, radians.
inline double positive(double angle) {
    return angle - kTurn * std::floor(angle / kTurn);
}

}  // namespace bandwright::geometry
