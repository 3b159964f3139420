#include "located_json.hpp"

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"

namespace bandwright::design {

namespace {

constexpr std::size_t kDeepest = 32;

/// How far the parser has read: it takes characters one by one, so every event knows where it happened.
struct Progress {
    std::size_t taken = 0;
    bool askedBeyondEnd = false;
};

class Cursor {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    Cursor(const char* at, const char* end, Progress& progress) : at_(at), end_(end), progress_(&progress) {}

    reference operator*() const { return *at_; }
    Cursor& operator++() {
        ++at_;
        ++progress_->taken;
        return *this;
    }
    bool operator==(const Cursor& other) const {
        progress_->askedBeyondEnd = at_ == end_;
        return at_ == other.at_;
    }

  private:
    const char* at_;
    const char* end_;
    Progress* progress_;
};

/// Takes the parser's events and grows the tree. Between the end of one value or key and the start of the
/// next stand only white space and ",:]}", so the start of a token is found by skipping those; a number's
/// event comes when the character after it has been taken too, and that is one of them.
class TreeBuilder : public nlohmann::json_sax<nlohmann::json> {
  public:
    TreeBuilder(const SourceText& source, const Progress& progress) : source_(source), progress_(progress) {}

    JsonNode take() { return std::move(root_); }

    bool null() override { return leaf(JsonNode::Kind::Null); }
    bool boolean(bool value) override {
        add(JsonNode::Kind::Boolean).boolean = value;
        return true;
    }
    bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
    bool number_float(number_float_t value, const string_t& /*text*/) override { return number(value); }
    bool string(string_t& value) override {
        add(JsonNode::Kind::Text).text = std::move(value);
        return true;
    }
    bool binary(binary_t& /*value*/) override { return false; }

    bool start_object(std::size_t /*size*/) override { return open(JsonNode::Kind::Object); }
    bool end_object() override { return close(); }
    bool start_array(std::size_t /*size*/) override { return open(JsonNode::Kind::List); }
    bool end_array() override { return close(); }

    bool key(string_t& value) override {
        key_ = std::move(value);
        keyOffset_ = startOfToken();
        after_ = progress_.taken;
        return true;
    }

    bool parse_error(std::size_t /*position*/, const std::string& token,
                     const nlohmann::detail::exception& error) override {
        constexpr int kNumberOverflow = 406;
        if (error.id == kNumberOverflow) source_.refuse(startOfToken(), "this number is too large");
        if (progress_.askedBeyondEnd)
            source_.refuse(source_.text.size(), "the file ends before its JSON is complete; was it cut off?");
        refuseSyntax(token, error.what());
    }

  private:
    /// Says it in the parser's own words: of "[...] parse error at ...: syntax error while parsing X -
    /// REASON; last read: '...'" the reason, because the place is said already and what was read may be long
    /// or not text.
    [[noreturn]] void refuseSyntax(const std::string& token, std::string_view what) const {
        const std::size_t dash = what.find(" - ");
        if (dash != std::string_view::npos) what.remove_prefix(dash + 3);
        std::string reason(what.substr(0, what.find("; last read")));
        if (reason.ends_with("expected '}'") || reason.ends_with("expected ']'"))
            reason.insert(reason.size() - 3, "',' or ");
        std::size_t place = progress_.taken - 1;
        const bool isNumber = reason.starts_with("unexpected number");
        if (isNumber || reason.starts_with("unexpected string")) {
            place = progress_.taken - token.size() - (isNumber ? 1 : 0);
            reason += ", found " + base::inQuotes(token);
        } else if (reason.starts_with("invalid literal") || reason.starts_with("invalid number")) {
            reason += ", found " + base::inQuotes(source_.text.substr(place, 1));
        }
        source_.refuse(place, "this is not JSON: " + reason);
    }

    std::size_t startOfToken() const { return source_.text.find_first_not_of(" \t\r\n,:]}", after_); }

    JsonNode& add(JsonNode::Kind kind) {
        JsonNode& node = open_.empty() ? root_ : open_.back()->children.emplace_back();
        node.kind = kind;
        node.key = std::exchange(key_, {});
        node.keyOffset = keyOffset_;
        node.offset = startOfToken();
        after_ = progress_.taken;
        return node;
    }

    bool leaf(JsonNode::Kind kind) {
        add(kind);
        return true;
    }

    bool number(double value) {
        add(JsonNode::Kind::Number).number = value;
        return true;
    }

    bool open(JsonNode::Kind kind) {
        if (open_.size() == kDeepest)
            source_.refuse(progress_.taken - 1,
                           "lists and objects are nested deeper than " + std::to_string(kDeepest));
        open_.push_back(&add(kind));
        return true;
    }

    bool close() {
        open_.pop_back();
        return true;
    }

    const SourceText& source_;
    const Progress& progress_;
    JsonNode root_;
    std::vector<JsonNode*> open_;  ///< from the root inwards; only the innermost one's children grow
    std::string key_;
    std::size_t keyOffset_ = 0;
    std::size_t after_ = 0;  ///< the end of what has been taken into the tree
};

}  // namespace

void SourceText::refuse(std::size_t offset, const std::string& sentence) const {
    const std::string_view before = text.substr(0, offset);
    const auto line = 1 + std::count(before.begin(), before.end(), '\n');
    const std::string_view inLine = before.substr(before.rfind('\n') + 1);
    const auto column = 1 + std::count_if(inLine.begin(), inLine.end(), [](char c) {
                            return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
                        });
    throw base::InputError(std::string(fileName) + ":" + std::to_string(line) + ":" + std::to_string(column) +
                           ": " + sentence);
}

JsonNode parseLocatedJson(const SourceText& source) {
    const std::string_view text = source.text;
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) source.refuse(0, "the file is empty");
    if (text.starts_with("\xEF\xBB\xBF"))
        source.refuse(0, "the file starts with a byte-order mark; save it as UTF-8 without one");
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
        source.refuse(0, "the file is in UTF-16; save it as UTF-8");
    // The parser would take a zero byte for the end of the text.
    if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos)
        source.refuse(zero, "a zero byte stands here; a design file is text in UTF-8");

    Progress progress;
    TreeBuilder builder(source, progress);
    const char* end = text.data() + text.size();
    nlohmann::json::sax_parse(Cursor(text.data(), end, progress), Cursor(end, end, progress), &builder);
    return builder.take();
}

std::string described(const JsonNode& node) {
    switch (node.kind) {
        case JsonNode::Kind::Null:
            return "null";
        case JsonNode::Kind::Boolean:
            return node.boolean ? "true" : "false";
        case JsonNode::Kind::Number:
            return base::shortestNumber(node.number);
        case JsonNode::Kind::Text:
            return base::inQuotes(node.text);
        case JsonNode::Kind::List:
            return "a list";
        case JsonNode::Kind::Object:
            return "an object";
    }
    return {};
}

}  // namespace bandwright::design
