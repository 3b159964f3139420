#pragma once

#include <string>
#include <vector>

#include "app/report_text.hpp"
#include "design/design.hpp"
#include "route/plan.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// The plan of the work as text for people and as JSON for programs. UTF-8.
namespace bandwright::app {

/// What an operation tells, line by line: "speed" and what it is; a line that goes on has no label.
struct Told {
    std::string label, text;
};
std::vector<Told> toldBeforeReading(const route::Operation& operation);
std::vector<Told> toldAfterReading(const route::Operation& operation);

/// Step by step, operations numbered through: how the work is held, tool, speed, dial, what to do, readings,
/// cautions, and what the workshop file does not tell; before them, what to have at hand. Ends with a
/// newline.
std::string routeText(const design::Design& design, const route::Plan& plan, const trade::Workshop& workshop,
                      const trade::Catalogue& catalogue, const TextStyle& style = {});

/// The object that `route --json` prints: {"design", "stages": [{"stage", "done", "volume", "chips", "mass",
/// "chip-mass", "hours", "own-hours", "wall", "gauge", "operations": [{"name", "hold", "tool", "cut",
/// "doing", "indexing", "layers", "readings": [{"what", "instrument", "span", "value", "least", "most",
/// "unit", "from": [z, r], "to": [z, r], "from-feature", "to-feature", "loose", "size", "field"}],
/// "cautions", "missing", "minutes"}]}], "quantities": {"items": [{"what", "material", "amount", "unit",
/// "needed", "how"}], "blank-mass", "finished-mass", "chip-mass", "reclaimed"}}. Lengths in mm, masses in g,
/// volumes in mm3, angles in degrees; "cut" is {"speed" m/min, "diameter", "spindle" rev/min, "clipped",
/// "feed" mm a turn, "dial", "along", "across", "source"}. What is not there is left out. Ends with a
/// newline.
std::string routeJson(const design::Design& design, const route::Plan& plan);

}  // namespace bandwright::app
