#pragma once

#include <string_view>

/// The text of the files in data/, compiled in.
namespace bandwright::trade::embedded {

extern const std::string_view kMetals;
extern const std::string_view kGems;
extern const std::string_view kFillers;
extern const std::string_view kAdhesives;

}  // namespace bandwright::trade::embedded
