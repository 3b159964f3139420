#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> materialRules() {
    constexpr const char* kEtchBefore = "etch before, or mask it with wax or lacquer";
    const Limit stands{0, 1, std::string("common practice, no source: ") + kEtchBefore};
    return {
        atMost({"nickel-release", "the nickel the ring's metals give off to the skin", "ug/cm2 a week"},
               {0.5, 0.35,
                "REACH Annex XVII entry 27: 0.5 ug/cm2 a week, tested by EN 1811; 0.35 our own choice"},
               "Nickel that is given off to the skin brings on an allergy that stays for life.", {}),
        atMost({"galvanic-pair", "the difference in anodic index between metals that touch", "V"},
               {0.5, 0.35, "from memory: MIL-STD-889 allows 0.5 V indoors; 0.35 our own choice"},
               "In sweat the less noble of two metals is eaten away where they touch.", {}),
        orElse({design::Stage::Etched, design::Stage::Filled},
               atLeast(
                   {"etch-fill", "whether filler and adhesive stand the etch that shows the layers", "of 2"},
                   stands,
                   "The etch that brings out the layers attacks the fill: etch before the inlay, or mask it.",
                   {})),
        orElse(
            {design::Stage::Etched, design::Stage::Joined},
            atLeast(
                {"etch-setting", "whether tube and stone stand the etch that shows the layers", "of 2"},
                stands,
                "The etch that brings out the layers attacks the setting: etch before it is set, or mask it.",
                {})),
        orElse({design::Stage::Trued, design::Stage::Etched},
               atLeast({"etch-relief", "what truing leaves of an etch that comes before it"},
                       {0, 0.003, "a matter of subtraction; 0.003 mm, half of a usual etch, our own choice"},
                       "Truing takes the etched skin off again: etch after it, or leave less to true.",
                       {kLessTruing, kDeeperEtch})),
        orElse(
            {design::Stage::Joined, design::Stage::Filled},
            atLeast(
                {"join-heat-fill", "what the adhesive of a fill stands above the heat of a later join",
                 "degrees C"},
                {0, 20,
                 "from memory: hard solder flows at 650 degrees C, and a ring that is welded in the fingers "
                 "reaches 45"},
                "The heat of the join softens or burns the fill: join the tubes before the channel is "
                "filled.",
                {})),
        orElse(
            {design::Stage::Joined, design::Stage::Set},
            atLeast(
                {"join-heat-stone", "what a stone stands above the heat of a later join", "degrees C"},
                {0, 30,
                 "from memory: hard solder flows at 650 degrees C, and a ring that is welded in the fingers "
                 "reaches 45"},
                "The heat of the join cracks or clouds the stone: join the tubes before the stones are set.",
                {})),
        orElse({design::Stage::Joined, design::Stage::Filled},
               atLeast({"weld-to-fill", "the metal between a welded tube and a fill that was there before"},
                       {1, 2, "from memory: keep 1 to 2 mm and cool pulses"},
                       "So near the weld the adhesive burns: weld before the channel is filled.",
                       {kHoleToRight, kHoleToLeft, kChannelToRight, kChannelToLeft, kNarrowerChannel})),
        atLeast({"fill-water", "whether filler and adhesive stand years of water", "of 2"},
                {0.5, 1, "of each material, in the catalogue"},
                "Washing hands dissolves the fill or lifts it out.", {}),
        atLeast({"fill-light", "whether filler and adhesive stand years of daylight", "of 2"},
                {0.5, 1, "of each material, in the catalogue"}, "In daylight the fill fades or yellows.", {}),
        onMeasure(
            "band-hardness",
            atMost({"cut-off", "the hardness of the band", "HV"},
                   {700, 400,
                    "Allen 2012: hand cutters fail on carbide, which has to be cracked; 700 and 400 from "
                    "memory"},
                   "A ring that no hand cutter bites has to be cracked or ground off a swollen finger.", {})),
        onMeasure("band-hardness",
                  atLeast({"wear-hardness", "the hardness of the band", "HV"},
                          {25, 60, "common practice, no source"},
                          "So soft a metal dents and wears thin on the hand in a few years.", {})),
        atLeast({"fill-heat", "the heat the adhesive stands in use", "degrees C"},
                {40, 45, "common practice, no source: a hot bath is 40 to 42 degrees C"},
                "In a hot bath or a closed car the adhesive softens and lets the fill creep.", {}),
        atLeast({"fill-softness", "the hardness of the filler", "Mohs"}, {2, 3, "common practice, no source"},
                "So soft a fill is sanded out before the metal beside it is level, and stays dished.", {}),
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
