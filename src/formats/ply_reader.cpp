#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cstring>
#include <optional>
#include <utility>

#include "base/wording.hpp"
#include "facets.hpp"

/// PLY in its three forms: a head in text that lists elements with their properties, then their values as
/// text or as bytes of either order. Of the vertices x, y and z are taken, of the faces the list of corners;
/// all else is passed over.
namespace bandwright::formats {

namespace {

enum class Form : std::uint8_t { Text, LowFirst, HighFirst };

struct Scalar {
    std::string_view name, otherName;
    std::size_t size;
    bool isSigned, isReal;
};
constexpr std::array<Scalar, 8> kScalars = {{{"char", "int8", 1, true, false},
                                             {"uchar", "uint8", 1, false, false},
                                             {"short", "int16", 2, true, false},
                                             {"ushort", "uint16", 2, false, false},
                                             {"int", "int32", 4, true, false},
                                             {"uint", "uint32", 4, false, false},
                                             {"float", "float32", 4, true, true},
                                             {"double", "float64", 8, true, true}}};

struct PlyProperty {
    const Scalar* value = nullptr;
    const Scalar* count = nullptr;  ///< of a list
    std::string_view name;
};

struct PlyElement {
    std::string_view name;
    std::uint64_t count = 0;
    std::vector<PlyProperty> properties;
};

struct PlyHead {
    Form form = Form::Text;
    std::vector<PlyElement> elements;
    std::size_t size = 0;
};

class PlyReader {
  public:
    PlyReader(const std::filesystem::path& file, const ReadLimits& limits, std::string_view bytes)
        : file_(file), limits_(limits), bytes_(bytes) {}

    Facets read() {
        head_ = readHead();
        rest_ = bytes_.substr(head_.size);
        words_ = Words(rest_);
        bool hasFaces = false;
        for (const PlyElement& element : head_.elements) {
            requireRoom(element);
            if (element.name == "vertex") {
                readVertices(element);
            } else if (element.name == "face") {
                hasFaces = element.count > 0;
                readFaces(element);
            } else {
                pass(element);
            }
        }
        if (!hasFaces) wrong("has points and no facets; a surface is needed");
        return std::move(facets_);
    }

  private:
    [[noreturn]] void wrong(const std::string& why) const { refuse(file_, limits_, why); }
    [[noreturn]] void cutShort() const { wrong("is cut short: it ends before the last element of its head"); }

    std::string_view nextLine(std::size_t& at) const {
        constexpr std::size_t kMostHead = 1U << 16U;
        const std::size_t end = bytes_.substr(0, kMostHead).find('\n', at);
        if (end == std::string_view::npos) wrong("is no PLY file: its head does not end");
        std::string_view line = bytes_.substr(at, end - at);
        at = end + 1;
        if (line.ends_with('\r')) line.remove_suffix(1);
        return line;
    }

    [[noreturn]] void wrongLine(std::string_view line) const {
        wrong("is no PLY file: found " + base::inQuotes(line) + " in its head");
    }

    const Scalar* scalar(std::string_view name, std::string_view line) const {
        const auto* const found = std::ranges::find_if(
            kScalars, [&](const Scalar& s) { return s.name == name || s.otherName == name; });
        if (found == kScalars.end()) wrongLine(line);
        return found;
    }

    PlyHead readHead() const {
        PlyHead head;
        std::size_t at = 0;
        if (nextLine(at) != "ply") wrong("is no PLY file: it does not begin with ply");
        bool hasForm = false;
        for (std::string_view line = nextLine(at); line != "end_header"; line = nextLine(at)) {
            Words words(line);
            const std::string_view word = words.next();
            if (word == "format") {
                head.form = formOf(words.next(), line);
                hasForm = true;
            } else if (word == "element") {
                head.elements.push_back({words.next(), wholeNumber(words.next(), line), {}});
            } else if (word == "property" && !head.elements.empty()) {
                head.elements.back().properties.push_back(propertyOf(words, line));
            } else if (word != "comment" && word != "obj_info" && !word.empty()) {
                wrongLine(line);
            }
        }
        if (!hasForm) wrong("is no PLY file: its head does not say the format");
        head.size = at;
        return head;
    }

    Form formOf(std::string_view word, std::string_view line) const {
        if (word == "ascii") return Form::Text;
        if (word == "binary_little_endian") return Form::LowFirst;
        if (word == "binary_big_endian") return Form::HighFirst;
        wrongLine(line);
    }

    std::uint64_t wholeNumber(std::string_view word, std::string_view line) const {
        std::uint64_t count = 0;
        const char* const end = word.data() + word.size();
        const auto [rest, error] = std::from_chars(word.data(), end, count);
        if (error != std::errc() || rest != end) wrongLine(line);
        return count;
    }

    PlyProperty propertyOf(Words& words, std::string_view line) const {
        PlyProperty property;
        std::string_view type = words.next();
        if (type == "list") {
            property.count = scalar(words.next(), line);
            if (property.count->isReal) wrongLine(line);
            type = words.next();
        }
        property.value = scalar(type, line);
        property.name = words.next();
        return property;
    }

