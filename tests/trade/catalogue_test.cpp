#include "trade/catalogue.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "base/input_error.hpp"
#include "contains.hpp"
#include "design/design.hpp"

namespace bandwright::trade {
namespace {

const std::filesystem::path kExample = std::filesystem::path(BANDWRIGHT_MODELS) / "my-materials.json";

/// Calls `see` with each figure of the catalogue, named.
template <typename See>
void forEachFigure(const Catalogue& catalogue, See see) {
    for (const Metal& m : catalogue.metals) {
        for (const Sourced* figure :
             {&m.density, &m.leastFloor, &m.leastRim, &m.leastWall, &m.leastHoleToEdge, &m.youngsModulus,
              &m.yieldStrength, &m.hardness, &m.anodicIndex, &m.soldering, &m.etchResistance, &m.turningSpeed,
              &m.drillingSpeed}) {
            see(m.id, *figure);
        }
        for (const std::optional<Sourced>* figure :
             {&m.nickelRelease, &m.lead, &m.cadmium, &m.melting, &m.fineness, &m.turningSpeedSteel})
            if (*figure) see(m.id, **figure);
    }
    for (const Gem& g : catalogue.gems) {
        for (const Sourced* figure : {&g.density, &g.refractiveIndex, &g.dispersion, &g.mohs, &g.toughness,
                                      &g.etchResistance, &g.heatResistance})
            see(g.id, *figure);
    }
    for (const Filler& f : catalogue.fillers) {
        for (const Sourced* figure :
             {&f.density, &f.mohs, &f.etchResistance, &f.waterResistance, &f.lightResistance})
            see(f.id, *figure);
        for (const std::optional<Sourced>* figure : {&f.lead, &f.grains})
            if (*figure) see(f.id, **figure);
    }
    for (const Adhesive& a : catalogue.adhesives) {
        for (const Sourced* figure : {&a.density, &a.serviceTemperature, &a.layer, &a.shrinkage,
                                      &a.etchResistance, &a.waterResistance, &a.lightResistance})
            see(a.id, *figure);
        for (const std::optional<Sourced>* figure : {&a.drop, &a.layerMinutes, &a.curedHours})
            if (*figure) see(a.id, **figure);
    }
}

/// Calls `see` with the id and the cautions of each entry.
template <typename See>
void forEachEntry(const Catalogue& catalogue, See see) {
    for (const Metal& m : catalogue.metals)
        see(m.id, m.name, m.cautions);
    for (const Gem& g : catalogue.gems)
        see(g.id, g.name, g.cautions);
    for (const Filler& f : catalogue.fillers)
        see(f.id, f.name, f.cautions);
    for (const Adhesive& a : catalogue.adhesives)
        see(a.id, a.name, a.cautions);
}

template <typename Material>
std::set<std::string> ids(const std::vector<Material>& list) {
    std::set<std::string> all;
    for (const Material& material : list)
        all.insert(material.id);
    return all;
}

class TextFile {
  public:
    explicit TextFile(const std::string& text)
        : path_(std::filesystem::path(testing::TempDir()) /
                (std::string(testing::UnitTest::GetInstance()->current_test_info()->name()) + ".json")) {
        std::ofstream(path_, std::ios::binary) << text;
    }
    ~TextFile() { std::filesystem::remove(path_); }
    TextFile(const TextFile&) = delete;
    TextFile& operator=(const TextFile&) = delete;

    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

Catalogue extendedBy(const std::string& text) {
    return extendedCatalogue(builtInCatalogue(), TextFile(text).path());
}

std::string catalogueRefusal(const std::string& text) {
    try {
        extendedBy(text);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "taken";
}

// ---------------------------------------------------------------- what comes with the program

TEST(BuiltInCatalogue, GivesASourceForEveryFigureColourAndCaution) {
    const Catalogue& catalogue = builtInCatalogue();
    forEachFigure(catalogue, [](const std::string& id, const Sourced& figure) {
        EXPECT_GE(figure.source.size(), 5U) << id << ' ' << figure.value;
    });
    forEachEntry(catalogue,
                 [](const std::string& id, const std::string&, const std::vector<Caution>& cautions) {
                     for (const Caution& caution : cautions)
                         EXPECT_FALSE(caution.text.empty() || caution.source.empty()) << id;
                 });
    for (const Metal& m : catalogue.metals)
        EXPECT_FALSE(m.reflectanceSource.empty()) << m.id;
    for (const Gem& g : catalogue.gems)
        EXPECT_FALSE(g.transmissionSource.empty()) << g.id;
    for (const Filler& f : catalogue.fillers)
        EXPECT_FALSE(f.colourSource.empty()) << f.id;
}

TEST(BuiltInCatalogue, HasUniqueIdsAndNamesAndFindsEachById) {
    const Catalogue& catalogue = builtInCatalogue();
    EXPECT_EQ(ids(catalogue.metals).size(), catalogue.metals.size());
    EXPECT_EQ(ids(catalogue.gems).size(), catalogue.gems.size());
    EXPECT_EQ(ids(catalogue.fillers).size(), catalogue.fillers.size());
    EXPECT_EQ(ids(catalogue.adhesives).size(), catalogue.adhesives.size());
    std::set<std::string> names;
    forEachEntry(catalogue, [&](const std::string& id, const std::string& name, const std::vector<Caution>&) {
        EXPECT_TRUE(names.insert(name).second) << id << ' ' << name;
        EXPECT_EQ(id.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-"), std::string::npos) << id;
    });
    for (const Metal& m : catalogue.metals)
        EXPECT_EQ(catalogue.metal(m.id), &m);
    for (const Gem& g : catalogue.gems)
        EXPECT_EQ(catalogue.gem(g.id), &g);
    for (const Filler& f : catalogue.fillers)
        EXPECT_EQ(catalogue.filler(f.id), &f);
    for (const Adhesive& a : catalogue.adhesives)
        EXPECT_EQ(catalogue.adhesive(a.id), &a);
    EXPECT_EQ(catalogue.metal("unobtainium"), nullptr);
    EXPECT_EQ(catalogue.gem(""), nullptr);
}

TEST(BuiltInCatalogue, HasEveryMaterialADesignNamesByDefault) {
    const Catalogue& catalogue = builtInCatalogue();
    EXPECT_NE(catalogue.metal(design::Band{}.metal), nullptr) << design::Band{}.metal;
    EXPECT_NE(catalogue.metal(design::Tube{}.metal), nullptr) << design::Tube{}.metal;
    EXPECT_NE(catalogue.gem(design::Stone{}.gem), nullptr) << design::Stone{}.gem;
    EXPECT_NE(catalogue.filler(design::Fill{}.filler), nullptr) << design::Fill{}.filler;
    EXPECT_NE(catalogue.adhesive(design::Fill{}.adhesive), nullptr) << design::Fill{}.adhesive;
}

// Published ranges, g/cm3: data sheets (ASM/MatWeb, makeitfrom.com), tmtpages.com, ESPI, Platinum Metals
// Review 1972.
TEST(BuiltInCatalogue, HasMetalDensitiesWithinThePublishedRanges) {
    const std::tuple<const char*, double, double> rows[] = {{"steel-304l", 7.93, 8.0},
                                                            {"steel-316l", 7.98, 8.0},
                                                            {"steel-304l-316l-layered", 7.93, 8.0},
                                                            {"titanium-grade-2", 4.51, 4.51},
                                                            {"titanium-grade-5", 4.42, 4.43},
                                                            {"zirconium", 6.51, 6.53},
                                                            {"tantalum", 16.6, 16.6},
                                                            {"cobalt-chrome", 8.4, 8.4},
                                                            {"gold-14k-yellow", 13.07, 13.07},
                                                            {"gold-18k-yellow", 15.58, 15.58},
                                                            {"gold-14k-white", 12.61, 12.61},
                                                            {"gold-18k-white", 14.64, 14.64},
                                                            {"gold-14k-white-palladium", 14.65, 14.75},
                                                            {"gold-18k-white-palladium", 16.1, 16.5},
                                                            {"gold-18k-red", 15.18, 15.18},
                                                            {"silver-sterling-925", 10.36, 10.36},
                                                            {"silver-fine", 10.49, 10.49},
                                                            {"brass", 8.49, 8.49},
                                                            {"copper", 8.94, 8.96},
                                                            {"bronze", 8.78, 8.92},
                                                            {"walnut", 0.55, 0.69},
                                                            {"white-oak", 0.68, 0.8},
                                                            {"hard-maple", 0.63, 0.75},
                                                            {"black-cherry", 0.5, 0.6},
                                                            {"carbon-fibre", 1.5, 1.6}};
    for (const auto& [id, least, most] : rows) {
        const Metal* metal = builtInCatalogue().metal(id);
        ASSERT_NE(metal, nullptr) << id;
        EXPECT_GE(metal->density.value, least) << id;
        EXPECT_LE(metal->density.value, most) << id;
    }
    // An alloy with 95 % platinum or palladium is a little lighter than the pure metal: 21.45 and 12.02.
    EXPECT_LT(builtInCatalogue().metal("platinum-950")->density.value, 21.45);
    EXPECT_LT(builtInCatalogue().metal("palladium-950")->density.value, 12.02);
}

// Published ranges: gemstoneswa, howstuffworks table, wejeweler, amezin, burgersketch, aglthai, IGS list,
// gillabs.
TEST(BuiltInCatalogue, HasGemsWithinThePublishedRanges) {
    struct Row {
        const char* id;
        double leastDensity, mostDensity, leastIndex, mostIndex;
    };
    const Row rows[] = {{"emerald", 2.72, 2.72, 1.577, 1.583},    {"aquamarine", 2.68, 2.74, 1.577, 1.583},
                        {"ruby", 4.00, 4.00, 1.76, 1.77},         {"sapphire", 4.00, 4.00, 1.76, 1.77},
                        {"diamond", 3.52, 3.52, 2.417, 2.417},    {"moissanite", 3.21, 3.21, 2.65, 2.69},
                        {"cubic-zirconia", 5.6, 6.0, 2.15, 2.18}, {"topaz", 3.4, 3.6, 1.610, 1.638},
                        {"amethyst", 2.65, 2.65, 1.544, 1.553},   {"almandine", 3.95, 4.20, 1.78, 1.81},
                        {"tourmaline", 3.06, 3.06, 1.624, 1.644}, {"peridot", 3.34, 3.34, 1.654, 1.690},
                        {"spinel", 3.60, 3.60, 1.718, 1.718},     {"opal", 1.98, 2.25, 1.44, 1.46},
                        {"moonstone", 2.55, 2.61, 1.51, 1.54}};
    for (const Row& row : rows) {
        const Gem* gem = builtInCatalogue().gem(row.id);
        ASSERT_NE(gem, nullptr) << row.id;
        EXPECT_GE(gem->density.value, row.leastDensity) << row.id;
        EXPECT_LE(gem->density.value, row.mostDensity) << row.id;
        EXPECT_GE(gem->refractiveIndex.value, row.leastIndex) << row.id;
        EXPECT_LE(gem->refractiveIndex.value, row.mostIndex) << row.id;
    }
}

// Normal-incidence reflectance of diamond and sapphire from their index: ((n-1)/(n+1))^2 = .172 and .077
// (Peter 1923, Malitson, refractiveindex.info).
TEST(BuiltInCatalogue, HasGemIndicesThatGiveTheMeasuredReflectance) {
    const auto reflectance = [](const char* id) {
        const double n = builtInCatalogue().gem(id)->refractiveIndex.value;
        return (n - 1) * (n - 1) / ((n + 1) * (n + 1));
    };
    EXPECT_NEAR(reflectance("diamond"), 0.172, 0.0005);
    EXPECT_NEAR(reflectance("sapphire"), 0.077, 0.0005);
}

// Reflectance computed from measured n and k, refractiveindex.info: titanium, silver, palladium (Johnson and
// Christy), platinum (Rakic 1998); at 0 and 82 degrees.
TEST(BuiltInCatalogue, HasTheMeasuredReflectanceOfThePureMetals) {
    const std::tuple<const char*, LinearRgb, LinearRgb> rows[] = {
        {"titanium-grade-2", {.618, .580, .543}, {.61, .62, .62}},
        {"silver-fine", {.989, .984, .978}, {.99, .99, .99}},
        {"platinum-950", {.678, .640, .584}, {.66, .66, .67}},
        {"palladium-950", {.732, .697, .652}, {.72, .72, .73}}};
    for (const auto& [id, normal, grazing] : rows) {
        EXPECT_EQ(builtInCatalogue().metal(id)->reflectance, normal) << id;
        EXPECT_EQ(builtInCatalogue().metal(id)->reflectance82, grazing) << id;
    }
}

TEST(BuiltInCatalogue, AsksMoreMetalUnderAChannelOfSoftMetalsAndSaysItIsCommonPractice) {
    for (const char* id : {"titanium-grade-2", "titanium-grade-5", "steel-304l", "steel-316l"}) {
        EXPECT_EQ(builtInCatalogue().metal(id)->leastFloor.value, 0.5) << id;
    }
    for (const char* id : {"gold-14k-yellow", "gold-18k-yellow", "silver-sterling-925", "silver-fine"}) {
        EXPECT_EQ(builtInCatalogue().metal(id)->leastFloor.value, 0.8) << id;
    }
    for (const Metal& m : builtInCatalogue().metals) {
        if (m.substance == Substance::Metal) {
            EXPECT_EQ(m.leastRim.value, 0.75) << m.id;
        }
        EXPECT_TRUE(contains(m.leastFloor.source, "common practice")) << m.id;
    }
}

// Stock of annealed metal: tantalum 80 to 110 HV (suppliers' sheets), above 40 m/min (rmd-1994.com); moduli
// of platinum and palladium, Platinum Metals Review 1972; topaz and almandine, Church; silver, ESPI and
// memim.
TEST(BuiltInCatalogue, HasTheFiguresOfItsSources) {
    const Catalogue& catalogue = builtInCatalogue();
    const Metal& tantalum = *catalogue.metal("tantalum");
    EXPECT_GE(tantalum.hardness.value, 80);
    EXPECT_LE(tantalum.hardness.value, 110);
    EXPECT_GE(tantalum.turningSpeed.value, 40);
    EXPECT_GE(tantalum.youngsModulus.value, 179);
    EXPECT_LE(tantalum.youngsModulus.value, 186);
    EXPECT_EQ(catalogue.metal("platinum-950")->youngsModulus.value, 172);
    EXPECT_EQ(catalogue.metal("palladium-950")->youngsModulus.value, 117);
    EXPECT_EQ(catalogue.metal("silver-fine")->hardness.value, 35);
    EXPECT_GE(catalogue.metal("silver-sterling-925")->hardness.value, 71);
    EXPECT_GE(catalogue.gem("topaz")->density.value, 3.53);
    EXPECT_LE(catalogue.gem("topaz")->density.value, 3.57);
    EXPECT_EQ(catalogue.gem("almandine")->mohs.value, 7.5);
    EXPECT_GE(catalogue.metal("brass")->lead->value, 2.5);
    EXPECT_LE(catalogue.metal("brass")->lead->value, 3.7);
}

TEST(BuiltInCatalogue, MarksWhatIsLayeredOpalescentOrGlowing) {
    const Catalogue& catalogue = builtInCatalogue();
    EXPECT_TRUE(catalogue.metal("steel-304l-316l-layered")->layerReflectance.has_value());
    EXPECT_FALSE(catalogue.metal("steel-304l")->layerReflectance.has_value());
    EXPECT_TRUE(catalogue.metal("titanium-grade-5")->anodising.has_value());
    EXPECT_FALSE(catalogue.metal("silver-fine")->anodising.has_value());
    EXPECT_TRUE(catalogue.metal("zirconium")->blackOxide.has_value());
    EXPECT_EQ(catalogue.metal("walnut")->substance, Substance::Wood);
    EXPECT_TRUE(catalogue.gem("opal")->opalescent);
    EXPECT_EQ(catalogue.gem("diamond")->cloud, LinearRgb{});
    EXPECT_TRUE(catalogue.filler("crushed-opal")->opalescent);
    EXPECT_FALSE(catalogue.filler("turquoise")->opalescent);
    for (const Filler& f : catalogue.fillers)
        EXPECT_EQ(f.glows, f.glowColour != LinearRgb{}) << f.id;
    EXPECT_TRUE(catalogue.filler("glow-powder")->glows);
}

// Published worked example (tmtpages.com, specific-gravity table): 583 gold, 104 silver, 313 copper
// give 13.33. The densities of the pure metals, from memory: 19.32, 10.49, 8.96.
TEST(AlloyDensity, FollowsThePublishedExample) {
    EXPECT_NEAR(alloyDensity({{583, 19.32}, {104, 10.49}, {313, 8.96}}), 13.33, 0.005);
}

// The alloys of the catalogue: 585 gold, 150 palladium, 265 silver, and 750, 150, 100 (azom.com 2372); the
// pure metals 19.32, 12.02 and 10.49.
TEST(AlloyDensity, IsThatOfGoldWhitenedWithPalladium) {
    EXPECT_NEAR(alloyDensity({{585, 19.32}, {150, 12.02}, {265, 10.49}}),
                builtInCatalogue().metal("gold-14k-white-palladium")->density.value, 0.05);
    EXPECT_NEAR(alloyDensity({{750, 19.32}, {150, 12.02}, {100, 10.49}}),
                builtInCatalogue().metal("gold-18k-white-palladium")->density.value, 0.05);
}

TEST(AlloyDensity, OfOneMetalIsItsOwn) {
    EXPECT_DOUBLE_EQ(alloyDensity({{1000, 4.51}}), 4.51);
}

// ---------------------------------------------------------------- the maker's own file

TEST(ExtendedCatalogue, TakesTheExampleBesideTheSamples) {
    const Catalogue extended = extendedCatalogue(builtInCatalogue(), kExample);
    const Metal* added = extended.metal("workshop-layered-steel");
    ASSERT_NE(added, nullptr);
    EXPECT_EQ(added->leastFloor.value, 0.6);
    EXPECT_EQ(added->leastRim, builtInCatalogue().metal("steel-304l-316l-layered")->leastRim);
    EXPECT_EQ(extended.filler("crushed-opal")->density.value, 2.1);
    EXPECT_NE(extended.filler("river-slate"), nullptr);
    EXPECT_EQ(extended.metal("gold-18k-white")->nickelRelease->value, 0.1);
    EXPECT_EQ(extended.gems.size(), builtInCatalogue().gems.size());
}

TEST(ExtendedCatalogue, KeepsWhatAReplacingEntryLeavesOut) {
    const Catalogue extended = extendedBy(R"({"metals": [{"id": "brass", "leastWall": 1.1}]})");
    Metal expected = *builtInCatalogue().metal("brass");
    expected.leastWall.value = 1.1;
    expected.leastWall.source = extended.metal("brass")->leastWall.source;
    EXPECT_EQ(*extended.metal("brass"), expected);
    EXPECT_TRUE(contains(expected.leastWall.source, "the maker's file"));
    EXPECT_EQ(extended.metals.size(), builtInCatalogue().metals.size());
}

TEST(ExtendedCatalogue, TakesANewEntryLikeAnother) {
    const Catalogue extended = extendedBy(
        R"({"gems": [{"id": "garnet", "like": "pyrope", "name": "Garnet"}, {"id": "old-garnet", "like": "garnet"}]})");
    Gem expected = *builtInCatalogue().gem("pyrope");
    expected.id = "old-garnet";
    expected.name = "Garnet";
    EXPECT_EQ(*extended.gem("old-garnet"), expected);
}

// A certificate makes the nickel of an alloy known, and null says that it is not.
TEST(ExtendedCatalogue, TakesNickelAsKnownOrNot) {
    EXPECT_FALSE(builtInCatalogue().metal("gold-14k-white")->nickelRelease);
    EXPECT_EQ(extendedBy(R"({"metals": [{"id": "gold-14k-white", "nickelRelease": 0.2}]})")
                  .metal("gold-14k-white")
                  ->nickelRelease->value,
              0.2);
    EXPECT_FALSE(
        extendedBy(R"({"metals": [{"id": "mine", "like": "gold-14k-white"}]})").metal("mine")->nickelRelease);
    EXPECT_FALSE(
        extendedBy(R"({"metals": [{"id": "brass", "nickelRelease": null}]})").metal("brass")->nickelRelease);
}

TEST(WithLimits, TakesTheRegionThatTheMakerSellsIn) {
    const auto regionOf = [](const char* text) {
        return withLimits(builtInCatalogue(), TextFile(text).path()).region;
    };
    EXPECT_EQ(regionOf("{}"), Region::Unsaid);
    EXPECT_EQ(regionOf(R"({"region": "eu-uk"})"), Region::EuUk);
    EXPECT_EQ(regionOf(R"({"region": "elsewhere"})"), Region::Elsewhere);
    try {
        regionOf(R"({"region": "moon"})");
        ADD_FAILURE() << "taken";
    } catch (const base::InputError& error) {
        EXPECT_TRUE(contains(error.what(), "$.region: found '\"moon\"'; allowed is 'eu-uk' or 'elsewhere'"))
            << error.what();
    }
}

TEST(ExtendedCatalogue, LeavesTheCatalogueAloneForAnEmptyObject) {
    EXPECT_EQ(extendedBy("{}"), builtInCatalogue());
}

TEST(ExtendedCatalogue, RefusesAFileThatIsNotThere) {
    EXPECT_THROW(extendedCatalogue(builtInCatalogue(), "no/such/file.json"), base::InputError);
    EXPECT_THROW(extendedCatalogue(builtInCatalogue(), testing::TempDir()), base::InputError);
}

TEST(ExtendedCatalogue, RefusesBadInputNamingFilePlaceFoundAndAllowed) {
    const std::vector<std::vector<std::string>> rows = {
        {"", "no JSON"},
        {"{", "no JSON", "line 1"},
        {"{\"metals\": [1e999]}", "no JSON"},
        {"\xff\xfe", "no JSON"},
        {"[]", "$: found '[]'", "an object"},
        {R"({"metal": []})", "$: found the unknown key 'metal'", "metals, gems, fillers, adhesives"},
        {R"({"metals": {}})", "$.metals: found '{}'", "a list"},
        {R"({"metals": [7]})", "$.metals[0]: found '7'", "an object"},
        {R"({"metals": [{}]})", "$.metals[0]: found no \"id\""},
        {R"({"metals": [{"id": "Brass"}]})", "$.metals[0].id: found 'Brass'", "lower-case"},
        {R"({"metals": [{"id": "a--b"}]})", "$.metals[0].id", "hyphens"},
        {R"({"metals": [{"id": ""}]})", "$.metals[0].id", "not empty"},
        {R"({"metals": [{"id": "brass"}, {"id": "brass"}]})", "$.metals[1].id", "a second time"},
        {R"({"metals": [{"id": "new"}]})", "$.metals[0]: found no \"name\""},
        {R"({"metals": [{"id": "new", "like": "newer"}]})", "$.metals[0].like: found 'newer'",
         "an entry before"},
        {R"({"metals": [{"id": "brass", "densty": 8}]})", "the unknown key 'densty'", "density"},
        {R"({"metals": [{"id": "brass", "density": "8"}]})", "$.metals[0].density: found '\"8\"'",
         "a number"},
        {R"({"metals": [{"id": "brass", "density": null}]})", "$.metals[0].density: found 'null'"},
        {R"({"metals": [{"id": "brass", "density": -1}]})", "found '-1'", "0.1 to 25 g/cm3"},
        {R"({"metals": [{"id": "brass", "density": {"value": 99, "source": "x"}}]})",
         "density.value: found '99'"},
        {R"({"metals": [{"id": "brass", "density": {"value": 8}}]})",
         "$.metals[0].density: found no \"source\""},
        {R"({"metals": [{"id": "brass", "density": {"value": 8, "source": "x", "a": 1}}]})",
         "unknown key 'a'"},
        {R"({"metals": [{"id": "brass", "reflectance": [1, 1]}]})", "$.metals[0].reflectance",
         "three shares"},
        {R"({"metals": [{"id": "brass", "reflectance": [1, 1, 2]}]})",
         "$.metals[0].reflectance[2]: found '2'"},
        {R"({"fillers": [{"id": "turquoise", "glows": 1}]})", "$.fillers[0].glows", "true or false"},
        {R"({"fillers": [{"id": "turquoise", "grains": 3}]})", "$.fillers[0].grains", "0.01 to 2 mm"},
        {R"({"metals": [{"id": "brass", "lead": 101}]})", "$.metals[0].lead", "0 to 100 %"},
        {R"({"metals": [{"id": "brass", "nickelRelease": -1}]})", "$.metals[0].nickelRelease", "0 to 100"},
        {R"({"metals": [{"id": "brass", "precious": "tin"}]})", "$.metals[0].precious", "none, gold, silver"},
        {R"({"metals": [{"id": "brass", "passive": 1}]})", "$.metals[0].passive", "true or false"},
        {R"({"gems": [{"id": "ruby", "toughness": 4}]})", "$.gems[0].toughness", "0 to 3"},
        {R"({"gems": [{"id": "ruby", "mohs": 11}]})", "$.gems[0].mohs", "1 to 10"},
        {R"({"gems": [{"id": "ruby", "cautions": [{"text": "x"}]}]})",
         "$.gems[0].cautions[0]: found no \"source\""},
        {R"({"adhesives": [{"id": "epoxy", "id": "epoxy"}]})", "'\"id\"' stands twice"},
    };
    for (const auto& row : rows) {
        const std::string found = catalogueRefusal(row[0]);
        EXPECT_TRUE(contains(found, ".json")) << row[0] << " -> " << found;
        EXPECT_EQ(found.find('\n'), std::string::npos) << found;
        for (std::size_t i = 1; i < row.size(); ++i)
            EXPECT_TRUE(contains(found, row[i])) << row[0] << " -> " << found;
    }
}

TEST(ExtendedCatalogue, RefusesEveryBeginningOfTheExample) {
    std::ifstream in(kExample, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    text.erase(text.find_last_not_of(" \n") + 1);
    ASSERT_EQ(catalogueRefusal(text), "taken");
    for (std::size_t length = 0; length < text.size(); ++length) {
        EXPECT_NE(catalogueRefusal(text.substr(0, length)), "taken") << length;
    }
}

// How a stone is cleaned is the first thing its wearer asks.
TEST(BuiltInCatalogue, SaysOfEachGemHowItMayBeCleaned) {
    for (const Gem& gem : builtInCatalogue().gems) {
        const bool told = std::any_of(gem.cautions.begin(), gem.cautions.end(), [](const Caution& caution) {
            return caution.text.find("steam") != std::string::npos && !caution.source.empty();
        });
        EXPECT_TRUE(told) << gem.id;
    }
}

}  // namespace
}  // namespace bandwright::trade
