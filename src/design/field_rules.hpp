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

/// Walks the fields inside a value and calls leaf(path, value, rule) for each that is no group, lists
/// included.
template <class Leaf>
class FieldWalk {
  public:
    FieldWalk(std::string path, Leaf& leaf) : path_(std::move(path)), leaf_(leaf) {}

    template <class T, class Rule>
    void operator()(std::string_view key, const T& value, const Rule& rule, const Words& /*words*/) {
        walk(path_.empty() ? std::string(key) : path_ + "." + std::string(key), value, rule);
    }

  private:
    template <class T, class Rule>
    void walk(const std::string& path, const T& value, const Rule& rule) {
        leaf_(path, value, rule);
    }

    template <class T>
    void walk(const std::string& path, const T& group, const GroupField& /*rule*/) {
        FieldWalk inside(path, leaf_);
        visitFields(inside, group);
    }

    template <class T>
    void walk(const std::string& path, const std::optional<T>& part, const GroupField& rule) {
        if (part) walk(path, *part, rule);
    }

    template <class T, class Rule>
    void walk(const std::string& path, const std::vector<T>& items, const ListField<Rule>& rule) {
        leaf_(path, items, rule);
        for (std::size_t i = 0; i < items.size(); ++i)
            walk(path + "[" + std::to_string(i) + "]", items[i], rule.each);
    }

    std::string path_;
    Leaf& leaf_;
};

}  // namespace bandwright::design
