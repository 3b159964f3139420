#include "exchange.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <variant>

#include "check/figures.hpp"

namespace bandwright::check {

namespace {

/// How far apart two materials look.
double farApart(const trade::LinearRgb& a, const trade::LinearRgb& b) {
    return std::abs(a[0] - b[0]) + std::abs(a[1] - b[1]) + std::abs(a[2] - b[2]);
}

struct Choice {
    std::string id;
    double apart = 0;  ///< how far its look is from that of the one there is
};

template <class Material>
std::vector<Choice> choicesOf(const std::vector<Material>& all, const Material* now, auto colourOf) {
    std::vector<Choice> choices;
    for (const Material& m : all) {
        if (now == nullptr || m.id == now->id) continue;
        choices.push_back({m.id, farApart(colourOf(m), colourOf(*now))});
    }
    std::ranges::stable_sort(choices, {}, &Choice::apart);
    return choices;
}

std::vector<Choice> materialsFor(design::MaterialField kind, const std::string& now,
                                 const trade::Catalogue& catalogue) {
    switch (kind) {
        case design::MaterialField::Metal:
            return choicesOf(catalogue.metals, catalogue.metal(now),
                             [](const trade::Metal& m) { return m.reflectance; });
        case design::MaterialField::Gem:
            return choicesOf(catalogue.gems, catalogue.gem(now),
                             [](const trade::Gem& g) { return g.transmission; });
        case design::MaterialField::Filler:
            return choicesOf(catalogue.fillers, catalogue.filler(now),
                             [](const trade::Filler& f) { return f.colour; });
        case design::MaterialField::Adhesive:
            return choicesOf(catalogue.adhesives, catalogue.adhesive(now),
                             [](const trade::Adhesive&) { return trade::LinearRgb{}; });
    }
    return {};
}

/// What stands in a field, as the file writes it.
std::string wordAt(const design::Design& design, const std::string& path) {
    design::Design copy = design;
    const auto value = design::valueAt(copy, path);
    if (std::string* const* id = std::get_if<std::string*>(&value)) return **id;
    if (const auto* words = std::get_if<design::WordChoice>(&value))
        return std::string(words->options[words->chosen].id);
    return {};
}

/// A material as a person reads it; empty when it is none.
std::string materialName(const std::string& id, design::MaterialField kind,
                         const trade::Catalogue& catalogue) {
    const auto nameOf = [](const auto* material) { return material == nullptr ? "" : material->name; };
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
    return {};
}

std::string lowerCase(std::string_view text) {
    std::string result(text);
    if (!result.empty() && result[0] >= 'A' && result[0] <= 'Z')
        result[0] = static_cast<char>(result[0] - 'A' + 'a');
    return result;
}

std::string readable(const std::string& id, const design::Field& field, const design::Design& design,
                     const trade::Catalogue& catalogue) {
    if (field.control == design::Control::MaterialList) return materialName(id, field.material, catalogue);
    design::Design copy = design;
    const auto value = design::valueAt(copy, field.path);
    const auto* words = std::get_if<design::WordChoice>(&value);
    if (words == nullptr) return id;
    const auto option = std::ranges::find(words->options, id, &design::WordChoice::Option::id);
    return option == words->options.end() ? id : lowerCase(option->label);
}

/// Fields of a few words that the maker chooses and the client does not see.
constexpr std::array<std::string_view, 3> kWaysOfWork{"settings[#].tube.join", "settings[#].tube.solder",
                                                      "settings[#].closing"};

}  // namespace

bool isExchangeable(const design::Field& field) {
    if (field.control == design::Control::MaterialList) return true;
    return field.counts && std::ranges::any_of(kWaysOfWork, [&](std::string_view pattern) {
               return design::covers(pattern, field.path);
           });
}

std::vector<Exchange> exchangesFor(const design::Field& field, const design::Design& design,
                                   const trade::Catalogue& catalogue) {
    std::vector<Exchange> result;
    design::Design copy = design;
    const auto value = design::valueAt(copy, field.path);
    const std::string now = wordAt(design, field.path);
    if (std::holds_alternative<std::string*>(value)) {
        for (const Choice& choice : materialsFor(field.material, now, catalogue))
            result.push_back({field.path, now, choice.id});
    } else if (const auto* words = std::get_if<design::WordChoice>(&value)) {
        for (const auto& option : words->options)
            if (option.id != now) result.push_back({field.path, now, std::string(option.id)});
    }
    return result;
}

design::Design exchanged(const design::Design& design, const Exchange& exchange) {
    design::Design result = design;
    const auto value = design::valueAt(result, exchange.field);
    if (std::string* const* id = std::get_if<std::string*>(&value)) **id = exchange.to;
    if (const auto* words = std::get_if<design::WordChoice>(&value)) {
        const auto option = std::ranges::find(words->options, exchange.to, &design::WordChoice::Option::id);
        if (option != words->options.end())
            words->choose(static_cast<std::size_t>(option - words->options.begin()));
    }
    return result;
}

std::vector<Exchange> exchangesBetween(const design::Design& from, const design::Design& to) {
    std::vector<Exchange> result;
    for (const design::Field& field : design::fieldsIn(from)) {
        if (!isExchangeable(field)) continue;
        const std::string before = wordAt(from, field.path), after = wordAt(to, field.path);
        if (before != after) result.push_back({field.path, before, after});
    }
    return result;
}

std::string exchangeText(const Exchange& exchange, const design::Design& design,
                         const trade::Catalogue& catalogue) {
    const auto field = design::fieldAt(design, exchange.field);
    const std::string to = readable(exchange.to, *field, design, catalogue),
                      from = readable(exchange.from, *field, design, catalogue);
    if (field->control != design::Control::MaterialList)
        return "Make " + field->phrase + " " + to + " instead of " + from;
    const auto closed = [](const std::string& name) {  // a name with a comma ends in one
        return name.find(',') == std::string::npos ? name : name + ",";
    };
    return "Take " + closed(to) + " instead of " + closed(from) + " for " + field->phrase;
}

}  // namespace bandwright::check
