#pragma once

#include <functional>
#include <ostream>
#include <string>
#include <vector>

#include "check/check.hpp"

namespace bandwright::check {

/// A ring in which one rule finds just the value asked for, told from the plain ring's numbers by school
/// geometry, or materials in which it does.
struct Case {
    std::string rule;
    double limit = 0, comfortable = 0;  ///< for titanium
    std::function<design::Design(double)> with;
    bool most = false;  ///< the value is good below the limits
    std::function<void(trade::Catalogue&, double)> material =
        nullptr;  ///< sets the value in the materials instead

    trade::Catalogue catalogue(double value) const {
        trade::Catalogue result = trade::builtInCatalogue();
        if (material) material(result, value);
        return result;
    }
    Sense sense() const { return most ? Sense::AtMost : Sense::AtLeast; }
};

inline std::ostream& operator<<(std::ostream& out, const Case& c) {
    return out << c.rule;
}

/// One for each rule but those that never say no-go.
std::vector<Case> cases();

}  // namespace bandwright::check
