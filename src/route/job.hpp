#pragma once

#include <vector>

#include "check/check.hpp"
#include "design/design.hpp"
#include "geometry/ring.hpp"
#include "geometry/workpiece.hpp"
#include "route/operation.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// Private to the room: what each step of the route asks of the bench.
namespace bandwright::route {

/// One step of the route of one ring, with all that is known about it.
struct Job {
    const design::Design& design;
    const trade::Catalogue& catalogue;
    const trade::Workshop& workshop;
    design::Stage stage;
    /// How the ring stands before the step and after it: as the design has it, but with the outside of the
    /// stock that is taken until it is turned, and the hole of the drill until it is bored.
    geometry::Workpiece before, after;
    const check::Report& report;  ///< of the whole design
};

// turning.cpp
std::vector<Operation> cutBlank(const Job& job);
std::vector<Operation> bore(const Job& job);
std::vector<Operation> turnOutside(const Job& job);
std::vector<Operation> partOff(const Job& job);

// fitting.cpp
std::vector<Operation> pressLiner(const Job& job);
std::vector<Operation> sizeBore(const Job& job);

// grooving.cpp
std::vector<Operation> cutChannels(const Job& job);
std::vector<Operation> trueUp(const Job& job);

// edges.cpp
std::vector<Operation> bevel(const Job& job);

// drilling.cpp
std::vector<Operation> drillHoles(const Job& job);

// inlay.cpp
std::vector<Operation> packChannels(const Job& job);

// finishing.cpp
std::vector<Operation> polish(const Job& job);
std::vector<Operation> finishBore(const Job& job);  ///< with the polish, or when it is sized after it
std::vector<Operation> etch(const Job& job);
std::vector<Operation> finish(const Job& job);  ///< last look, weighing

// stone_setting.cpp
std::vector<Operation> joinTubes(const Job& job);
std::vector<Operation> setStones(const Job& job);
std::vector<Operation> closeLips(const Job& job);

}  // namespace bandwright::route
