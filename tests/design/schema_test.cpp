#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "base/input_error.hpp"
#include "design/design_file.hpp"

namespace bandwright::design {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

const fs::path kSchemaFile = fs::path(BANDWRIGHT_MODELS) / "design.schema.json";

// UPDATE_GOLDENS=1 writes the file anew after the table has changed.
TEST(Schema, TheFileInModelsIsMadeFromTheTable) {
    if (std::getenv("UPDATE_GOLDENS") != nullptr) std::ofstream(kSchemaFile) << designSchema();
    std::ostringstream bytes;
    bytes << std::ifstream(kSchemaFile).rdbuf();
    EXPECT_EQ(bytes.str(), designSchema());
}

bool isRead(const std::string& text) {
    try {
        parseDesign(text, "x");
        return true;
    } catch (const base::InputError&) {
        return false;
    }
}

/// A design with one of everything, so that its file has every key.
Design fullDesign() {
    Design design;
    design.channels.emplace_back();
    design.settings.emplace_back();
    design.settings[0].placement.angles = {90};
    return design;
}

/// The schema of the value at a place of the document.
Json schemaAt(Json schema, const Json::json_pointer& place) {
    if (place.empty()) return schema;
    const Json outer = schemaAt(std::move(schema), place.parent_pointer());
    return outer.contains("items") ? outer["items"] : outer["properties"][place.back()];
}

/// Values to try in place of one with this schema: of every type, and at, just inside and just outside each
/// bound.
std::vector<Json> replacements(const Json& schema) {
    std::vector<Json> values{nullptr,       true,           "",  "no such word", "9 parsec",
                             Json::array(), Json::object(), 1e6, -1e6,           0.5};
    const Json number = schema.contains("anyOf") ? schema["anyOf"][0] : schema;
    for (const char* bound : {"minimum", "maximum"}) {
        if (!number.contains(bound)) continue;
        const double value = number[bound];
        values.emplace_back(value);
        values.emplace_back(std::nextafter(value, -1e9));
        values.emplace_back(std::nextafter(value, 1e9));
    }
    for (const Json& word : schema.value("enum", Json::array()))
        values.push_back(word);
    if (schema.contains("maxLength")) {
        const std::size_t most = schema["maxLength"];
        values.emplace_back(std::string(most, 'x'));
        values.emplace_back(std::string(most + 1, 'x'));
    }
    if (schema.contains("maxItems")) {
        const std::size_t most = schema["maxItems"];
        const Json item = schema["items"].value("type", Json()) == "object" ? Json::object() : Json(0);
        values.emplace_back(Json(most, item));
        values.emplace_back(Json(most + 1, item));
    }
    return values;
}

class Verdicts {
  public:
    explicit Verdicts(const fs::path& file) : lines_(file) {}

    void add(const std::string& name, const Json& document) {
        const std::string text = document.dump();
        const Json line = {{"name", name}, {"text", text}, {"accepted", isRead(text)}};
        lines_ << line.dump() << "\n";
        ++count_;
    }
    std::size_t count() const { return count_; }

  private:
    std::ofstream lines_;
    std::size_t count_ = 0;
};

/// Changes every value of the document in turn, and leaves out and adds a key in every object.
void addVariants(Verdicts& verdicts, const Json& schema) {
    const Json whole = Json::parse(formatDesign(fullDesign()));
    verdicts.add("the whole", whole);
    const Json places = whole.flatten();
    std::set<std::string> visited;
    for (const auto& [leaf, unused] : places.items()) {
        for (Json::json_pointer place(leaf); !place.empty(); place.pop_back()) {
            if (!visited.insert(place.to_string()).second) continue;
            const Json here = schemaAt(schema, place);
            const bool isText = here.value("type", Json()) == "string" && !here.contains("maxLength");
            for (const Json& value : replacements(here)) {
                // Only the reader judges what a text such as "US 99" means.
                if (isText && value.is_string() && value != "") continue;
                Json document = whole;
                document[place] = value;
                verdicts.add(place.to_string() + " = " + value.dump().substr(0, 40), document);
            }
            Json without = whole;
            if (here.contains("description")) without[place.parent_pointer()].erase(place.back());
            verdicts.add("without " + place.to_string(), without);
            if (!whole[place].is_object()) continue;
            Json with = whole;
            with[place]["extra"] = 1;
            verdicts.add("an extra key in " + place.to_string(), with);
        }
    }
}

// The judge of the schema is python3-jsonschema, the judge of the file our reader; they must agree on every
// variant.
TEST(Schema, AcceptsWhatTheReaderAcceptsAndRefusesWhatItRefuses) {
    std::string name = (fs::temp_directory_path() / "bandwright-verdicts-XXXXXX").string();
    const int descriptor = mkstemp(name.data());
    ASSERT_GE(descriptor, 0);
    close(descriptor);
    Verdicts verdicts(name);
    addVariants(verdicts, Json::parse(designSchema()));
    EXPECT_GT(verdicts.count(), 1000U);
    const std::string command = std::string(BANDWRIGHT_PYTHON) + " '" + BANDWRIGHT_TESTS + "/design" +
                                "/validate.py' '" + kSchemaFile.string() + "' --verdicts '" + name + "'";
    EXPECT_EQ(std::system(command.c_str()), 0) << command;
    fs::remove(name);
}

}  // namespace
}  // namespace bandwright::design
