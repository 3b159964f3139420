#include "trade/length.hpp"

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "plain_text.hpp"

namespace bandwright::trade {

namespace {

// The inch is exactly 25.4 mm: international yard and pound agreement, 1959.
constexpr std::array<std::pair<std::string_view, double>, 8> kUnits{{
    {"mm", 1},
    {"cm", 10},
    {"um", 0.001},
    {"inches", 25.4},
    {"inch", 25.4},
    {"in", 25.4},
    {"\"", 25.4},
    {"thou", 0.0254},
}};

/// One term of a sum: a number and how many mm its unit is, if it names one.
struct Term {
    double value = 0;
    std::optional<double> unit;
};

class LengthReader {
  public:
    explicit LengthReader(std::string_view typed) : typed_(typed), plain_(plainText(typed)), rest_(plain_) {}

    double read() {
        if (typed_.size() > kLongestInput) fail("it is longer than 100 characters");
        if (rest_.empty()) fail("nothing was typed; a length such as 2.5 mm or 3/8 in is needed");
        const double mm = inMm(terms());
        skipSpace();
        if (!rest_.empty()) failAt("does not belong in a length");
        if (!std::isfinite(mm)) fail("the result is not a finite number");
        constexpr double kPicometresPerMm = 1e9;
        const double rounded = std::round(mm * kPicometresPerMm) / kPicometresPerMm;
        return std::isfinite(rounded) ? rounded : mm;
    }

  private:
    [[noreturn]] void fail(const std::string& why) const {
        throw base::InputError("length " + base::inQuotes(typed_) + ": " + why);
    }

    [[noreturn]] void failAt(const std::string& why) const {
        if (rest_.empty()) fail("a number is missing at the end");
        if (rest_.starts_with(',')) fail("write the decimals after a point, not a comma");
        fail(base::inQuotes(rest_) + " " + why);
    }

    void skipSpace() {
        while (rest_.starts_with(' '))
            rest_.remove_prefix(1);
    }

    bool take(char c) {
        skipSpace();
        if (!rest_.starts_with(c)) return false;
        rest_.remove_prefix(1);
        return true;
    }

    std::vector<Term> terms() {
        std::vector<Term> all{term()};
        for (;;) {
            if (take('+')) {
                all.push_back(term());
            } else if (take('-')) {
                all.push_back(term());
                all.back().value = -all.back().value;
            } else {
                return all;
            }
        }
    }

    Term term() {
        Term product{factor(), {}};
        takeUnit(product);
        for (;;) {
            if (take('*')) {
                product.value *= factor();
            } else if (take('/')) {
                const double divisor = factor();
                if (divisor == 0) fail("it divides by zero");
                product.value /= divisor;
            } else {
                return product;
            }
            takeUnit(product);
        }
    }

    double factor() {
        if (take('-')) return -factor();
        if (take('+')) return factor();
        if (take('(')) {
            double sum = 0;
            for (const Term& term : terms()) {
                if (term.unit) fail("a unit stands inside the brackets; write it after them");
                sum += term.value;
            }
            if (!take(')')) fail("a bracket is not closed");
            return sum;
        }
        const std::optional<double> number = takeNumber(rest_);
        if (!number) failAt("stands where a number is needed");
        return *number;
    }

    void takeUnit(Term& term) {
        skipSpace();
        if (rest_.empty() || std::string_view("+-*/()").find(rest_[0]) != std::string_view::npos) return;
        for (const auto& [name, mm] : kUnits) {
            if (!rest_.starts_with(name)) continue;
            const std::string_view after = rest_.substr(name.size());
            const bool wordGoesOn = name != "\"" && !after.empty() && after[0] >= 'a' && after[0] <= 'z';
            if (wordGoesOn) continue;
            if (term.unit) fail("two units stand in one product");
            term.unit = mm;
            rest_ = after;
            return;
        }
        failAt("is not a unit; mm, cm, um, in, \" and thou are known");
    }

    double inMm(const std::vector<Term>& all) const {
        const std::optional<double> last = all.back().unit;
        bool anyBare = false;
        bool unlikeTheBare = false;
        for (const Term& term : all) {
            anyBare = anyBare || !term.unit;
            unlikeTheBare = unlikeTheBare || (term.unit && *term.unit != last.value_or(1));
        }
        if (anyBare && unlikeTheBare) fail("name the unit of every number, or one unit at the end");
        double sum = 0;
        for (const Term& term : all)
            sum += term.value * term.unit.value_or(last.value_or(1));
        return sum;
    }

    std::string_view typed_;
    std::string plain_;
    std::string_view rest_;
};

}  // namespace

double parseLength(std::string_view text) {
    return LengthReader(text).read();
}

}  // namespace bandwright::trade
