#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "plain_text.hpp"
#include "trade/length.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::trade {

namespace {

/// The systems, and the countries whose shops count in more than one way.
enum class Named : std::uint8_t { Iso, Us, Uk, Japan, Swiss, French, German, Dutch, Diameter, Circumference };

constexpr std::array<std::pair<std::string_view, Named>, 52> kWords{{
    {"iso", Named::Iso},
    {"eu", Named::Iso},
    {"european", Named::Iso},
    {"us", Named::Us},
    {"usa", Named::Us},
    {"u.s.a.", Named::Us},
    {"u.s.", Named::Us},
    {"ca", Named::Us},
    {"canada", Named::Us},
    {"canadian", Named::Us},
    {"mx", Named::Us},
    {"mexico", Named::Us},
    {"american", Named::Us},
    {"uk", Named::Uk},
    {"u.k.", Named::Uk},
    {"gb", Named::Uk},
    {"british", Named::Uk},
    {"ie", Named::Uk},
    {"ireland", Named::Uk},
    {"irish", Named::Uk},
    {"au", Named::Uk},
    {"australia", Named::Uk},
    {"australian", Named::Uk},
    {"nz", Named::Uk},
    {"jp", Named::Japan},
    {"japan", Named::Japan},
    {"japanese", Named::Japan},
    {"ch", Named::Swiss},
    {"swiss", Named::Swiss},
    {"switzerland", Named::Swiss},
    {"it", Named::Swiss},
    {"italy", Named::Swiss},
    {"italian", Named::Swiss},
    {"es", Named::Swiss},
    {"spain", Named::Swiss},
    {"spanish", Named::Swiss},
    {"fr", Named::French},
    {"france", Named::French},
    {"french", Named::French},
    {"de", Named::German},
    {"germany", Named::German},
    {"german", Named::German},
    {"nl", Named::Dutch},
    {"netherlands", Named::Dutch},
    {"dutch", Named::Dutch},
    {"diameter", Named::Diameter},
    {"dia", Named::Diameter},
    {"across", Named::Diameter},
    {"circumference", Named::Circumference},
    {"circ", Named::Circumference},
    {"around", Named::Circumference},
    {"round", Named::Circumference},
}};

/// The sizes of the standard's stick, mm round; below them a number may be counted otherwise.
constexpr double kStickFirst = 41, kStickLast = 76;

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

/// Decimals after a comma, halves as they are said, "9-1/2", and what is written round a number.
std::string asWritten(std::string_view typed) {
    std::string text = plainText(typed);
    const auto isDigitAt = [&text](std::size_t at) {
        return at < text.size() && text[at] >= '0' && text[at] <= '9';
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == ',' && i > 0 && text[i - 1] != ' ' && isDigitAt(i + 1)) text[i] = '.';
        const bool fraction = isDigitAt(i + 1) && i + 2 < text.size() && text[i + 2] == '/';
        if (text[i] == '-' && i > 0 && fraction && (isDigitAt(i - 1) || isLetter(text[i - 1]))) text[i] = ' ';
        if (text[i] == '#' || text[i] == ':') text[i] = ' ';
    }
    text = plainText(text);
    for (const std::string_view half : {" and a half", " half"})
        if (text.ends_with(half)) text = text.substr(0, text.size() - half.size()) + " 1/2";
    return text;
}

/// A length as a person says it: plain decimals as they stand, and what a sum, a fraction or an inch makes of
/// them to the micrometre.
double lengthOf(const std::string& body) {
    constexpr double kMicrometresPerMm = 1000;
    const double mm = parseLength(body);
    const bool plain = body.find_first_of("+-*/(\"it") == std::string::npos;
    return plain ? mm : std::round(mm * kMicrometresPerMm) / kMicrometresPerMm;
}

std::string shown(const RingSize& size) {
    if (size.system == SizeSystem::Diameter) return formatRingSize(size) + " across";
    return formatRingSize(size) + " (" + base::fixed(innerDiameter(size), 2) + " mm across)";
}

/// The marked sizes that a number alone may be, of fingers that there are.
std::vector<RingSize> readings(double number) {
    constexpr double kSmallFinger = 11, kLargeFinger = 26;  // mm across
    std::vector<RingSize> found;
    for (const SizeSystem system : {SizeSystem::Us, SizeSystem::Japan, SizeSystem::Swiss, SizeSystem::Iso,
                                    SizeSystem::Diameter, SizeSystem::Circumference}) {
        const RingSize size{system, number};
        const SizeRule& rule = sizeRule(system);
        const double across = innerDiameter(size);
        if (number < rule.first || across < kSmallFinger || across > kLargeFinger) continue;
        if (!isWholeMultiple(number, rule.step) && system != SizeSystem::Diameter &&
            system != SizeSystem::Circumference)
            continue;
        // One size of ISO 8653 is a circumference.
        const bool again =
            system == SizeSystem::Circumference && !found.empty() && found.back().system == SizeSystem::Iso;
        if (!again) found.push_back(size);
    }
    return found;
}

RingSize circumferenceOf(double number) {
    return {isWholeMultiple(number, 1) ? SizeSystem::Iso : SizeSystem::Circumference, number};
}

RingSize numberAlone(std::string_view typed, double number, std::optional<SizeSystem> expected) {
    if (number >= kStickFirst && number <= kStickLast) return circumferenceOf(number);
    const std::vector<RingSize> found = readings(number);
    for (const RingSize& size : found)
        if (size.system == expected) return size;
    if (found.size() == 1) return found.front();
    if (found.empty()) refuse(typed, "no system has a finger of that number" + std::string(kExamples));
    std::string names;
    for (std::size_t i = 0; i < found.size(); ++i)
        names += (i == 0 ? "" : i + 1 < found.size() ? ", " : " or ") + shown(found[i]);
    refuse(typed, "the number alone does not tell the system: it may be " + names + "; write which");
}

