#pragma once

#include <algorithm>
#include <cstdint>
#include <random>
#include <vector>

#include "trade/workshop.hpp"

namespace bandwright::route {

/// A workshop by lot: with or without each thing, sensible and silly sizes alike.
inline trade::Workshop drawnWorkshop(std::uint64_t seed) {
    std::mt19937_64 lot(seed);
    const auto share = [&] { return static_cast<double>(lot() >> 11U) / 9007199254740992.0; };
    const auto between = [&](double least, double most) { return least + share() * (most - least); };
    const auto half = [&] { return share() < 0.5; };
    const auto sizes = [&](double least, double most) {
        std::vector<double> list;
        for (auto count = static_cast<int>(between(0, 8)); count > 0; --count)
            list.push_back(between(least, most));
        std::sort(list.begin(), list.end());
        return list;
    };
    trade::Workshop shop;
    if (half()) {
        const double least = between(50, 400);
        shop.lathe = trade::Spindle{least, least + between(0, 3000), {}};
        if (half()) shop.lathe->steps = {shop.lathe->least, shop.lathe->most};
    }
    if (half()) shop.turningTools = trade::ToolMaterial::HighSpeedSteel;
    for (const double size : sizes(2, 12))
        shop.boringBars.push_back({size, half() ? between(5, 60) : 0, half()});
    for (const double size : sizes(0.2, 3))
        shop.groovingBlades.push_back({size, between(0, size / 2)});
    if (half()) shop.partingBlade = trade::Blade{between(1, 3), 0};
    shop.drills = sizes(0.5, 20);
    shop.mandrels = sizes(10, 24);
    for (const double size : sizes(15, 40)) {
        const double bore = half() ? 0 : between(0, size - 1);
        shop.stock.push_back({half() ? "titanium-grade-5" : "", size, bore, half() ? between(0, 100) : 0});
    }
    if (half()) shop.micrometer = 0.01;
    return shop;
}

}  // namespace bandwright::route
