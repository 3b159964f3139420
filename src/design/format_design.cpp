#include <nlohmann/json.hpp>

#include "base/numbers.hpp"
#include "design/design_file.hpp"
#include "field_rules.hpp"
#include "platform/atomic_file.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::design {

namespace {

std::string inJson(std::string_view text) {
    return nlohmann::json(text).dump();
}

/// Visits fields and writes them, two spaces a level.
class TextWriter {
  public:
    std::string take() { return std::move(text_); }

    template <class T, class Rule>
    void operator()(std::string_view key, const T& value, const Rule& rule, const Words& /*words*/) {
        next();
        text_ += inJson(key) + ": ";
        write(value, rule);
    }

    template <class T>
    void operator()(std::string_view key, const std::optional<T>& part, const GroupField& rule,
                    const Words& words) {
        if (part) (*this)(key, *part, rule, words);
    }

    /// Most rings have no lock, and older versions of the program read the file when there is none.
    void operator()(std::string_view key, const std::vector<std::string>& paths,
                    const ListField<PathField>& rule, const Words& words) {
        if (!paths.empty()) (*this).operator()<>(key, paths, rule, words);
    }

    void open(char bracket) {
        text_ += bracket;
        ++depth_;
        empty_ = true;
    }

    void close(char bracket) {
        --depth_;
        if (!empty_) startLine();
        text_ += bracket;
        empty_ = false;
    }

    /// Before an item or a member.
    void next() {
        if (!empty_) text_ += ',';
        startLine();
        empty_ = false;
    }

    void write(double value, const NumberField& /*rule*/) { text_ += base::shortestNumber(value); }
    void write(int value, const CountField& /*rule*/) { text_ += std::to_string(value); }
    void write(const std::string& value, const TextField& /*rule*/) { text_ += inJson(value); }
    void write(const std::string& value, MaterialField /*rule*/) { text_ += inJson(value); }
    void write(const std::string& value, PathField /*rule*/) { text_ += inJson(value); }
    void write(const trade::RingSize& value, const SizeField& /*rule*/) {
        text_ += inJson(trade::formatRingSize(value));
    }

    template <class Enum, std::size_t N>
    void write(Enum value, const WordField<Enum, N>& words) {
        text_ += inJson(words[value].id);
    }

    template <class T, class Rule>
    void write(const std::vector<T>& items, const ListField<Rule>& rule) {
        open('[');
        for (const T& item : items) {
            next();
            write(item, rule.each);
        }
        close(']');
    }

    void write(const Route& route, const RouteField& /*rule*/) {
        text_ += '[';
        for (std::size_t i = 0; i < route.size(); ++i) {
            if (i > 0) text_ += ", ";
            write(route[i], kRouteSteps);
        }
        text_ += ']';
    }

    template <class T>
    void write(const T& group, const GroupField& /*rule*/) {
        open('{');
        visitFields(*this, group);
        close('}');
    }

  private:
    void startLine() { text_.append(1, '\n').append(2 * depth_, ' '); }

    std::string text_;
    std::size_t depth_ = 0;
    bool empty_ = true;  ///< nothing stands yet in the innermost bracket
};

}  // namespace

std::string formatDesign(const Design& design) {
    requireValid(design);
    TextWriter writer;
    writer.open('{');
    writer("bandwright", kDesignFileVersion, CountField{kDesignFileVersion, kDesignFileVersion}, {});
    visitFields(writer, design);
    writer.close('}');
    return writer.take() + "\n";
}

void saveDesign(const Design& design, const std::filesystem::path& file) {
    platform::writeFileAtomically(file, formatDesign(design));
}

}  // namespace bandwright::design
