#include <string>
#include <utility>

#include "levers.hpp"

namespace bandwright::check {

namespace {

/// Only where the law forbids it is it no-go; elsewhere the maker is told.
Limit byLaw(const trade::Catalogue& catalogue, double limit, double comfortable, std::string source) {
    constexpr double kAll = 100;  // %
    const bool binds = catalogue.region != trade::Region::Elsewhere;
    return {binds ? limit : kAll, comfortable, std::move(source)};
}

Limit leadLimit(const design::Design& /*design*/, const trade::Catalogue& catalogue) {
    return byLaw(catalogue, 0.05, 0.04,
                 "REACH Annex XVII entry 63, by UL and Intertek: under 0.05 % of any part of jewellery; 0.04 "
                 "our own choice");
}

Limit cadmiumLimit(const design::Design& /*design*/, const trade::Catalogue& catalogue) {
    return byLaw(catalogue, 0.01, 0.008,
                 "REACH Annex XVII entry 23, by ECHA: under 0.01 % of jewellery; 0.008 our own choice");
}

}  // namespace

std::vector<Rule> materialRules() {
    constexpr const char* kFlow =
        "the heat at which the solder flows: extra-easy 618 degrees C, published; easy 718, medium 750 and "
        "hard 780, common practice; a ring that is welded in the fingers reaches 45, from memory";
    constexpr const char* kFlowAtStone =
        "the heat at which the solder flows, published and common practice, against what the stone stands, "
        "in "
        "the catalogue, from memory";
    constexpr const char* kSourceOfScores =
        "the scores of each material, in the catalogue, most of them from memory; where they part is our own "
        "choice";
    constexpr Sides kSpare{"", "too little"};
    const Limit stands{0, 1, kSourceOfScores};
    return {
        atMost({"nickel-release", "the nickel the ring's metals give off to the skin", "ug/cm2 a week"},
               {0.5, 0.35,
                "REACH Annex XVII entry 27: 0.5 ug/cm2 a week, tested by EN 1811, which lets 0.88 pass for "
                "the scatter of the test; 0.35 our own choice"},
               "Nickel that is given off to the skin brings on an allergy that stays for life; in the EU and "
               "UK such a ring may not be sold, elsewhere ask the law of the place.",
               {}),
        atLeast({"nickel-known", "whether the nickel in the ring's metals is known", "of 1"},
                {0, 1,
                 "contact-dermatitis abstract FS02.3: of 770 pieces of white gold 31 in 100 of 14K and less "
                 "and 7 in 100 of 18K gave off more than REACH Annex XVII entry 27 allows"},
                "Some alloys of this name give off nickel and some hold none: ask the supplier for the "
                "certificate by EN 1811, or take one whitened with palladium.",
                {}),
        atMost({"lead-content", "the lead in a part of the ring", "%"}, leadLimit,
               "Lead wears off on skin and in the mouth: in the EU and UK jewellery with as much may not be "
               "sold, elsewhere ask the law of the place.",
               {}),
        atMost({"cadmium-content", "the cadmium in a part of the ring", "%"}, cadmiumLimit,
               "Cadmium is a poison that stays in the body: in the EU and UK jewellery with as much may not "
               "be sold, elsewhere ask the law of the place.",
               {}),
        atMost({"skin-stain", "whether the metal of the bore colours the skin", "of 1"},
               {1, 0, "common practice, no source: copper and its alloys colour the skin green or black"},
               "Bare copper, brass and bronze colour the finger in wear: tell the client, or line the bore.",
               {}),
        atMost({"galvanic-pair", "what drives the less noble of two metals that touch", "V"},
               {0.25, 0.15,
                "carrlane.com after MIL-STD-1250A and Army report RS-TR-67-11: 0.15 V in salt, which sweat "
                "is, 0.25 V in plain air; passive metals are left out, as MIL-STD-889D counts by the rate "
                "and not by the voltage; the index of most metals in the catalogue is from memory"},
               "In sweat the less noble of two metals is eaten away where they touch.", {}),
        orElse(
            {design::Stage::Etched, design::Stage::Filled},
            atLeast({"etch-fill", "whether filler and adhesive stand the etch that shows the layers", "of 2"},
                    stands,
                    "The etch that brings out the layers attacks the fill: mask it, or take a fill that "
                    "stands the acid.",
                    {})),
        orElse(
            {design::Stage::Etched, design::Stage::Joined},
            atLeast(
                {"etch-setting", "whether tube and stone stand the etch that shows the layers", "of 2"},
                stands,
                "The etch that brings out the layers attacks the setting: etch before it is set, or mask it.",
                {})),
        orElse(
            {design::Stage::Sized, design::Stage::Polished},
            atMost({"colour-cut", "what a later step takes off a colour of oxide"},
                   {0, 0, "a matter of subtraction: the oxide is thinner than a cut can be"},
                   "Whatever cuts the metal after it is coloured leaves it bare there: colour it last.", {})),
        orElse(
            {design::Stage::Sized, design::Stage::Etched},
            atMost({"etch-cut", "what a later step takes off the etch that shows the layers"},
                   {0, 0, "a matter of subtraction: a usual etch is 0.006 mm deep"},
                   "Whatever cuts the metal after the etch takes the pattern off again: etch it last, with "
                   "the fill masked by wax or lacquer.",
                   {})),
        orElse({design::Stage::Joined, design::Stage::Filled},
               atLeast({"join-heat-fill", "what the adhesive of a fill stands above the heat of a later join",
                        "degrees C", kSpare},
                       {0, 20, kFlow},
                       "The heat of the join softens or burns the fill: join the tubes before the channel is "
                       "filled.",
                       {})),
        orElse(
            {design::Stage::Joined, design::Stage::Set},
            atLeast(
                {"join-heat-stone", "what a stone stands above the heat of a later join", "degrees C",
                 kSpare},
                {0, 30, kFlowAtStone},
                "The heat of the join cracks or clouds the stone: join the tubes before the stones are set.",
                {})),
        orElse({design::Stage::Joined, design::Stage::Filled},
               atLeast({"weld-to-fill", "the metal between a welded tube and a fill that was there before"},
                       {1, 2, "from memory: keep 1 to 2 mm and cool pulses"},
                       "So near the weld the adhesive burns: weld before the channel is filled.",
                       {kHoleToRight, kHoleToLeft, kChannelToRight, kChannelToLeft, kNarrowerChannel})),
        atLeast({"solder-metal", "how the ring's metals take the torch of a soldered tube", "of 2"},
                {0.5, 1.5, "of each metal, in the catalogue"},
                "Under a torch in air titanium, zirconium, tantalum and niobium grow brittle, and wood and "
                "carbon fibre burn: glue the tube in, or weld it by laser to its own kind; steel and "
                "cobalt-chrome take solder only with a flux that holds fluoride.",
                {}),
        atLeast(
            {"solder-melt", "what the first metal to melt stands above the flow of the solder", "degrees C",
             kSpare},
            {0, 20, "melting of each metal, in the catalogue; 20 our own choice"},
            "Where the metal melts with the solder, tube or band sinks: take a solder that flows earlier.",
            {}),
        atLeast(
            {"weld-metal", "how a laser weld of tube and band comes out", "of 2"},
            {0.5, 1.5,
             "Iwasaki and others, Hokkaido, dental laser: titanium to titanium 595 MPa, gold alloy 313, "
             "titanium to gold alloy 137 with cracks and pores; Pasang 2018 and others: titanium to steel "
             "cracks at once or is brittle"},
            "Titanium and its like weld to gold at a quarter of their strength, with cracks, and not at "
            "all to steel, cobalt-chrome or brass; wood and fibre burn: glue the tube in, or take one of "
            "the band's own kind.",
            {}),
        atLeast({"fill-water", "whether filler and adhesive stand years of water", "of 2"},
                {0.5, 1, kSourceOfScores},
                "Years of washing hands dissolve the fill or lift it out: take what stands it, or seal it.",
                {}),
        atLeast(
            {"fill-light", "whether filler and adhesive stand years of daylight", "of 2"},
            {0.5, 1, kSourceOfScores},
            "In daylight the fill fades or yellows: take a filler and a grade of adhesive made to stand it.",
            {}),
        atMost(
            {"cut-off", "the section to cut to get the ring off a finger, told in 18K gold", "mm2 of gold"},
            {100, 60,
             "from memory: a bolt cutter of 600 mm is rated for 1/4 inch of steel at 42 HRC (413 HV), as "
             "much as 100 mm2 of gold at 130 HV; 60 our own choice"},
            "So much metal stops even a large bolt cutter: it has to be ground off a swollen finger.",
            {kThinnerBand, kNarrowerBand}),
        onMeasure("band-hardness",
                  atMost({"cut-bite", "the hardness of the band, against the jaws of a cutter", "HV"},
                         {700, 400,
                          "Allen 2012: hand cutters fail on carbide, which has to be cracked; 700 and 400 "
                          "from memory, the hardness of jaws and what they are rated for"},
                         "A ring that no jaws bite has to be cracked or ground off a swollen finger.", {})),
        onMeasure("band-hardness",
                  atLeast({"wear-hardness", "the hardness of the band", "HV"},
                          {25, 60, "common practice, no source"},
                          "So soft a metal dents and wears thin on the hand in a few years.", {})),
        atLeast({"stone-toughness", "the toughness of a stone over what its closing asks", "classes"},
                {-1, 0,
                 "bario-neal.com and orchid 11535, lists of toughness; fair to be burnished, good to be "
                 "hammered and one class more where it cleaves: our own choice"},
                "A stone that is brittle or cleaves breaks under the punch: burnish the lip over it with a "
                "soft metal, or take a tougher stone.",
                {}),
        atLeast({"fill-heat", "the heat that the adhesive stands in use", "degrees C"},
                {40, 45, "common practice, no source: a hot bath is 40 to 42 degrees C"},
                "In a hot bath or a closed car the adhesive softens and lets the fill creep.", {}),
        atLeast(
            {"fill-softness", "the hardness of the filler", "Mohs"}, {2, 3, "common practice, no source"},
            "So soft a filler is sanded out before the metal beside it is level, and the fill stays dished.",
            {}),
        atMost({"fill-layers", "the depth of a channel in layers of its adhesive", "layers"},
               {5, 3,
                "Handbook of Adhesive Technology: each layer no thicker than its gap limit; 3 and 5 our own "
                "choice"},
               "So many layers trap air, and each has to cure before the next.", {kShallowerChannel}),
        atMost({"fill-shrinkage", "by how much the adhesive between the grains sinks in curing"},
               {0.12, 0.06, "common practice, no source; shrinkage of each adhesive in the catalogue"},
               "The fill sinks below the rims in curing: top it up before it is sanded.",
               {kDenserFill, kShallowerChannel}),
    };
}

}  // namespace bandwright::check
