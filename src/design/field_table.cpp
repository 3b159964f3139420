#include "design/field_table.hpp"

#include <cmath>
#include <span>
#include <utility>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "field_rules.hpp"
#include "path.hpp"

namespace bandwright::design {

namespace {

/// Where a walk stands: what the fields there have in common.
struct Around {
    std::string path;
    std::string belonging;  ///< "the tube"; empty = nothing that a sentence needs to say
    std::string numbered;   ///< "setting 2", where there are several
    std::string prefix;     ///< of labels: "Step 2"
    FieldOwner owner = FieldOwner::Ring;
    bool counts = true;
};

NumberField asNumber(const NumberField& rule) {
    return rule;
}
NumberField asNumber(const CountField& rule) {
    return {static_cast<double>(rule.least), static_cast<double>(rule.most), Unit::Pieces};
}

std::string joined(const std::string& path, std::string_view key) {
    return path.empty() ? std::string(key) : path + "." + std::string(key);
}

std::string of(const std::string& whole) {
    return whole.empty() ? "" : " of " + whole;
}

/// What a field belongs to: "the tube of setting 2", "step 1 of the hole".
std::string ownerOf(const Around& around) {
    std::string owner = around.belonging;
    if (owner.empty()) {
        owner = around.numbered;
    } else if (around.numbered != around.belonging) {
        owner += of(around.numbered);
    }
    if (around.prefix.empty()) return owner;
    const bool isNumbered = std::isdigit(static_cast<unsigned char>(around.prefix.back())) != 0;
    return (isNumbered ? "" : "the ") + base::uncapitalised(around.prefix) + of(owner);
}

std::string phraseOf(const Words& words, const Around& around) {
    std::string owner = ownerOf(around);
    if (words.noun.empty() && words.label.empty()) return owner;
    if (words.noun.empty()) return "the " + base::uncapitalised(std::string(words.label)) + of(owner);
    const std::size_t mark = words.noun.find('#');
    std::string phrase(words.noun);
    return mark == std::string::npos ? phrase + of(around.numbered) : phrase.replace(mark, 1, owner);
}

/// Calls take(field) for each field of a design, or for that at one path alone.
template <class Take>
class FieldLister {
  public:
    FieldLister(Around around, std::span<const PathPart> only, bool asPatterns, Take& take)
        : around_(std::move(around)), only_(only), asPatterns_(asPatterns), take_(take) {}

    template <class T, class Rule>
    void operator()(std::string_view key, const T& value, const Rule& rule, const Words& words) {
        if (!only_.empty() && only_.front().key != key) return;
        Around at = around_;
        at.path = joined(around_.path, key);
        at.counts = around_.counts && words.counts;
        list(at, value, rule, words);
    }

  private:
    Field row(const Around& at, const Words& words, Control control) const {
        Field field;
        field.path = at.path;
        field.within = around_.path;
        field.label = at.prefix;
        field.label.append(at.prefix.empty() || words.label.empty() ? "" : " ").append(words.label);
        field.phrase = phraseOf(words, at);
        field.help = words.help;
        field.control = control;
        field.owner = at.owner;
        field.counts = at.counts;
        return field;
    }

    bool isWanted() const { return only_.size() < 2; }
    std::span<const PathPart> rest() const { return only_.empty() ? only_ : only_.subspan(1); }

    void take(Field field) {
        if (isWanted()) take_(std::move(field));
    }

    void list(const Around& at, double /*value*/, const NumberField& rule, const Words& words) {
        Field field = row(at, words, Control::Thimble);
        field.number = rule;
        take(std::move(field));
    }
    void list(const Around& at, int /*value*/, const CountField& rule, const Words& words) {
        Field field = row(at, words, Control::Count);
        field.number = asNumber(rule);
        take(std::move(field));
    }
    void list(const Around& at, const std::string& /*value*/, const TextField& /*rule*/, const Words& words) {
        take(row(at, words, Control::Text));
    }
    void list(const Around& at, const std::string& /*value*/, MaterialField rule, const Words& words) {
        Field field = row(at, words, Control::MaterialList);
        field.material = rule;
        take(std::move(field));
    }
    void list(const Around& at, const trade::RingSize& /*value*/, const SizeField& /*rule*/,
              const Words& words) {
        take(row(at, words, Control::RingSize));
    }
    void list(const Around& at, const Route& /*value*/, const RouteField& /*rule*/, const Words& words) {
        take(row(at, words, Control::Order));
    }
    void list(const Around& /*at*/, const std::string& /*value*/, PathField /*rule*/,
              const Words& /*words*/) {}  // about fields, none itself
    template <class Enum, std::size_t N>
    void list(const Around& at, const Enum& /*value*/, const WordField<Enum, N>& rule, const Words& words) {
        take(row(at, words, rule.sideBySide ? Control::SideBySide : Control::DropDown));
    }

