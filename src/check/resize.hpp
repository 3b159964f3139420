#pragma once

#include <functional>
#include <optional>

#include "check/check.hpp"

namespace bandwright::check {

/// The design with its finished bore opened by so many mm on the radius: metal is taken from inside, outside
/// and what is cut from there stay.
design::Design opened(const design::Design& design, double by);

/// Measures and judges a ring as finished; nothing when no such ring can be made.
using Judging = std::function<std::optional<Report>(const design::Design&)>;

/// How far the finished bore can be opened with every gauge that is go still go, and no other worse than it
/// is, in US sizes, rounded down to a hundredth. Every opening is judged by the very same rules. The
/// witnesses are those of the gauge that ends it.
Measure resizeRoom(const design::Design& design, const Judging& judging);

}  // namespace bandwright::check
