#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

/// The route of the work: its steps in the order the maker does them.
namespace bandwright::design {

/// A step of the work, named by what the ring is when it is done.
enum class Stage : std::uint8_t {
    Blank,       ///< a drilled piece of bar or tube
    Bored,       ///< straight, under size by the sizing allowance; for a liner to the joint
    Turned,      ///< a cylinder, larger than the outside by the truing allowance
    Parted,      ///< faced to width; the outside now has its shape
    Lined,       ///< the liner pressed in
    Channelled,  ///< the channels cut to their depth
    Drilled,     ///< the holes drilled and seated, also through fills; a fill that follows leaves them open
    Filled,      ///< the channels packed, standing over the outside
    Trued,       ///< outside and fills taken down to where they belong
    Bevelled,    ///< the edges bevelled or rounded
    Polished,
    Sized,   ///< the bore opened to size, given its comfort and eased
    Etched,  ///< the layers of a pattern-welded metal brought out
    Joined,  ///< the tubes glued, soldered or welded into their holes
    Set,     ///< the stones laid into tubes or holes
    Closed,  ///< lips or edges closed over the stones
    Finished,
};
inline constexpr std::size_t kRouteLength = static_cast<std::size_t>(Stage::Finished);

/// Every step but Finished, each once.
using Route = std::array<Stage, kRouteLength>;

/// The order in which later steps disturb fill, stones and size least.
Route usualRoute();

/// As files and the command line write it: "blank", "bored", ..., "finished".
std::string name(Stage stage);

/// A step as a sentence names the doing of it: "sizing the bore", "setting the stones".
std::string_view doing(Stage step);

/// Why no ring can be made so, e.g. "has 'filled' before 'channelled': a fill needs its channel"; nothing for
/// a route that can be gone.
std::optional<std::string> fault(const Route& route);

/// Whether a step comes before another.
bool isBefore(const Route& route, Stage first, Stage then);

/// The route with `step` moved to just before `other`, together with the steps between them that must come
/// before it. Throws InputError when `other` must itself come before it.
Route movedBefore(const Route& route, Stage step, Stage other);

}  // namespace bandwright::design
