#pragma once

#include <rapidcheck.h>

#include "base/input_error.hpp"
#include "design/fields.hpp"

namespace bandwright::design {

/// Fills every field of a design with a value its rule allows; walks the same table as the reader.
struct RandomFields {
    template <class T, class Field>
    void operator()(std::string_view /*key*/, T& value, const Field& field, const Words& /*words*/) {
        fill(value, field);
    }

    void fill(double& value, const NumberField& field) {
        constexpr std::int64_t kParts = std::int64_t{1} << 52;
        const std::int64_t parts =
            *rc::gen::oneOf(rc::gen::element<std::int64_t>(0, kParts / 2, kParts),
                            rc::gen::map(rc::gen::inRange<std::int64_t>(0, 1001),
                                         [](std::int64_t n) { return n * (kParts / 1000); }),
                            rc::gen::inRange<std::int64_t>(0, kParts + 1));
        const double share = static_cast<double>(parts) / static_cast<double>(kParts);
        value = std::clamp(field.least + (field.most - field.least) * share, field.least, field.most);
    }

    void fill(int& value, const CountField& field) { value = *rc::gen::inRange(field.least, field.most + 1); }

    void fill(std::string& value, const TextField& field) {
        value = text(field.most);
        if (field.lines && value.size() < field.most && *rc::gen::arbitrary<bool>()) value += '\n';
    }

    void fill(std::string& value, MaterialField /*field*/) { value = "x" + text(kLongestId - 1); }

    void fill(trade::RingSize& value, const SizeField& /*field*/) {
        value.system = *rc::gen::element(trade::SizeSystem::Iso, trade::SizeSystem::Us, trade::SizeSystem::Uk,
                                         trade::SizeSystem::Japan, trade::SizeSystem::Swiss,
                                         trade::SizeSystem::Diameter, trade::SizeSystem::Circumference);
        switch (value.system) {
            case trade::SizeSystem::Iso:
                value.value = *rc::gen::inRange(41, 77);
                break;
            case trade::SizeSystem::Us:
                value.value = *rc::gen::inRange(0, 65) / 4.0;
                break;
            case trade::SizeSystem::Uk:
                value.value = *rc::gen::inRange(0, 60) / 2.0;
                break;
            case trade::SizeSystem::Japan:
                value.value = *rc::gen::inRange(1, 31);
                break;
            case trade::SizeSystem::Swiss:
                value.value = *rc::gen::inRange(10, 150) / 4.0;
                break;
            case trade::SizeSystem::Diameter:
                value.value = *rc::gen::inRange(1000, 3000) / 100.0;
                break;
            case trade::SizeSystem::Circumference:
                value.value = *rc::gen::inRange(3000, 9000) / 100.0;
                break;
        }
    }

    template <class Enum, std::size_t N>
    void fill(Enum& value, const WordField<Enum, N>& words) {
        value = words.words[*rc::gen::inRange<std::size_t>(0, N)].value;
    }

    template <class T, class Field>
    void fill(std::vector<T>& items, const ListField<Field>& field) {
        constexpr std::size_t kEnough = 3;  // more settings show nothing new
        items.assign(*rc::gen::inRange<std::size_t>(0, std::min(field.most, kEnough) + 1), T{});
        for (T& item : items)
            fill(item, field.each);
    }

    /// A lock drawn by lot would name no field; lock_test.cpp draws those that do.
    void fill(std::vector<std::string>& paths, const ListField<PathField>& /*field*/) { paths.clear(); }

    void fill(Route& route, const RouteField& /*field*/) {
        for (int moves = 0; moves < 8; ++moves) {
            const auto to = *rc::gen::inRange<std::size_t>(0, route.size());
            const auto from = *rc::gen::inRange<std::size_t>(0, route.size());
            if (from <= to) continue;
            try {
                route = movedBefore(route, route[from], route[to]);
            } catch (const base::InputError&) {
                continue;
            }
        }
    }

    template <class T>
    void fill(std::optional<T>& part, const GroupField& field) {
        part.reset();
        if (*rc::gen::arbitrary<bool>()) fill(part.emplace(), field);
    }

    template <class T>
    void fill(T& group, const GroupField& /*field*/) {
        visitFields(*this, group);
    }

    /// Letters, signs that JSON escapes, and characters of two, three and four bytes.
    static std::string text(std::size_t mostBytes) {
        const auto pieces = *rc::gen::container<std::vector<std::string>>(
            rc::gen::element<std::string>("a", "Z", " ", "\"", "\\", "/", "<", "½", "µ", "√", "環", "💍"));
        std::string joined;
        for (const std::string& piece : pieces)
            if (joined.size() + piece.size() <= mostBytes) joined += piece;
        return joined;
    }
};

inline Design randomDesign() {
    Design design;
    RandomFields random;
    visitFields(random, design);
    return design;
}

}  // namespace bandwright::design
