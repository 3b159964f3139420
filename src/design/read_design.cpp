#include <algorithm>
#include <cerrno>
#include <cmath>
#include <concepts>
#include <fstream>
#include <optional>
#include <system_error>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "design/locks.hpp"
#include "field_rules.hpp"
#include "located_json.hpp"
#include "trade/length.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::design {

namespace {

using Kind = JsonNode::Kind;

constexpr std::string_view kVersionKey = "bandwright";

/// A value of the file and where it stands.
struct Found {
    const SourceText& source;
    const JsonNode& node;
    std::string path;

    [[noreturn]] void refuse(const std::string& what) const {
        source.refuse(node.offset, (path.empty() ? "the file" : path) + " " + what);
    }

    template <class Rule>
    [[noreturn]] void refuseAs(const Rule& rule) const {
        refuse("is " + described(node) + "; allowed: " + allowed(rule));
    }

    template <class T, class Rule>
    void require(const T& value, const Rule& rule) const {
        if (const auto wrong = complaint(value, rule)) refuse(*wrong);
    }

    /// Text in one of the trade's notations, whose reader's sentence follows the place.
    template <class Read>
    auto readText(Read read) const {
        try {
            return read(node.text);
        } catch (const base::InputError& error) {
            source.refuse(node.offset, path + ": " + error.what());
        }
    }
};

template <class T>
void read(const Found& found, T& group, const GroupField& rule);

void read(const Found& found, double& value, const NumberField& rule) {
    const bool isLength = rule.unit == Unit::Millimetres;
    if (found.node.kind == Kind::Number) {
        value = found.node.number;
    } else if (isLength && found.node.kind == Kind::Text) {
        value = found.readText(trade::parseLength);
    } else {
        found.refuse("is " + described(found.node) + "; allowed: " + allowed(rule) +
                     (isLength ? ", as a number or as text with its unit ('3/8 in')" : ", as a number"));
    }
    found.require(value, rule);
}

void read(const Found& found, int& value, const CountField& rule) {
    const double number = found.node.number;
    const bool inRange = number >= rule.least && number <= rule.most && number == std::floor(number);
    if (found.node.kind != Kind::Number || !inRange) found.refuseAs(rule);
    value = static_cast<int>(number);
}

template <class Rule>
requires std::same_as<Rule, TextField> || std::same_as<Rule, MaterialField> || std::same_as<Rule, PathField>
void read(const Found& found, std::string& value, const Rule& rule) {
    if (found.node.kind != Kind::Text) found.refuseAs(rule);
    value = found.node.text;
    found.require(value, rule);
}

void read(const Found& found, trade::RingSize& value, const SizeField& rule) {
    if (found.node.kind != Kind::Text) found.refuseAs(rule);
    value = found.readText([](std::string_view text) { return trade::parseRingSize(text); });
    found.require(value, rule);
}

template <class Enum, std::size_t N>
void read(const Found& found, Enum& value, const WordField<Enum, N>& words) {
    const auto named = std::find_if(words.begin(), words.end(), [&](const auto& word) {
        return found.node.kind == Kind::Text && word.id == found.node.text;
    });
    if (named == words.end()) found.refuseAs(words);
    value = named->value;
}

template <class T, class Rule>
void read(const Found& found, std::vector<T>& items, const ListField<Rule>& rule) {
    const std::size_t count = found.node.children.size();
    if (found.node.kind != Kind::List) found.refuseAs(rule);
    if (count > rule.most)
        found.refuse("is a list of " + std::to_string(count) + "; allowed: " + allowed(rule));
    items.assign(count, T{});
    for (std::size_t i = 0; i < count; ++i)
        read(Found{found.source, found.node.children[i], found.path + "[" + std::to_string(i) + "]"},
             items[i], rule.each);
}

void read(const Found& found, Route& route, const RouteField& rule) {
    const std::size_t count = found.node.children.size();
    if (found.node.kind != Kind::List) found.refuseAs(rule);
    for (std::size_t i = 0; i < std::min(count, route.size()); ++i)
        read(Found{found.source, found.node.children[i], found.path + "[" + std::to_string(i) + "]"},
             route[i], kRouteSteps);
    if (count != route.size())
        found.refuse("is a list of " + std::to_string(count) + "; allowed: " + allowed(rule));
    found.require(route, rule);
}

/// Visits the fields of one object of the file.
class ObjectReader {
  public:
    explicit ObjectReader(const Found& object) : object_(object) {}

    template <class T, class Rule>
    void operator()(std::string_view key, T& value, const Rule& rule, const Words& /*words*/) {
        if (const JsonNode* node = take(key)) read(at(*node), value, rule);
    }

    template <class T>
    void operator()(std::string_view key, std::optional<T>& part, const GroupField& rule,
                    const Words& /*words*/) {
        const JsonNode* node = take(key);
        part.reset();
        if (node != nullptr && node->kind != Kind::Null) read(at(*node), part.emplace(), rule);
    }

