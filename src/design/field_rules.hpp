#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/wording.hpp"
#include "design/fields.hpp"

/// What is wrong with a value under the rule of its field. Private to the room.
namespace bandwright::design {

/// What is allowed, e.g. "1 to 30 mm", "a whole number from 1 to 120", "'flat' or 'domed'".
std::string allowed(const NumberField& rule);
std::string allowed(const CountField& rule);
std::string allowed(const TextField& rule);
std::string allowed(MaterialField rule);
std::string allowed(const SizeField& rule);
std::string allowed(GroupField rule);
std::string allowed(RouteField rule);
std::string allowed(PathField rule);

template <class Enum, std::size_t N>
std::string allowed(const WordField<Enum, N>& words) {
    std::vector<std::string_view> names;
    for (const Word<Enum>& word : words)
        names.push_back(word.id);
    return base::inWords(names, "or");
}

template <class Rule>
std::string allowed(const ListField<Rule>& rule) {
    return "a list of at most " + std::to_string(rule.most);
}

/// Whether the value keeps the rule; otherwise what was found, e.g. "0.2 mm".
std::optional<std::string> fault(double value, const NumberField& rule);
std::optional<std::string> fault(int value, const CountField& rule);
std::optional<std::string> fault(const std::string& value, const TextField& rule);
std::optional<std::string> fault(const std::string& value, MaterialField rule);
std::optional<std::string> fault(const std::string& value, PathField rule);
std::optional<std::string> fault(const trade::RingSize& value, const SizeField& rule);

template <class Enum, std::size_t N>
std::optional<std::string> fault(const Enum& value, const WordField<Enum, N>& words) {
    if (std::ranges::find(words, value, &Word<Enum>::value) != words.end()) return {};
    return "no known value";
}

template <class T, class Rule>
std::optional<std::string> fault(const std::vector<T>& items, const ListField<Rule>& rule) {
    if (items.size() <= rule.most) return {};
    return "a list of " + std::to_string(items.size());
}

/// "is 0.2 mm; allowed: 1 to 30 mm" when there is a fault.
template <class T, class Rule>
std::optional<std::string> complaint(const T& value, const Rule& rule) {
    const std::optional<std::string> found = fault(value, rule);
    if (!found) return {};
    return "is " + *found + "; allowed: " + allowed(rule);
}

/// A route says itself what is wrong with it.
inline std::optional<std::string> complaint(const Route& route, const RouteField& /*rule*/) {
    return fault(route);
}

/// Where a walk is: a key, or the number of an item, of what it lies in. Its path is put together only where
/// it is told, since searches walk thousands of designs that nothing is told of.
struct WalkPlace {
    const WalkPlace* within = nullptr;  ///< nullptr: the design itself
    std::string_view key;
    std::optional<std::size_t> item{};

    std::string path() const {
        const std::string outer = within == nullptr ? "" : within->path();
        if (item) return outer + "[" + std::to_string(*item) + "]";
        return outer + (outer.empty() ? "" : ".") + std::string(key);
    }
};

/// Walks the fields inside a value and calls leaf(place, value, rule) for each that is no group, lists
/// included.
template <class Leaf>
class FieldWalk {
  public:
    explicit FieldWalk(Leaf& leaf, const WalkPlace* within = nullptr) : within_(within), leaf_(leaf) {}

    template <class T, class Rule>
    void operator()(std::string_view key, const T& value, const Rule& rule, const Words& /*words*/) {
        walk(WalkPlace{within_, key}, value, rule);
    }

  private:
    template <class T, class Rule>
    void walk(const WalkPlace& place, const T& value, const Rule& rule) {
        leaf_(place, value, rule);
    }

    template <class T>
    void walk(const WalkPlace& place, const T& group, const GroupField& /*rule*/) {
        FieldWalk inside(leaf_, &place);
        visitFields(inside, group);
    }

    template <class T>
    void walk(const WalkPlace& place, const std::optional<T>& part, const GroupField& rule) {
        if (part) walk(place, *part, rule);
    }

    template <class T, class Rule>
    void walk(const WalkPlace& place, const std::vector<T>& items, const ListField<Rule>& rule) {
        leaf_(place, items, rule);
        for (std::size_t i = 0; i < items.size(); ++i)
            walk(WalkPlace{&place, {}, i}, items[i], rule.each);
    }

    const WalkPlace* within_;
    Leaf& leaf_;
};

}  // namespace bandwright::design