RingSize withoutSystem(std::string_view typed, const std::string& body, std::optional<SizeSystem> expected) {
    const std::size_t letter = body.find_first_of("abcdefghijklmnopqrstuvwxyz\"");
    if (letter == 0) {
        if (const auto value = ukValue(body)) return {SizeSystem::Uk, *value};
        refuse(typed, "it names no system that is known" + std::string(kExamples));
    }
    if (letter != std::string::npos) return {SizeSystem::Diameter, lengthOf(body)};
    const std::optional<double> number = wholeNumber(body);
    if (!number) refuse(typed, "it is no size" + std::string(kExamples));
    RingSize size = numberAlone(typed, *number, expected);
    // As it is read again once it is written with its unit.
    if (size.system == SizeSystem::Diameter || size.system == SizeSystem::Circumference)
        size.value = lengthOf(body);
    return size;
}

double countOf(SizeSystem system, std::string_view typed, const std::string& body) {
    const std::optional<double> value = system == SizeSystem::Uk ? ukValue(body) : wholeNumber(body);
    if (value) return *value;
    refuse(typed, system == SizeSystem::Uk
                      ? "UK sizes are a letter, a letter with a half, or Z+1 and on"
                      : std::string(sizeRule(system).name) + " sizes are numbers such as 9, 9.5 or 9 1/2");
}

/// A French, German or Dutch number: the circumference from 41 mm on. Below, shops count in two ways, and the
/// German one, the diameter, is the only one that is published for Germany.
RingSize byCountry(Named country, std::string_view typed, const std::string& body) {
    const double number = countOf(SizeSystem::Iso, typed, body);
    if (number >= kStickFirst) return circumferenceOf(number);
    if (country == Named::German) return {SizeSystem::Diameter, number};
    const std::string less = shown({SizeSystem::Swiss, number});
    if (country == Named::French) {
        refuse(typed,
               "French sizes are the circumference, from 41 mm on, but some shops write it less 40 mm, "
               "which makes this " +
                   less + "; write the circumference, such as 'FR 54'");
    }
    refuse(typed, "Dutch shops write the circumference less 40 mm, which makes this " + less +
                      ", or the diameter in mm, " + shown({SizeSystem::Diameter, number}) +
                      "; write 'CH' or 'mm' with it");
}

RingSize inNamed(Named named, std::string_view typed, const std::string& body) {
    switch (named) {
        case Named::Iso:
            return {SizeSystem::Iso, countOf(SizeSystem::Iso, typed, body)};
        case Named::Us:
            return {SizeSystem::Us, countOf(SizeSystem::Us, typed, body)};
        case Named::Uk:
            return {SizeSystem::Uk, countOf(SizeSystem::Uk, typed, body)};
        case Named::Japan:
            return {SizeSystem::Japan, countOf(SizeSystem::Japan, typed, body)};
        case Named::Swiss:
            return {SizeSystem::Swiss, countOf(SizeSystem::Swiss, typed, body)};
        case Named::French:
        case Named::German:
        case Named::Dutch:
            return byCountry(named, typed, body);
        case Named::Diameter:
            return {SizeSystem::Diameter, lengthOf(body)};
        case Named::Circumference:
            break;
    }
    return {SizeSystem::Circumference, lengthOf(body)};
}

RingSize readSize(std::string_view typed, std::optional<SizeSystem> expected) {
    std::string body = asWritten(typed);
    for (const std::string_view word : {"ring", "size", "inner", "inside"})
        takeWord(body, word);
    std::optional<Named> named;
    for (const auto& [word, system] : kWords) {
        if (!takeWord(body, word)) continue;
        if (named && *named != system) refuse(typed, "it names two systems");
        named = system;
    }
    for (const std::string_view asInTheStandard : {"8653-", "8653 "})  // "ISO 8653-60"
        if (named == Named::Iso && body.starts_with(asInTheStandard)) body.erase(0, asInTheStandard.size());
    if (body.starts_with('.')) body = "0" + body;
    if (body.empty()) refuse(typed, "the size itself is missing" + std::string(kExamples));
    return named ? inNamed(*named, typed, body) : withoutSystem(typed, body, expected);
}

/// A length that is no finger across may be one round it.
[[noreturn]] void refuseDiameter(std::string_view typed, const RingSize& size) {
    const double diameter = innerDiameter(size);
    const RingSize round{SizeSystem::Circumference, size.value};
    const bool fitsRound = size.system == SizeSystem::Diameter && diameter > kMostInnerDiameter &&
                           innerDiameter(round) <= kMostInnerDiameter;
    refuse(typed, "its inner diameter is " + base::fixed(diameter, 2) + " mm; 8 to 40 mm is allowed" +
                      (fitsRound ? "; for the way round write '" + formatRingSize(round) + "'" : ""));
}

}  // namespace

RingSize parseRingSize(std::string_view text, std::optional<SizeSystem> expected) {
    if (text.size() > kLongestInput) refuse(text, "it is longer than 100 characters");
    const RingSize size = readSize(text, expected);
    const double diameter = innerDiameter(size);
    if (!(diameter >= kLeastInnerDiameter && diameter <= kMostInnerDiameter)) refuseDiameter(text, size);
    if (size.value < sizeRule(size.system).first) {
        refuse(text, "the smallest is " + formatRingSize({size.system, sizeRule(size.system).first}));
    }
    return size;
}

}  // namespace bandwright::trade
