#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace bandwright::check {

/// The samples that can be made; shallows is a no-go, and honeycomb's stone lies in a file of its own.
inline auto samplesThatCanBeMade() {
    return testing::Values("harbour", "lantern", "first-frost", "anvil-road", "night-ferry", "orchard-gate",
                           "seven-lamps", "tide-mill");
}

/// A sample's name as GoogleTest allows it.
inline std::string asTestName(const testing::TestParamInfo<const char*>& sample) {
    std::string name = sample.param;
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
}

}  // namespace bandwright::check