    std::size_t left() const { return head_.form == Form::Text ? words_.left() : rest_.size(); }

    /// What the head tells is held against what is there before room is made for it.
    void requireRoom(const PlyElement& element) const {
        std::uint64_t least = 0;  // bytes of one
        for (const PlyProperty& property : element.properties) {
            const Scalar& first = property.count ? *property.count : *property.value;
            least += head_.form == Form::Text ? 2 : first.size;
        }
        // In text the last value has nothing behind it.
        if (least > 0 && element.count > (left() + 1) / least)
            wrong("is cut short: its head tells of " + std::to_string(element.count) + " elements " +
                  base::inQuotes(element.name) + ", for which it has too few bytes");
    }

    double value(const Scalar& type) {
        double number = 0;
        if (head_.form == Form::Text) {
            if (!words_.number(number)) {
                if (words_.left() == 0) cutShort();
                wrong("has a value that is no number");
            }
            return number;
        }
        if (rest_.size() < type.size) cutShort();
        std::array<char, 8> bytes{};
        std::copy_n(rest_.begin(), type.size, bytes.begin());
        rest_.remove_prefix(type.size);
        if (head_.form == Form::HighFirst)
            std::reverse(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(type.size));
        if (type.isReal) return type.size == 4 ? as<float>(bytes) : as<double>(bytes);
        switch (type.size) {
            case 1:
                return type.isSigned ? as<std::int8_t>(bytes) : as<std::uint8_t>(bytes);
            case 2:
                return type.isSigned ? as<std::int16_t>(bytes) : as<std::uint16_t>(bytes);
            default:
                return type.isSigned ? as<std::int32_t>(bytes) : as<std::uint32_t>(bytes);
        }
    }

    template <class Number>
    static double as(const std::array<char, 8>& bytes) {
        static_assert(std::endian::native == std::endian::little);
        Number number{};
        std::memcpy(&number, bytes.data(), sizeof number);
        return static_cast<double>(number);
    }

    std::uint32_t count(const PlyProperty& property) {
        const double number = value(*property.count);
        const double room = static_cast<double>(left() + 1);
        const double each = head_.form == Form::Text ? 2 : static_cast<double>(property.value->size);
        if (!(number >= 0) || number * each > room) cutShort();
        return static_cast<std::uint32_t>(number);
    }

    void pass(const PlyProperty& property) {
        const std::uint32_t values = property.count ? count(property) : 1;
        for (std::uint32_t i = 0; i < values; ++i)
            value(*property.value);
    }

    void pass(const PlyElement& element) {
        if (element.properties.empty()) return;
        for (std::uint64_t i = 0; i < element.count; ++i)
            for (const PlyProperty& property : element.properties)
                pass(property);
    }

    void readVertices(const PlyElement& element) {
        constexpr std::array<std::string_view, 3> kNames = {"x", "y", "z"};
        for (const std::string_view name : kNames) {
            if (std::ranges::none_of(element.properties,
                                     [&](const PlyProperty& p) { return p.name == name && !p.count; }))
                wrong("has vertices without x, y and z");
        }
        facets_.points.reserve(static_cast<std::size_t>(element.count));
        for (std::uint64_t i = 0; i < element.count; ++i) {
            geometry::Vec3 p;
            for (const PlyProperty& property : element.properties) {
                if (property.count || property.name.size() != 1 || property.name[0] < 'x' ||
                    property.name[0] > 'z') {
                    pass(property);
                } else {
                    (property.name == "x" ? p.x : property.name == "y" ? p.y : p.z) = value(*property.value);
                }
            }
            facets_.points.push_back(p);
        }
    }

    void readFaces(const PlyElement& element) {
        const auto isCorners = [](const PlyProperty& p) {
            return p.count && (p.name == "vertex_indices" || p.name == "vertex_index");
        };
        if (element.count > 0 && std::ranges::none_of(element.properties, isCorners))
            wrong("has facets without a list of their corners");
        facets_.sizes.reserve(static_cast<std::size_t>(element.count));
        for (std::uint64_t i = 0; i < element.count; ++i) {
            for (const PlyProperty& property : element.properties) {
                if (!isCorners(property)) {
                    pass(property);
                    continue;
                }
                const std::uint32_t corners = count(property);
                for (std::uint32_t k = 0; k < corners; ++k) {
                    const double corner = value(*property.value);
                    // What no point can be is told when all points are known.
                    facets_.corners.push_back(
                        corner >= 0 && corner < UINT32_MAX ? static_cast<std::uint32_t>(corner) : UINT32_MAX);
                }
                facets_.sizes.push_back(corners);
            }
        }
    }

    const std::filesystem::path& file_;
    const ReadLimits& limits_;
    std::string_view bytes_, rest_;
    Words words_{{}};
    PlyHead head_;
    Facets facets_;
};

}  // namespace

Facets readPly(const std::filesystem::path& file, const ReadLimits& limits) {
    const std::string bytes = fileBytes(file, limits);
    return PlyReader(file, limits, bytes).read();
}

}  // namespace bandwright::formats
