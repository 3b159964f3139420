#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "check/cautions.hpp"
#include "plain_ring.hpp"

/// What the trade knows of metals, joins, law, stones and colours, in whole rings.
namespace bandwright::check {
namespace {

/// The verdict of the rule, or nothing where it has nothing to judge.
std::optional<Verdict> verdictOf(const design::Design& design, const std::string& rule,
                                 const trade::Catalogue& catalogue = trade::builtInCatalogue()) {
    const Report report = check(design, catalogue, {.remedies = false});
    const auto found = std::ranges::find(report.findings, rule, &Finding::rule);
    return found == report.findings.end() ? std::nullopt : std::optional(found->verdict);
}

design::Design bandOf(const std::string& metal) {
    design::Design design = plainRing();
    design.band.metal = metal;
    return design;
}

design::Design tubeIn(const std::string& band, const std::string& tube, design::Join join,
                      design::Solder solder = design::Solder::Easy) {
    design::Design design = bandOf(band);
    design.settings = {design::Setting{}};
    design.settings[0].tube->metal = tube;
    design.settings[0].tube->join = join;
    design.settings[0].tube->solder = solder;
    return design;
}

// A hole as wide as the band or wider leaves nothing of the band beside it, whether or not something of the
// hole is left to measure from.
TEST(Holes, AsWideAsTheBandAreNoGo) {
    design::Design design = tubeIn("titanium-grade-5", "gold-18k-yellow", design::Join::Adhesive);
    design.band.width = 2;
    for (design::Edge* edge : {&design.band.left, &design.band.right})
        edge->width = 0.1;
    design.settings[0].stone.reset();
    design.settings[0].tube.reset();
    design::Hole& hole = design.settings[0].hole;
    for (const double diameter : {1.9, 2.0, 2.2, 4.0}) {
        SCOPED_TRACE(diameter);
        hole.pilotDiameter = diameter;
        hole.steps.clear();
        EXPECT_EQ(verdictOf(design, "hole-to-edge"), Verdict::NoGo);
        hole.steps = {{.diameter = diameter + 0.5, .depth = 1}};
        EXPECT_EQ(verdictOf(design, "hole-to-edge"), Verdict::NoGo);
    }
}

// ---------------------------------------------------------------- joins

// Wang and Welsch, J Prosthet Dent 1995: titanium takes up oxygen and hydrogen under a torch in air; common
// practice for the others.
TEST(Joins, ATorchSpoilsTitaniumItsLikeWoodAndFibre) {
    for (const char* metal :
         {"titanium-grade-2", "titanium-grade-5", "zirconium", "tantalum", "carbon-fibre", "walnut"}) {
        EXPECT_EQ(verdictOf(tubeIn(metal, "gold-18k-yellow", design::Join::Solder), "solder-metal"),
                  Verdict::NoGo)
            << metal;
        EXPECT_EQ(verdictOf(tubeIn(metal, "gold-18k-yellow", design::Join::Adhesive), "solder-metal"),
                  std::nullopt);
    }
    EXPECT_EQ(verdictOf(tubeIn("gold-18k-yellow", "titanium-grade-5", design::Join::Solder), "solder-metal"),
              Verdict::NoGo)
        << "the tube is heated too";
    EXPECT_EQ(verdictOf(tubeIn("gold-18k-yellow", "gold-18k-red", design::Join::Solder), "solder-metal"),
              Verdict::Go);
    EXPECT_EQ(verdictOf(tubeIn("steel-316l", "gold-18k-yellow", design::Join::Solder), "solder-metal"),
              Verdict::Marginal)
        << "with a flux of its own";
    design::Design lined = tubeIn("gold-18k-yellow", "gold-18k-yellow", design::Join::Solder);
    lined.band.liner = design::Liner{.metal = "titanium-grade-2"};
    EXPECT_EQ(verdictOf(lined, "solder-metal"), Verdict::NoGo);
}

// Iwasaki and others, dental laser: titanium to titanium 595 MPa, to a gold alloy 137 with cracks and pores,
// the gold alloy to itself 313. Pasang 2018: welds of titanium and steel break.
TEST(Joins, ALaserWeldsLikeToLike) {
    const auto welded = [](const char* band, const char* tube) {
        return verdictOf(tubeIn(band, tube, design::Join::LaserWeld), "weld-metal");
    };
    EXPECT_EQ(welded("titanium-grade-5", "titanium-grade-2"), Verdict::Go);
    EXPECT_EQ(welded("gold-18k-yellow", "gold-18k-red"), Verdict::Go);
    EXPECT_EQ(welded("steel-316l", "gold-18k-yellow"), Verdict::Go);
    EXPECT_EQ(welded("titanium-grade-5", "gold-18k-yellow"), Verdict::Marginal);
    EXPECT_EQ(welded("platinum-950", "zirconium"), Verdict::Marginal);
    EXPECT_EQ(welded("titanium-grade-5", "steel-316l"), Verdict::NoGo);
    EXPECT_EQ(welded("cobalt-chrome", "titanium-grade-2"), Verdict::NoGo);
    EXPECT_EQ(welded("walnut", "gold-18k-yellow"), Verdict::NoGo);
    EXPECT_EQ(welded("carbon-fibre", "titanium-grade-2"), Verdict::NoGo);
}

// Silver solder of 56 % flows at 618 degrees C; sterling begins to melt at 802, 14K yellow gold at 879.
TEST(Joins, TheHeatOfTheSolderIsThatOfItsGrade) {
    const auto room = [](const char* metal, design::Solder solder) {
        return valueOf(checked(tubeIn(metal, metal, design::Join::Solder, solder)), "solder-melt",
                       design::Stage::Joined);
    };
    EXPECT_EQ(room("gold-14k-yellow", design::Solder::ExtraEasy), 879 - 618);
    EXPECT_EQ(room("gold-14k-yellow", design::Solder::Easy), 879 - 718);
    EXPECT_EQ(room("gold-14k-yellow", design::Solder::Medium), 879 - 750);
    EXPECT_EQ(room("gold-14k-yellow", design::Solder::Hard), 879 - 780);
    EXPECT_EQ(room("silver-sterling-925", design::Solder::Hard), 802 - 780);
}

// ---------------------------------------------------------------- law and skin

// REACH Annex XVII entry 63: under 0.05 % of lead in any part of jewellery; C360 brass holds 2.5 to 3.7 %.
TEST(Law, LeadIsForbiddenWhereTheLawBinds) {
    trade::Catalogue catalogue = trade::builtInCatalogue();
    design::Design tubed = tubeIn("titanium-grade-5", "brass", design::Join::Adhesive);
    design::Design filled = plainRing();
    filled.channels = {channel(0, 4, 1)};
    filled.channels[0].fill->filler = "brass-filings";
    for (const design::Design& design : {bandOf("brass"), tubed, filled}) {
        catalogue.region = trade::Region::Unsaid;
        EXPECT_EQ(verdictOf(design, "lead-content", catalogue), Verdict::NoGo);
        catalogue.region = trade::Region::EuUk;
        EXPECT_EQ(verdictOf(design, "lead-content", catalogue), Verdict::NoGo);
        catalogue.region = trade::Region::Elsewhere;
        EXPECT_EQ(verdictOf(design, "lead-content", catalogue), Verdict::Marginal);
    }
    EXPECT_EQ(verdictOf(plainRing(), "lead-content"), std::nullopt);
    EXPECT_EQ(verdictOf(bandOf("bronze"), "lead-content"), Verdict::Marginal) << "ask for the certificate";
}

// Of 770 pieces of white gold 31 in 100 of 14K and 7 in 100 of 18K gave off more than the law allows.
TEST(Law, TheNickelOfWhiteGoldIsAskedFor) {
    EXPECT_EQ(verdictOf(bandOf("gold-14k-white"), "nickel-known"), Verdict::Marginal);
    EXPECT_EQ(verdictOf(tubeIn("titanium-grade-5", "gold-18k-white", design::Join::Adhesive), "nickel-known"),
              Verdict::Marginal);
    EXPECT_EQ(verdictOf(bandOf("gold-14k-white"), "nickel-release"), std::nullopt);
    EXPECT_EQ(verdictOf(bandOf("gold-18k-white-palladium"), "nickel-known"), std::nullopt);
    EXPECT_EQ(verdictOf(bandOf("gold-18k-white-palladium"), "nickel-release"), Verdict::Go);
    EXPECT_EQ(verdictOf(bandOf("steel-316l"), "nickel-release"), Verdict::Go);
    // A maker who has the certificate says so.
    trade::Catalogue catalogue = trade::builtInCatalogue();
    for (trade::Metal& metal : catalogue.metals)
        if (metal.id == "gold-14k-white") metal.nickelRelease = trade::Sourced{0.6, "certificate"};
    EXPECT_EQ(verdictOf(bandOf("gold-14k-white"), "nickel-release", catalogue), Verdict::NoGo);
}

TEST(Law, BareCopperStainsTheFinger) {
    for (const char* metal : {"copper", "bronze", "brass"}) {
        design::Design design = bandOf(metal);
        EXPECT_EQ(verdictOf(design, "skin-stain"), Verdict::Marginal) << metal;
        design.band.liner = design::Liner{.metal = "titanium-grade-2"};
        EXPECT_EQ(verdictOf(design, "skin-stain"), Verdict::Go) << metal;
    }
    design::Design lined = plainRing();
    lined.band.liner = design::Liner{.metal = "copper"};
    EXPECT_EQ(verdictOf(lined, "skin-stain"), Verdict::Marginal);
    EXPECT_EQ(verdictOf(bandOf("silver-sterling-925"), "skin-stain"), std::nullopt);
}

std::string hallmarkOf(const design::Design& design,
                       const trade::Catalogue& catalogue = trade::builtInCatalogue()) {
    const Report report = check(design, catalogue, {.remedies = false});
    std::string all;
    for (const MaterialCaution& caution : cautions(design, catalogue, report.bodies))
        if (caution.material == "Hallmark") all += caution.caution.text;
    return all;
}

// Hallmarking Act 1973: gold above 1 g, silver 7.78, platinum 0.5, palladium 1; with base metal in it the
// weight of all metal counts. A plain gold ring of 8 by 2.4 mm at r = 11.2 weighs 2 pi 11.2 x 19.2 x 15.58 /
// 1000 = 21.05 g; of sterling, 1 mm wide and 0.9 thick, 2 pi 10.45 x 0.9 x 10.36 / 1000 = 0.61 g.
TEST(Law, HallmarksAreDueByWeight) {
    EXPECT_NE(hallmarkOf(bandOf("gold-18k-yellow")).find("21.05 g"), std::string::npos);
    EXPECT_NE(hallmarkOf(bandOf("gold-18k-yellow")).find("must be hallmarked above 1 g"), std::string::npos);
    EXPECT_TRUE(hallmarkOf(bandOf("gold-18k-yellow"))
                    .ends_with("send it to an assay office. Elsewhere ask the law of the place."));
    design::Design thin = bandOf("silver-sterling-925");
    thin.band.width = 1;
    thin.band.thickness = 0.9;
    EXPECT_NE(hallmarkOf(thin).find("0.61 g"), std::string::npos) << hallmarkOf(thin);
    EXPECT_NE(hallmarkOf(thin).find("only above 7.78 g"), std::string::npos);
    // Titanium with a little gold tube: the titanium counts.
    const design::Design tubed = tubeIn("titanium-grade-5", "gold-18k-yellow", design::Join::Adhesive);
    EXPECT_NE(hallmarkOf(tubed).find("sold as gold must be hallmarked"), std::string::npos);
    EXPECT_NE(
        hallmarkOf(tubed).find("before the stones are in, and ask them how the other metals are marked."),
        std::string::npos);
    EXPECT_EQ(hallmarkOf(plainRing()), "");
    trade::Catalogue elsewhere = trade::builtInCatalogue();
    elsewhere.region = trade::Region::Elsewhere;
    EXPECT_EQ(hallmarkOf(bandOf("gold-18k-yellow"), elsewhere), "");
}

// ---------------------------------------------------------------- metals that touch

// MIL-HDBK-1003/6 counts stainless steel, titanium and zirconium among the passive metals. Indices: gold 0,
// silver 0.15, copper 0.35, brass 0.45 V; 0.15 V is allowed in salt, 0.25 in plain air.
TEST(GalvanicPairs, LeaveOutWhatIsPassive) {
    const auto pair = [](const char* band, const char* tube) {
        return verdictOf(tubeIn(band, tube, design::Join::Adhesive), "galvanic-pair");
    };
    EXPECT_EQ(pair("titanium-grade-5", "gold-18k-yellow"), Verdict::Go);
    EXPECT_EQ(pair("steel-316l", "gold-18k-yellow"), Verdict::Go);
    EXPECT_EQ(pair("silver-sterling-925", "gold-18k-yellow"), Verdict::Go);
    EXPECT_EQ(pair("copper", "silver-sterling-925"), Verdict::Marginal);
    EXPECT_EQ(pair("copper", "gold-18k-yellow"), Verdict::NoGo);
    EXPECT_EQ(pair("titanium-grade-5", "brass"), Verdict::Go) << "0.15 V";
    EXPECT_EQ(pair("carbon-fibre", "brass"), Verdict::NoGo) << "carbon is noble and carries current";
    EXPECT_EQ(verdictOf(plainRing(), "galvanic-pair"), std::nullopt);
}

TEST(GalvanicPairs, AreMetalsThatTouch) {
    design::Design design = tubeIn("titanium-grade-5", "gold-18k-yellow", design::Join::Adhesive);
    design.settings.push_back(design.settings[0]);
    design.settings[1].placement.start = 180;
    design.settings[1].tube->metal = "copper";
    // Gold and copper tubes stand apart; titanium drives copper by 0.05 V.
    EXPECT_NEAR(valueOf(checked(design), "galvanic-pair"), 0.05, 1e-12);
}

// ---------------------------------------------------------------- off a swollen finger

// The section is 8 by 2.4 = 19.2 mm2. Titanium of 340 HV is as much as 50.2 mm2 of 18K gold (130 HV).
TEST(CuttingOff, CountsMetalAndSection) {
    EXPECT_NEAR(valueOf(checked(plainRing()), "cut-off"), 19.2 * 340 / 130, 1e-9);
    EXPECT_EQ(verdictOf(plainRing(), "cut-off"), Verdict::Go) << "the caution tells it";
    EXPECT_NEAR(valueOf(checked(bandOf("gold-18k-yellow")), "cut-off"), 19.2, 1e-9);
    design::Design lined = plainRing();
    lined.band.liner = design::Liner{.metal = "gold-18k-yellow", .thickness = 0.4};
    EXPECT_NEAR(valueOf(checked(lined), "cut-off"), 8 * (2.0 * 340 / 130 + 0.4), 1e-9);
    design::Design thick = plainRing();
    thick.band.width = 12;
    thick.band.thickness = 3.4;
    EXPECT_EQ(verdictOf(thick, "cut-off"), Verdict::NoGo);
}

TEST(CuttingOff, IsTheCautionOfTitaniumZirconiumAndCobaltChrome) {
    for (const trade::Metal& metal : trade::builtInCatalogue().metals) {
        const bool told = std::ranges::any_of(metal.cautions, [](const trade::Caution& caution) {
            return caution.text.find("bolt cutter") != std::string::npos &&
                   caution.text.find("15 minutes") != std::string::npos;
        });
        const bool needed =
            metal.id.starts_with("titanium") || metal.id == "zirconium" || metal.id == "cobalt-chrome";
        EXPECT_EQ(told, needed) << metal.id;
    }
}

// ---------------------------------------------------------------- colours

TEST(Colours, AreCutByWhateverComesAfterThem) {
    design::Design design = plainRing();
    design.band.surface.treatment = design::Treatment::Anodised;
    const Report usual = checked(design);
    EXPECT_EQ(verdictOf(design, "colour-cut"), Verdict::NoGo) << "sized after it is polished and coloured";
    EXPECT_NEAR(valueOf(usual, "colour-cut"), design.allowances.sizing, 1e-12);
    design.route = design::movedBefore(design.route, design::Stage::Sized, design::Stage::Polished);
    EXPECT_EQ(verdictOf(design, "colour-cut"), std::nullopt);
    design.route = design::usualRoute();
    design.band.surface.treatment = design::Treatment::None;
    EXPECT_EQ(verdictOf(design, "colour-cut"), std::nullopt);
}

TEST(Colours, AnEtchGoesLast) {
    design::Design design = bandOf("steel-304l-316l-layered");
    EXPECT_EQ(verdictOf(design, "etch-cut"), std::nullopt);
    for (const design::Stage later : {design::Stage::Trued, design::Stage::Polished, design::Stage::Sized}) {
        design::Design cut = design;
        cut.route = design::movedBefore(design.route, design::Stage::Etched, later);
        EXPECT_EQ(verdictOf(cut, "etch-cut"), Verdict::NoGo) << design::name(later);
    }
    design::Design plain = bandOf("titanium-grade-5");
    plain.route = design::movedBefore(plain.route, design::Stage::Etched, design::Stage::Trued);
    EXPECT_EQ(verdictOf(plain, "etch-cut"), std::nullopt) << "nothing to etch";
}

// ---------------------------------------------------------------- stones

// Lists of toughness (bario-neal.com, orchid 11535): corundum excellent, diamond and quartz good, emerald
// poor to good, topaz and moonstone poor, opal very poor to fair; diamond, topaz and moonstone cleave.
TEST(Stones, AreClosedByWhatTheyStand) {
    const auto closed = [](const char* gem, design::Closing closing) {
        design::Design design = tubeIn("titanium-grade-5", "gold-18k-yellow", design::Join::Adhesive);
        design.settings[0].stone->gem = gem;
        design.settings[0].closing = closing;
        return verdictOf(design, "stone-toughness");
    };
    using enum design::Closing;
    for (const char* gem : {"sapphire", "ruby", "diamond", "amethyst", "emerald", "tourmaline", "peridot"})
        EXPECT_EQ(closed(gem, Burnished), Verdict::Go) << gem;
    for (const char* gem : {"topaz", "moonstone", "opal"})
        EXPECT_EQ(closed(gem, Burnished), Verdict::Marginal) << gem;
    for (const char* gem : {"sapphire", "spinel", "amethyst"})
        EXPECT_EQ(closed(gem, Hammered), Verdict::Go) << gem;
    for (const char* gem : {"diamond", "emerald", "tourmaline", "almandine"})
        EXPECT_EQ(closed(gem, Hammered), Verdict::Marginal) << gem;
    for (const char* gem : {"topaz", "moonstone", "opal"})
        EXPECT_EQ(closed(gem, Hammered), Verdict::NoGo) << gem;
}

TEST(Stones, AreBurnishedWhereTheHammerWouldBreakThem) {
    design::Design design = tubeIn("titanium-grade-5", "gold-18k-yellow", design::Join::Adhesive);
    design.settings[0].closing = design::Closing::Hammered;
    const Report report = check(design, trade::builtInCatalogue());
    const auto found = std::ranges::find(report.findings, "stone-toughness", &Finding::rule);
    ASSERT_NE(found, report.findings.end());
    EXPECT_TRUE(found->remedy.find("burnished instead of hammered") != std::string::npos) << found->remedy;
}

// The heat of the torch and the acid of an etch are asked of each stone that is there by then.
TEST(Stones, AreAskedOfHeatByTheGradeOfTheSolder) {
    design::Design design = tubeIn("gold-18k-yellow", "gold-18k-yellow", design::Join::Solder);
    design.settings[0].stone->gem = "diamond";
    design.route = design::movedBefore(design.route, design::Stage::Closed, design::Stage::Joined);
    // A diamond stands 700 degrees C: extra-easy solder flows at 618, easy at 718.
    EXPECT_EQ(verdictOf(design, "join-heat-stone"), Verdict::NoGo);
    design.settings[0].tube->solder = design::Solder::ExtraEasy;
    EXPECT_EQ(verdictOf(design, "join-heat-stone"), Verdict::Go);
}

}  // namespace
}  // namespace bandwright::check
