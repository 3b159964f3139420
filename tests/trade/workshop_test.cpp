#include "trade/workshop.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "base/input_error.hpp"
#include "trade/workshop_fields.hpp"

namespace bandwright::trade {
namespace {

std::filesystem::path written(const std::string& text) {
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() /
        (std::string("bandwright-workshop-") + testing::UnitTest::GetInstance()->current_test_info()->name() +
         ".json");
    std::ofstream(file) << text;
    return file;
}

Workshop read(const std::string& text) {
    return readWorkshop(written(text), builtInCatalogue());
}

std::string refusal(const std::string& text) {
    try {
        read(text);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(Workshop, NeedsNothing) {
    EXPECT_EQ(read("{}"), Workshop{});
    EXPECT_EQ(withWorkshop(builtInCatalogue(), {}), builtInCatalogue());
}

TEST(Workshop, OfTheSampleIsReadWhole) {
    const Workshop shop =
        readWorkshop(std::string(BANDWRIGHT_MODELS) + "/my-workshop.json", builtInCatalogue());
    EXPECT_EQ(shop.name, "Slate Quay Rings");
    EXPECT_EQ(shop.region, Region::EuUk);
    EXPECT_EQ(shop.lathe, (Spindle{80, 2500, {}}));
    EXPECT_EQ(shop.mill, (Spindle{250, 5000, {250, 500, 900, 1600, 2800, 5000}}));
    EXPECT_EQ(shop.boringBars.at(2), (BoringBar{10, 60, true}));
    EXPECT_EQ(shop.groovingBlades.at(1), (Blade{1, 0.1}));
    EXPECT_EQ(shop.partingBlade, (Blade{2, 0.1}));
    EXPECT_EQ(shop.drills.front(), 0.8);
    EXPECT_EQ(shop.mandrels.size(), 5U);
    EXPECT_EQ(shop.divider->kind, DividerKind::Head);
    EXPECT_EQ(shop.divider->circles.size(), 18U);
    EXPECT_EQ(shop.stock.at(0), (Stock{"titanium-grade-5", 25.4, 0, 300}));
    EXPECT_EQ(shop.prices.at(4), (Price{"emerald", 300, PriceUnit::Carat}));
    EXPECT_EQ(shop.micrometer, 0.01);
    EXPECT_EQ(shop.quoteDays, 30);
    EXPECT_EQ(shop.tax, 20);
    EXPECT_EQ(shop.hours.at("filled"), 1.5);
}

TEST(Workshop, IsWhatTheChecksJudgeBy) {
    const Workshop shop =
        readWorkshop(std::string(BANDWRIGHT_MODELS) + "/my-workshop.json", builtInCatalogue());
    const Catalogue mine = withWorkshop(builtInCatalogue(), shop);
    EXPECT_EQ(mine.tools.boringBars, (std::vector<double>{5, 8, 10}));
    EXPECT_EQ(mine.tools.groovingBlades, (std::vector<double>{0.6, 1, 1.5}));
    EXPECT_EQ(mine.tools.partingBlade, 2);
    EXPECT_EQ(mine.tools.dividing.circles.size(), 18U);
    EXPECT_EQ(mine.region, Region::EuUk);
    EXPECT_NE(mine.tools.source.find("maker's own"), std::string::npos);
}

TEST(Workshop, DividesByHeadDegreesOrPlate) {
    EXPECT_EQ(read(R"({"divider": {"kind": "degrees"}})").divider, (Divider{DividerKind::Degrees, 1, {360}}));
    EXPECT_EQ(read(R"({"divider": {"kind": "plate", "circles": [24]}})").divider,
              (Divider{DividerKind::Plate, 1, {24}}));
    EXPECT_EQ(read(R"({"divider": {"kind": "head", "ratio": 90, "circles": [21]}})").divider,
              (Divider{DividerKind::Head, 90, {21}}));
}

// A file, the place in it, what was found and what is allowed.
TEST(Workshop, IsRefusedInOneSentence) {
    const std::vector<std::pair<std::string, std::string>> bad = {
        {R"({"lathes": {}})", "unknown key 'lathes'"},
        {R"({"lathe": {"least": 100}})", "no \"most\""},
        {R"({"lathe": {"least": 900, "most": 100}})", "$.lathe.most"},
        {R"({"mill": {"steps": [0]}})", "$.mill.steps[0]"},
        {R"({"boring-bars": [{"reach": 20}]})", "no \"diameter\""},
        {R"({"boring-bars": [{"diameter": 0}]})", "$.boring-bars[0].diameter"},
        {R"({"boring-bars": [{"diameter": 5, "carbide": 1}]})", "true or false"},
        {R"({"grooving-blades": [{"width": 0}]})", "$.grooving-blades[0].width"},
        {R"({"grooving-blades": [{"width": 1, "nose": 0.6}]})", "at most half the width, 0.5 mm"},
        {R"({"parting-blade": 2})", "an object"},
        {R"({"drills": [1, -2]})", "$.drills[1]"},
        {R"({"mandrels": 18})", "a list of diameters"},
        {R"({"divider": {"ratio": 40, "circles": [24]}})", "no \"kind\""},
        {R"({"divider": {"kind": "wheel"}})", "'head', 'degrees' or 'plate'"},
        {R"({"divider": {"kind": "head", "ratio": 40, "circles": [0]}})", "$.divider.circles[0]"},
        {R"({"divider": {"kind": "head", "ratio": 40, "circles": [2.5]}})", "whole number of holes"},
        {R"({"divider": {"kind": "degrees", "circles": [360]}})", "unknown key 'circles'"},
        {R"({"stock": [{"metal": "moonsilver", "diameter": 25}]})", "'moonsilver'"},
        {R"({"stock": [{"diameter": 20, "bore": 20}]})", "less than the diameter, 20 mm"},
        {R"({"prices": [{"material": "moonsilver", "price": 3}]})", "'moonsilver'"},
        {R"({"prices": [{"material": "brass", "price": -3}]})", "$.prices[0].price"},
        {R"({"prices": [{"material": "brass", "price": 3, "per": "kg"}]})", "'g', 'ct', 'piece' or 'mm'"},
        {R"({"waste-percent": 101})", "$.waste-percent"},
        {R"({"margin-percent": -1})", "$.margin-percent"},
        {R"({"tax-percent": "20"})", "0 to 100 %"},
        {R"({"hourly-rate": -1})", "$.hourly-rate"},
        {R"({"quote-days": 2.5})", "whole number of days"},
        {R"({"hours": {"bored": -1}})", "$.hours.bored"},
        {R"({"hours": [1]})", "an object of steps"},
        {R"({"paper": "a3"})", "'a4', 'a5' or 'letter'"},
        {R"({"region": "moon"})", "'eu-uk' or 'elsewhere'"},
        {R"({"turning-tools": "stone"})", "'carbide' or 'high-speed-steel'"},
        {R"({"name": ""})", "a text that is not empty"},
        {R"({"micrometer": 0})", "$.micrometer"},
        {R"({"name": "a", "name": "b"})", "stands twice"},
        {R"({"name")", "no JSON text"},
        {R"([])", "an object"},
    };
    for (const auto& [text, mentions] : bad) {
        const std::string line = refusal(text);
        EXPECT_NE(line.find(mentions), std::string::npos) << text << "\n" << line;
        EXPECT_NE(line.find("bandwright-workshop-"), std::string::npos) << line;
        EXPECT_EQ(line.find('\n'), std::string::npos) << line;
    }
    EXPECT_THROW(readWorkshop("no-such-workshop.json", builtInCatalogue()), base::InputError);
}

TEST(Spindle, TakesTheNextSlowerStep) {
    const Spindle stepped{250, 5000, {250, 500, 900, 1600, 2800, 5000}}, any{80, 2500, {}};
    EXPECT_EQ(stepped.nearest(1500), 900);
    EXPECT_EQ(stepped.nearest(900), 900);
    EXPECT_EQ(stepped.nearest(100), 250);
    EXPECT_EQ(stepped.nearest(9000), 5000);
    EXPECT_EQ(any.nearest(376), 376);
    EXPECT_EQ(any.nearest(9000), 2500);
    EXPECT_EQ(any.nearest(10), 80);
}

Workshop sampleShop() {
    return readWorkshop(std::string(BANDWRIGHT_MODELS) + "/my-workshop.json", builtInCatalogue());
}

std::string refusalOf(std::string_view key, std::size_t entry, const std::string& text) {
    try {
        static_cast<void>(withTyped(sampleShop(), key, entry, text, builtInCatalogue()));
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(WorkshopFields, AreThoseOfTheSchema) {
    std::ifstream file(std::string(BANDWRIGHT_MODELS) + "/workshop.schema.json");
    const nlohmann::json schema = nlohmann::json::parse(file);
    std::set<std::string> told = {"$schema"}, inTable = {"$schema"};
    for (const auto& property : schema["properties"].items())
        told.insert(property.key());
    for (const WorkshopField& field : workshopFields())
        inTable.insert(field.key);
    EXPECT_EQ(told, inTable);
}

TEST(WorkshopFields, WrittenAsTextAndReadAgainAreTheSame) {
    for (Workshop shop : {Workshop{}, sampleShop()}) {
        shop.stock.push_back({"", 22, 18, 0});
        shop.divider = Divider{DividerKind::Degrees, 1, {360}};
        EXPECT_EQ(read(formatWorkshop(shop)), shop);
        shop.divider = Divider{DividerKind::Plate, 1, {24, 36}};
        shop.currency = "\"kr\" \u00e6";
        EXPECT_EQ(read(formatWorkshop(shop)), shop);
    }
}

TEST(WorkshopFields, TheSampleIsWrittenAsItStands) {
    const std::string name = std::string(BANDWRIGHT_MODELS) + "/my-workshop.json";
    std::ifstream file(name);
    const nlohmann::json before = nlohmann::json::parse(file);
    EXPECT_EQ(nlohmann::json::parse(formatWorkshop(sampleShop())), before);
}

/// Each as it is typed makes the same workshop, and taken away one by one they leave nothing told.
TEST(WorkshopFields, AreTypedAsTheyAreShownAndTakenAway) {
    const Catalogue catalogue = builtInCatalogue();
    Workshop shop = sampleShop(), built;
    std::size_t entries = 0;
    for (const WorkshopField& field : workshopFields()) {
        const std::vector<std::string> forms = typedForms(shop, field.key);
        for (std::size_t i = 0; i < forms.size(); ++i) {
            EXPECT_EQ(withTyped(shop, field.key, i, forms[i], catalogue), shop)
                << field.key << ": " << forms[i];
            built = withTyped(built, field.key, i, forms[i], catalogue);
            ++entries;
        }
    }
    EXPECT_GT(entries, 30U);
    built.schema = shop.schema;
    EXPECT_EQ(built, shop);
    for (const WorkshopField& field : workshopFields())
        while (field.form != WorkshopForm::Word && !typedForms(shop, field.key).empty())
            shop = withTyped(shop, field.key, 0, "  ", catalogue);
    Workshop bare;
    bare.schema = shop.schema;
    bare.region = shop.region;
    EXPECT_EQ(shop, bare);
}

TEST(WorkshopFields, LimitsAreWrittenReadAndTyped) {
    const std::string text = R"({"limits": [{"rule": "tube-proud", "limit": 0.5, "comfortable": 0.35},
                                            {"rule": "floor-wall", "metal": "titanium-grade-5", "limit": 0.4}]})";
    const Workshop shop = read(text);
    ASSERT_EQ(shop.limits.size(), 2U);
    EXPECT_EQ(shop.limits[0], (OwnLimit{"tube-proud", "", 0.5, 0.35}));
    EXPECT_EQ(shop.limits[1], (OwnLimit{"floor-wall", "titanium-grade-5", 0.4, 0.4}));
    EXPECT_EQ(nlohmann::json::parse(formatWorkshop(shop)).at("limits"),
              nlohmann::json::parse(text).at("limits"));
    EXPECT_EQ(typedForms(shop, "limits").at(0), "tube-proud 0.5 comfortable 0.35");
    const Catalogue base = builtInCatalogue();
    EXPECT_EQ(withTyped(shop, "limits", 1, typedForms(shop, "limits").at(1), base), shop);
    const Catalogue with = withWorkshop(base, shop);
    EXPECT_EQ(ownLimit(with.limits, "floor-wall", "titanium-grade-5")->limit, 0.4);
    EXPECT_EQ(ownLimit(with.limits, "floor-wall", "steel-316l"), nullptr);
}

TEST(WorkshopFields, AreShownAsAPersonTypesThem) {
    const Workshop shop = sampleShop();
    EXPECT_EQ(typedForms(shop, "lathe").at(0), "80 to 2500");
    EXPECT_EQ(typedForms(shop, "boring-bars").at(2), "10 reach 60 carbide");
    EXPECT_EQ(typedForms(shop, "prices").at(4), "emerald 300 per ct");
    EXPECT_EQ(typedForms(shop, "hours").at(0), "filled 1.5; polished 0.75");
}

TEST(Workshop, TheToleranceClassIsThatOfTheChecks) {
    const Catalogue base = builtInCatalogue();
    EXPECT_EQ(withWorkshop(base, read(R"({"tolerance-class": "fine"})")).toleranceClass,
              ToleranceClass::Fine);
    EXPECT_EQ(withWorkshop(base, {}).toleranceClass, base.toleranceClass);
}

TEST(WorkshopFields, ARefusalSaysWhereWhatAndWhatIsAllowed) {
    EXPECT_EQ(refusalOf("hourly-rate", 0, "much"),
              "Money, Hourly rate: found '\"much\"'; allowed is a number from 0 to 1e+07");
    EXPECT_EQ(refusalOf("boring-bars", 1, "8 reach 900"),
              "Tools, Boring bars[1].reach: found '900'; allowed is a number from 0 to 500 mm");
    EXPECT_EQ(refusalOf("lathe", 0, "900 to 80"),
              "Machines, Lathe.most: found 80; allowed is at least 900 rev/min, which \"least\" says");
    EXPECT_EQ(refusalOf("prices", 0, "unobtainium 3"),
              "Money, Prices[0].material: found 'unobtainium'; allowed is the id of a metal, gem, filler or "
              "adhesive of the catalogue, or silver-solder");
    EXPECT_NE(refusalOf("stock", 9, "titanium-grade-5 25 wide").find("unknown key 'wide'"),
              std::string::npos);
    EXPECT_NE(refusalOf("stock", 9, "length"), "");
    EXPECT_NE(refusalOf("divider", 0, "head 40"), "");
    EXPECT_NE(refusalOf("paper", 0, "a3"), "");
    EXPECT_NE(refusalOf("quote-days", 0, "2.5"), "");
}

}  // namespace
}  // namespace bandwright::trade
