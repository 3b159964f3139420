#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "plain_text.hpp"
#include "trade/length.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::trade {

namespace {

constexpr std::array<std::pair<std::string_view, SizeSystem>, 34> kWords{{
    {"iso", SizeSystem::Iso},
    {"us", SizeSystem::Us},
    {"usa", SizeSystem::Us},
    {"ca", SizeSystem::Us},
    {"canada", SizeSystem::Us},
    {"american", SizeSystem::Us},
    {"uk", SizeSystem::Uk},
    {"gb", SizeSystem::Uk},
    {"british", SizeSystem::Uk},
    {"ie", SizeSystem::Uk},
    {"ireland", SizeSystem::Uk},
    {"au", SizeSystem::Uk},
    {"australia", SizeSystem::Uk},
    {"nz", SizeSystem::Uk},
    {"jp", SizeSystem::Japan},
    {"japan", SizeSystem::Japan},
    {"japanese", SizeSystem::Japan},
    {"ch", SizeSystem::Swiss},
    {"swiss", SizeSystem::Swiss},
    {"switzerland", SizeSystem::Swiss},
    {"it", SizeSystem::Swiss},
    {"italy", SizeSystem::Swiss},
    {"italian", SizeSystem::Swiss},
    {"es", SizeSystem::Swiss},
    {"spain", SizeSystem::Swiss},
    {"spanish", SizeSystem::Swiss},
    {"nl", SizeSystem::Swiss},
    {"netherlands", SizeSystem::Swiss},
    {"dutch", SizeSystem::Swiss},
    {"diameter", SizeSystem::Diameter},
    {"dia", SizeSystem::Diameter},
    {"circumference", SizeSystem::Circumference},
    {"circ", SizeSystem::Circumference},
    {"around", SizeSystem::Circumference},
}};

constexpr std::string_view kExamples =
    "; allowed are for example 'US 9 1/2', 'UK R', 'ISO 60', 'JP 18', 'CH 20', '18.95 mm' or '59.5 mm "
    "circumference'";

[[noreturn]] void refuse(std::string_view typed, const std::string& why) {
    throw base::InputError("ring size " + base::inQuotes(typed) + ": " + why);
}

bool isLetter(char c) {
    return c >= 'a' && c <= 'z';
}

/// Takes the whole word out of the text wherever it stands; false when it is not there.
bool takeWord(std::string& text, std::string_view word) {
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at > 0 && isLetter(text[at - 1])) || (end < text.size() && isLetter(text[end]))) continue;
        text.replace(at, word.size(), " ");
        text = plainText(text);
        return true;
    }
    return false;
}

/// A number that is all of `text`: "9", "9.5", "9 1/2", "1/2".
std::optional<double> wholeNumber(std::string_view text) {
    const std::optional<double> number = takeNumber(text);
    if (!number || text.empty()) return number;
    if (!text.starts_with('/')) return std::nullopt;
    text.remove_prefix(1);
    const std::optional<double> divisor = takeNumber(text);
    if (!divisor || !text.empty() || *divisor <= *number) return std::nullopt;
    return *number / *divisor;
}

bool isWholeMultiple(double value, double step) {
    return std::floor(value / step) == value / step;
}

/// UK letters: "r", "r 1/2", "z+1", "z + 1 1/2".
std::optional<double> ukValue(std::string_view text) {
    if (text.empty() || !isLetter(text[0])) return std::nullopt;
    const double letter = text[0] - 'a';
    text.remove_prefix(1);
    const auto skipSpace = [&text] {
        while (text.starts_with(' '))
            text.remove_prefix(1);
    };
    skipSpace();
    if (text.empty()) return letter;
    const bool plus = text.starts_with('+');
    if (plus) text.remove_prefix(1);
    skipSpace();
    const std::optional<double> more = wholeNumber(text);
    const bool afterZ = letter == 25 && plus;
    if (!more || !isWholeMultiple(*more, 0.25) || (*more >= 1 && !afterZ)) return std::nullopt;
    return letter + *more;
}

RingSize withoutSystem(std::string_view typed, const std::string& body) {
    const std::size_t letter = body.find_first_of("abcdefghijklmnopqrstuvwxyz\"");
    if (letter == 0) {
        if (const auto value = ukValue(body)) return {SizeSystem::Uk, *value};
        refuse(typed, "it names no system that is known" + std::string(kExamples));
    }
    if (letter != std::string::npos) return {SizeSystem::Diameter, parseLength(body)};
    const std::optional<double> number = wholeNumber(body);
    if (!number) refuse(typed, "it is no size" + std::string(kExamples));
    if (*number <= 16 && isWholeMultiple(*number, 0.25)) return {SizeSystem::Us, *number};
    if (*number >= 41 && *number <= 76 && isWholeMultiple(*number, 1)) return {SizeSystem::Iso, *number};
    refuse(typed, "the number alone does not tell the system" + std::string(kExamples));
}

double valueIn(SizeSystem system, std::string_view typed, const std::string& body) {
    if (system == SizeSystem::Diameter || system == SizeSystem::Circumference) return parseLength(body);
    const std::optional<double> value = system == SizeSystem::Uk ? ukValue(body) : wholeNumber(body);
    if (value) return *value;
    refuse(typed, system == SizeSystem::Uk
                      ? "UK sizes are a letter, a letter with a half, or Z+1 and on"
                      : std::string(sizeRule(system).name) + " sizes are numbers such as 9, 9.5 or 9 1/2");
}

RingSize readSize(std::string_view typed) {
    std::string body = plainText(typed);
    for (const std::string_view word : {"ring", "size", "inner", "inside"})
        takeWord(body, word);
    std::optional<SizeSystem> system;
    for (const auto& [word, named] : kWords) {
        if (!takeWord(body, word)) continue;
        if (system && *system != named) refuse(typed, "it names two systems");
        system = named;
    }
    constexpr std::string_view kAsInTheStandard = "8653-";  // "ISO 8653-60"
    if (system == SizeSystem::Iso && body.starts_with(kAsInTheStandard))
        body.erase(0, kAsInTheStandard.size());
    if (body.starts_with(':')) body = plainText(body.substr(1));
    if (body.empty()) refuse(typed, "the size itself is missing" + std::string(kExamples));
    return system ? RingSize{*system, valueIn(*system, typed, body)} : withoutSystem(typed, body);
}

}  // namespace

RingSize parseRingSize(std::string_view text) {
    if (text.size() > kLongestInput) refuse(text, "it is longer than 100 characters");
    const RingSize size = readSize(text);
    const double diameter = innerDiameter(size);
    if (!(diameter >= kLeastInnerDiameter && diameter <= kMostInnerDiameter)) {
        refuse(text, "its inner diameter is " + base::fixed(diameter, 2) + " mm; 8 to 40 mm is allowed");
    }
    if (size.value < sizeRule(size.system).first) {
        refuse(text, "the smallest is " + formatRingSize({size.system, sizeRule(size.system).first}));
    }
    return size;
}

}  // namespace bandwright::trade