    template <class T>
    void list(Around at, const T& group, const GroupField& /*rule*/, const Words& words) {
        if (!words.belonging.empty()) at.belonging = "the " + std::string(words.belonging);
        if (words.owner != FieldOwner::Ring) at.owner = words.owner;
        if (!only_.empty() && rest().empty()) return;  // it is the group itself that was asked for
        FieldLister inside(std::move(at), rest(), asPatterns_, take_);
        visitFields(inside, group);
    }

    template <class T>
    void list(const Around& at, const std::optional<T>& part, const GroupField& rule, const Words& words) {
        take(row(at, words, Control::Switch));
        if (part) list(at, *part, rule, words);
    }

    template <class T, class Rule>
    void list(const Around& at, const std::vector<T>& items, const ListField<Rule>& rule,
              const Words& words) {
        if (!only_.empty() && !only_.front().place) return;
        for (std::size_t i = 0; i < items.size(); ++i) {
            if (!only_.empty() && *only_.front().place != i) continue;
            const std::string number = items.size() == 1 ? "" : " " + std::to_string(i + 1);
            Around item = at;
            item.path += asPatterns_ ? "[#]" : "[" + std::to_string(i) + "]";
            if (words.owner != FieldOwner::Ring) item.owner = words.owner;
            Words inside;
            inside.help = words.help;
            if (rule.numbering == Numbering::Label) {
                item.prefix = std::string(words.label) + number;
            } else {
                const std::string name(words.belonging);
                item.belonging = number.empty() ? "the " + name : name + number;
                item.numbered = number.empty() ? "" : name + number;
            }
            list(item, items[i], rule.each, inside);
        }
    }

    Around around_;
    std::span<const PathPart> only_;  ///< empty = all
    bool asPatterns_;
    Take& take_;
};

/// Calls found(value, rule) with the value at a path.
template <class Found>
class Seeker {
  public:
    Seeker(std::span<const PathPart> path, Found& found) : path_(path), found_(found) {}

    void operator()(std::string_view key, auto& value, const auto& rule, const Words& /*words*/) {
        if (path_.front().key == key) seek(value, rule);
    }

  private:
    void seek(auto& value, const auto& rule) {
        if (path_.size() == 1 && !path_.front().hasPlace()) found_(value, rule);
    }
    template <class T, class Rule>
    void seek(T& items, const ListField<Rule>& rule) {
        const std::optional<std::size_t> place = path_.front().place;
        if (!place || *place >= items.size()) return;
        if (path_.size() == 1) {
            found_(items[*place], rule.each);
        } else {
            enter(items[*place], rule.each);
        }
    }
    template <class T>
    void seek(T& group, const GroupField& rule) {
        if (path_.front().hasPlace()) return;
        if constexpr (requires { group.has_value(); }) {
            if (path_.size() == 1) {
                found_(group, rule);
            } else if (group) {
                enter(*group, rule);
            }
        } else if (path_.size() > 1) {
            enter(group, rule);
        }
    }

    void enter(auto& group, const GroupField& /*rule*/) {
        Seeker inside(path_.subspan(1), found_);
        visitFields(inside, group);
    }
    void enter(auto& /*item*/, const auto& /*rule*/) {}  // nothing lies inside

