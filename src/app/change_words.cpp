#include "app/change_words.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>
#include <variant>

#include "base/wording.hpp"
#include "check/figures.hpp"
#include "design/field_table.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::app {

namespace {

std::string materialNamed(const std::string& id, design::MaterialField kind,
                          const trade::Catalogue& catalogue) {
    const auto nameOf = [&](const auto* material) { return material == nullptr ? id : material->name; };
    switch (kind) {
        case design::MaterialField::Metal:
            return nameOf(catalogue.metal(id));
        case design::MaterialField::Gem:
            return nameOf(catalogue.gem(id));
        case design::MaterialField::Filler:
            return nameOf(catalogue.filler(id));
        case design::MaterialField::Adhesive:
            return nameOf(catalogue.adhesive(id));
    }
    return id;
}

/// "Width of the band" of "the width of the band".
std::string subject(const design::Field& field) {
    std::string_view phrase = field.phrase;
    if (phrase.starts_with("the ")) phrase.remove_prefix(4);
    return base::capitalised(std::string(phrase));
}

/// "Fill of the channel", whose switch the card calls "Filled".
std::string partNamed(const design::Field& field) {
    const std::size_t of = field.phrase.find(" of ");
    return base::capitalised(field.path.substr(field.path.rfind('.') + 1)) +
           (of == std::string::npos ? "" : field.phrase.substr(of));
}

/// A value of a field as a person reads it; of numbers the two together are written otherwise.
std::string valueInWords(design::Design& design, const design::Field& field,
                         const trade::Catalogue& catalogue) {
    const design::FieldValue value = design::valueAt(design, field.path);
    if (const auto* const* text = std::get_if<std::string*>(&value)) {
        if (field.control == design::Control::MaterialList)
            return materialNamed(**text, field.material, catalogue);
        return (*text)->empty() ? "nothing" : base::inQuotes(**text);
    }
    if (const auto* const* size = std::get_if<trade::RingSize*>(&value)) return trade::formatRingSize(**size);
    if (const auto* words = std::get_if<design::WordChoice>(&value))
        return base::uncapitalised(std::string(words->options[words->chosen].label));
    if (const auto* const* count = std::get_if<int*>(&value)) return std::to_string(**count);
    return {};
}

/// What changed in a field that both have; nothing where it is the same.
std::optional<std::string> fieldChange(design::Design& from, design::Design& to, const design::Field& field,
                                       const trade::Catalogue& catalogue) {
    const design::FieldValue before = design::valueAt(from, field.path),
                             after = design::valueAt(to, field.path);
    if (before.index() != after.index()) return std::nullopt;
    if (const auto* const* number = std::get_if<double*>(&before)) {
        const check::Change change{field.path, **number, **std::get_if<double*>(&after)};
        if (change.from == change.to) return std::nullopt;
        return subject(field) + ": " + check::changeText(change, field.number);
    }
    if (const auto* part = std::get_if<design::PartSwitch>(&before)) {
        const bool isThere = std::get_if<design::PartSwitch>(&after)->isThere;
        if (part->isThere == isThere) return std::nullopt;
        return partNamed(field) + (isThere ? " put in" : " taken out");
    }
    if (const auto* const* route = std::get_if<design::Route*>(&before)) {
        if (**route == **std::get_if<design::Route*>(&after)) return std::nullopt;
        return "Order of the work";
    }
    const std::string was = valueInWords(from, field, catalogue), is = valueInWords(to, field, catalogue);
    if (was == is) return std::nullopt;
    return subject(field) + ": " + is + " instead of " + was;
}

/// "A channel put in", "2 channels taken out"; nothing where there are as many.
std::optional<std::string> countChange(std::size_t from, std::size_t to, const std::string& one) {
    if (from == to) return std::nullopt;
    const std::size_t count = from < to ? to - from : from - to;
    return (count == 1 ? "A " + one : std::to_string(count) + " " + one + "s") +
           (from < to ? " put in" : " taken out");
}

}  // namespace

std::vector<FieldChange> changesByField(const design::Design& from, const design::Design& to,
                                        const trade::Catalogue& catalogue) {
    std::vector<FieldChange> changes;
    const auto add = [&](const std::string& path, std::optional<std::string> text) {
        if (text) changes.push_back({path, std::move(*text)});
    };
    add("channels", countChange(from.channels.size(), to.channels.size(), "channel"));
    add("settings", countChange(from.settings.size(), to.settings.size(), "setting"));
    const bool sameChannels = from.channels.size() == to.channels.size(),
               sameSettings = from.settings.size() == to.settings.size();
    design::Design before = from, after = to;
    // Fields that only one of them has belong to a part that was put in or taken out.
    for (const design::Field& field : design::fieldsIn(to)) {
        if (!sameChannels && field.path.starts_with("channels[")) continue;
        if (!sameSettings && field.path.starts_with("settings[")) continue;
        add(field.path, fieldChange(before, after, field, catalogue));
    }
    if (from.locked != to.locked && sameChannels && sameSettings) add("locked", "Locks");
    if (from.measured != to.measured) add("measured", "Readings at the bench");
    if (from.done != to.done) add("done", "Ticks at the bench");
    if (changes.empty() && from != to) add("", "What is not on the card");
    return changes;
}

std::vector<std::string> changesInWords(const design::Design& from, const design::Design& to,
                                        const trade::Catalogue& catalogue) {
    std::vector<std::string> words;
    for (FieldChange& change : changesByField(from, to, catalogue))
        words.push_back(std::move(change.text));
    return words;
}

std::string changeInWords(const design::Design& from, const design::Design& to,
                          const trade::Catalogue& catalogue) {
    const std::vector<std::string> words = changesInWords(from, to, catalogue);
    if (words.empty()) return "Nothing";
    if (words.size() == 1) return words.front();
    return words.front() + ", and " + std::to_string(words.size() - 1) + " more";
}

}  // namespace bandwright::app
