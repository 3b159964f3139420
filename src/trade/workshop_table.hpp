#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <vector>

#include "json_fields.hpp"
#include "trade/workshop_fields.hpp"

/// The rows of the workshop's table with what reads and writes them. Private to the room.
namespace bandwright::trade {

struct WorkshopRow {
    WorkshopField field;
    /// Throws InputError at the place.
    std::function<void(const json&, const JsonPlace&, const Catalogue&, Workshop&)> read;
    /// As it is in the file; null where it is not told.
    std::function<nlohmann::ordered_json(const Workshop&)> write;
};

const std::vector<WorkshopRow>& workshopRows();

}  // namespace bandwright::trade