    std::span<const PathPart> path_;
    Found& found_;
};

void seek(auto& design, std::string_view path, auto&& found) {
    const std::optional<Path> read = Path::read(path);
    if (!read) return;
    Seeker seeker(read->parts(), found);
    visitFields(seeker, design);
}

template <class Number>
Number* seekNumber(auto& design, std::string_view path) {
    Number* number = nullptr;
    seek(design, path, [&](auto& value, const auto& /*rule*/) {
        if constexpr (std::is_convertible_v<decltype(&value), Number*>) number = &value;
    });
    return number;
}

/// The numbers whose rules are of these kinds.
template <class... Rules>
std::vector<DesignNumber> numbersBy(const Design& design) {
    std::vector<DesignNumber> numbers;
    auto leaf = [&](const WalkPlace& place, const auto& value, const auto& rule) {
        using Rule = std::decay_t<decltype(rule)>;
        if constexpr ((std::is_same_v<Rule, Rules> || ...))
            numbers.push_back({place.path(), static_cast<double>(value), asNumber(rule)});
    };
    FieldWalk walk(leaf);
    visitFields(walk, design);
    return numbers;
}

std::vector<Field> listed(const Design& design, std::span<const PathPart> only, bool asPatterns) {
    std::vector<Field> fields;
    auto take = [&](Field field) { fields.push_back(std::move(field)); };
    FieldLister lister(Around{}, only, asPatterns, take);
    visitFields(lister, design);
    return fields;
}

template <class Enum, std::size_t N>
FieldValue asValue(Enum& value, const WordField<Enum, N>& words) {
    WordChoice choice;
    for (const Word<Enum>& word : words) {
        if (word.value == value) choice.chosen = choice.options.size();
        choice.options.push_back({word.id, word.label});
    }
    choice.choose = [&value, &words](std::size_t chosen) { value = words.words[chosen].value; };
    return choice;
}

template <class T>
FieldValue asValue(std::optional<T>& part, const GroupField& /*rule*/) {
    return PartSwitch{part.has_value(), [&part](bool there) { there ? (void)part.emplace() : part.reset(); }};
}

template <class T>
FieldValue asValue(T& value, const auto& /*rule*/) {
    if constexpr (requires(FieldValue held) { held = &value; }) {
        return &value;
    } else {
        return {};
    }
}

}  // namespace

UnitNames names(Unit unit) {
    switch (unit) {
        case Unit::None:
        case Unit::Pieces:
            return {"", "", ""};
        case Unit::Millimetres:
            return {"mm", "mm", "mm"};
        case Unit::Nanometres:
            return {"nm", "nm", "nm"};
        case Unit::Degrees:
            return {"degrees", "degrees", "\u00B0"};
        case Unit::Percent:
            return {"%", "%", "%"};
        case Unit::Share:
            return {"", "%", "%"};
        case Unit::Grams:
            return {"g", "g", "g"};
    }
    return {};
}

const std::vector<Field>& fieldTable() {
    static const Design kPlain;
    static const std::vector<Field> kTable = listed(withOneOfEach(kPlain), {}, true);
    return kTable;
}

const Field* fieldNamed(std::string_view pattern) {
    const std::vector<Field>& table = fieldTable();
    const auto row = std::ranges::find(table, pattern, &Field::path);
    return row == table.end() ? nullptr : &*row;
}

std::vector<Field> fieldsIn(const Design& design) {
    return listed(design, {}, false);
}

std::optional<Field> fieldAt(const Design& design, std::string_view path) {
    const std::optional<Path> read = Path::read(path);
    if (!read) return std::nullopt;
    std::vector<Field> found = listed(design, read->parts(), false);
    if (found.size() != 1 || found.front().path != path) return std::nullopt;
    return std::move(found.front());
}

FieldValue valueAt(Design& design, std::string_view path) {
    FieldValue result;
    seek(design, path, [&](auto& value, const auto& rule) { result = asValue(value, rule); });
    return result;
}

const double* numberAt(const Design& design, std::string_view path) {
    return seekNumber<const double>(design, path);
}

double* numberAt(Design& design, std::string_view path) {
    return seekNumber<double>(design, path);
}

std::optional<double> quantityAt(const Design& design, std::string_view path) {
    if (const double* number = numberAt(design, path)) return *number;
    if (const int* whole = seekNumber<const int>(design, path)) return *whole;
    return std::nullopt;
}

void setQuantity(Design& design, std::string_view path, double value) {
    if (double* number = numberAt(design, path)) *number = value;
    if (int* whole = seekNumber<int>(design, path)) *whole = static_cast<int>(std::lround(value));
}

std::vector<DesignNumber> numbersIn(const Design& design) {
    return numbersBy<NumberField>(design);
}

std::vector<DesignNumber> quantitiesIn(const Design& design) {
    return numbersBy<NumberField, CountField>(design);
}

Design withOneOfEach(Design design) {
    if (!design.band.liner) design.band.liner.emplace();
    design.channels.emplace_back();
    design.settings.emplace_back().placement.angles = {0};
    design.measured.emplace_back();
    design.done.emplace_back();
    return design;
}

std::string shown(double value, Unit unit, int decimals) {
    const std::string number = base::shortestNumber(base::roundedTo(shownFactor(unit) * value, decimals));
    const std::string_view name = names(unit).inWords;
    return number + (name.empty() ? "" : " ") + std::string(name);
}

}  // namespace bandwright::design
