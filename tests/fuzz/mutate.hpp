#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <string>

/// Changes to JSON that keep it JSON, so that the fuzzer comes past the parser.
namespace bandwright::fuzz {

using Random = std::mt19937_64;

/// Somewhere in the text a value is replaced, left out, put twice or swapped with another. The text as it is
/// where it is no JSON.
std::string withValueChanged(const std::string& text, Random& random);

/// A field of the design's own table takes another value: mostly one of its range, often its ends or what
/// another field has, now and then one that is not allowed; or a part comes or goes. What is no design
/// becomes one drawn by lot.
std::string withFieldChanged(const std::string& text, Random& random);

}  // namespace bandwright::fuzz