    Found at(const JsonNode& node) const {
        return {object_.source, node, (object_.path.empty() ? "" : object_.path + ".") + node.key};
    }

    /// The member of that key, which then is a known one.
    const JsonNode* take(std::string_view key) {
        known_.push_back(key);
        const auto& members = object_.node.children;
        const auto member =
            std::find_if(members.begin(), members.end(), [&](const auto& m) { return m.key == key; });
        return member == members.end() ? nullptr : &*member;
    }

    /// To be called when all fields have been visited.
    void requireKnownAndSingle() const {
        for (const JsonNode& member : object_.node.children) {
            const std::string path = (object_.path.empty() ? "" : object_.path + ".") + shownKey(member.key);
            if (std::find(known_.begin(), known_.end(), member.key) == known_.end()) {
                const auto close = base::nearestNames(member.key, known_, 1);
                object_.source.refuse(
                    member.keyOffset,
                    path + " is not a known key; " +
                        (close.empty() ? "allowed here: " + base::inWords(known_, "and")
                                       : "did you mean " + base::inWords(close, "or") + "?"));
            }
            const auto first = std::find_if(object_.node.children.begin(), object_.node.children.end(),
                                            [&](const auto& m) { return m.key == member.key; });
            if (&*first != &member)
                object_.source.refuse(member.keyOffset, path + " stands here a second time");
        }
    }

  private:
    /// A key as part of a path: as it is when it looks like one, else in quotes.
    static std::string shownKey(const std::string& key) {
        constexpr std::size_t kLongestPlainKey = 40;
        const bool plain = std::all_of(key.begin(), key.end(), [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
                   c == '_';
        });
        return plain && !key.empty() && key.size() <= kLongestPlainKey ? key : base::inQuotes(key);
    }

    const Found& object_;
    std::vector<std::string_view> known_;
};

template <class T>
void read(const Found& found, T& group, const GroupField& rule) {
    if (found.node.kind != Kind::Object) found.refuseAs(rule);
    ObjectReader reader(found);
    visitFields(reader, group);
    reader.requireKnownAndSingle();
}

void requireVersion(ObjectReader& reader, const Found& root) {
    const JsonNode* version = reader.take(kVersionKey);
    const std::string wanted = std::to_string(kDesignFileVersion);
    if (version == nullptr)
        root.refuse("has no key 'bandwright', so it is no design file; allowed: 'bandwright': " + wanted);
    if (version->kind != Kind::Number || version->number != kDesignFileVersion)
        reader.at(*version).refuse("is " + described(*version) + "; allowed: version " + wanted +
                                   " of the format, which is the one this program reads");
}

/// Only when the whole is read, since a lock may stand before what it locks.
void requireLocks(ObjectReader& reader, const Design& design) {
    for (std::size_t i = 0; i < design.locked.size(); ++i) {
        const auto wrong = lockComplaint(design, design.locked[i]);
        if (!wrong) continue;
        const Found list = reader.at(*reader.take("locked"));
        const std::string path = list.path + "[" + std::to_string(i) + "]";
        Found{list.source, list.node.children[i], path}.refuse(*wrong);
    }
}

std::string readBounded(const std::filesystem::path& file) {
    const std::string name = file.string();
    std::error_code error;
    if (std::filesystem::is_directory(file, error))
        throw base::InputError(name + ": is a folder; a design file is needed");
    if (std::filesystem::exists(file, error) && !std::filesystem::is_regular_file(file, error))
        throw base::InputError(name + ": is a pipe or a device; a design file is needed");
    errno = 0;
    std::ifstream stream(file, std::ios::binary);
    if (!stream)
        throw base::InputError(name + ": cannot be opened: " + std::generic_category().message(errno));
    std::string text(kLargestDesignFile + 1, '\0');
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (stream.bad())
        throw base::InputError(name + ": cannot be read: " + std::generic_category().message(errno));
    text.resize(static_cast<std::size_t>(stream.gcount()));
    return text;
}

}  // namespace

Design parseDesign(std::string_view text, std::string_view fileName) {
    if (text.size() > kLargestDesignFile)
        throw base::InputError(std::string(fileName) + ": the file is larger than " +
                               std::to_string(kLargestDesignFile) +
                               " bytes, the most a design file may have");
    const SourceText source{text, fileName};
    const JsonNode node = parseLocatedJson(source);
    const Found root{source, node, ""};
    if (node.kind != Kind::Object) root.refuseAs(kGroup);
    Design design;
    ObjectReader reader(root);
    requireVersion(reader, root);
    visitFields(reader, design);
    reader.requireKnownAndSingle();
    requireLocks(reader, design);
    return design;
}

Design readDesign(const std::filesystem::path& file) {
    return parseDesign(readBounded(file), file.string());
}

}  // namespace bandwright::design
