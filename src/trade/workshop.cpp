#include "trade/workshop.hpp"

#include <algorithm>

namespace bandwright::trade {

double Spindle::nearest(double asked) const {
    if (steps.empty()) return std::clamp(asked, least, most);
    double best = *std::ranges::min_element(steps);
    for (const double step : steps)
        if (step <= asked) best = std::max(best, step);
    return best;
}

namespace {

Dividing dividingWith(const Divider& divider) {
    return {divider.ratio, divider.circles};
}

}  // namespace

Catalogue withWorkshop(const Catalogue& base, const Workshop& workshop) {
    Catalogue result = base;
    Tools& tools = result.tools;
    if (workshop.region) result.region = *workshop.region;
    if (workshop.toleranceClass) result.toleranceClass = *workshop.toleranceClass;
    if (!workshop.boringBars.empty()) {
        tools.boringBars.clear();
        for (const BoringBar& bar : workshop.boringBars)
            tools.boringBars.push_back(bar.diameter);
    }
    if (!workshop.groovingBlades.empty()) {
        tools.groovingBlades.clear();
        for (const Blade& blade : workshop.groovingBlades)
            tools.groovingBlades.push_back(blade.width);
    }
    if (workshop.partingBlade) tools.partingBlade = workshop.partingBlade->width;
    if (workshop.divider) tools.dividing = dividingWith(*workshop.divider);
    for (std::size_t i = 0; i < workshop.limits.size(); ++i) {
        OwnLimit& own = result.limits.emplace_back(workshop.limits[i]);
        own.source = "the maker's own: the workshop file";
        own.place = "the workshop file, $.limits[" + std::to_string(i) + "]";
    }
    if (tools != base.tools) tools.source = "the maker's own tools: the workshop file";
    return result;
}

}  // namespace bandwright::trade
