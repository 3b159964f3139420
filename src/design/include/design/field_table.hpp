#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "design/fields.hpp"

/// The rows of the table of fields (fields.hpp) as data, and the fields of a design by their paths in its
/// file: "band.width", "channels[0].depth". In a pattern "#" stands for any place in a list.
namespace bandwright::design {

/// What a person changes a field by.
enum class Control : std::uint8_t {
    Thimble,  ///< a number
    Count,
    Text,
    RingSize,
    MaterialList,
    SideBySide,  ///< one of a few words, all in sight
    DropDown,    ///< the same in a list that opens
    Switch,      ///< a part that is there or not
    Order,       ///< the route
};

/// A row of the table, or the same of one field of a design.
struct Field {
    std::string path;    ///< or its pattern
    std::string within;  ///< path of the object it is in; empty = the design
    std::string label;   ///< on the job card: "Bevel width", "Step 2 depth"
    std::string
        phrase;  ///< in a sentence: "the bevel width of the left edge", "the largest grain of the fill"
    std::string_view help;  ///< what it means
    Control control = Control::Thimble;
    NumberField number{};                           ///< of Thimble and Count
    MaterialField material = MaterialField::Metal;  ///< of MaterialList
    FieldOwner owner = FieldOwner::Ring;
    bool counts = true;  ///< whether it means anything with the fields beside it as they are
};

/// Every field that a person sets, as patterns, in the order of the file.
const std::vector<Field>& fieldTable();

/// The row of a pattern; nullptr when there is none.
const Field* fieldNamed(std::string_view pattern);

/// Every field of a design, in the order of the file.
std::vector<Field> fieldsIn(const Design& design);

/// The field at a path; nothing when the design has none there.
std::optional<Field> fieldAt(const Design& design, std::string_view path);

/// One of a few words, whatever the enumeration.
struct WordChoice {
    struct Option {
        std::string_view id, label;
    };
    std::vector<Option> options;
    std::size_t chosen = 0;
    std::function<void(std::size_t)> choose;
};

/// A part that may be missing; put in, it has its defaults.
struct PartSwitch {
    bool isThere = false;
    std::function<void(bool)> put;
};

/// The value of a field, to be read and changed while the design stands; nothing where there is no such
/// field.
using FieldValue = std::variant<std::monostate, double*, int*, std::string*, trade::RingSize*, Route*,
                                WordChoice, PartSwitch>;
FieldValue valueAt(Design& design, std::string_view path);

/// The number at a path, whole numbers left out; nullptr when the design has none there.
const double* numberAt(const Design& design, std::string_view path);
double* numberAt(Design& design, std::string_view path);

/// The number or whole number at a path; nothing when the design has none there.
std::optional<double> quantityAt(const Design& design, std::string_view path);

/// Sets it; nothing happens when the design has none there. A whole number is set to the nearest.
void setQuantity(Design& design, std::string_view path, double value);

/// A number of a design.
struct DesignNumber {
    std::string path;
    double value = 0;
    NumberField rule;
};

/// Every number that numberAt knows, in the order of the file.
std::vector<DesignNumber> numbersIn(const Design& design);

/// The same with whole numbers.
std::vector<DesignNumber> quantitiesIn(const Design& design);

/// The design with a liner and one more channel, setting, with a listed angle, reading, and operation done,
/// so that it has every field.
Design withOneOfEach(Design design);

/// The path with every place in a list as "#"; as it is when it is no path.
std::string withoutPlaces(std::string_view path);

/// The pattern with its marks replaced by places, in order.
std::string withPlaces(std::string_view pattern, const std::vector<std::size_t>& places);

/// Whether a path, or a pattern, or that of an object, covers `path`: "settings[#].stone" and
/// "settings[0].stone.diameter" both cover "settings[0].stone.diameter".
bool covers(std::string_view pattern, std::string_view path);

/// The number as a person reads it, at most so many decimals and no idle ones, with its unit in words:
/// "1.8 mm", "60 %".
std::string shown(double value, Unit unit, int decimals);

}  // namespace bandwright::design
