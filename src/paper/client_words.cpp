#include <algorithm>
#include <map>
#include <numbers>
#include <optional>
#include <string_view>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/cautions.hpp"
#include "check/weighed.hpp"
#include "paper/client_papers.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::paper {

namespace {

/// What a finding that is not go means to who wears the ring; rules that concern the bench alone are not
/// here.
const std::map<std::string, std::string>& wearersSentences() {
    static const std::map<std::string, std::string> kSentences{
        {"stone-hardness", "The stone is softer than street dust and loses its polish in years of wear."},
        {"wear-hardness", "The metal is soft: it takes dents and wears thinner over the years."},
        {"fill-softness", "The inlay is softer than the metal round it and wears a little lower with time."},
        {"fill-water", "The inlay does not like water: take the ring off for washing and swimming."},
        {"fill-light", "The inlay pales or yellows in years of strong daylight."},
        {"fill-heat", "A hot bath, a sauna or a closed car in summer can soften the inlay."},
        {"resize-room", "The ring cannot be opened by much if the finger grows."},
        {"cut-off", "There is much metal to cut: tell whoever has to take the ring off a swollen finger."},
        {"cut-bite",
         "The metal is hard for a ring cutter: tell whoever has to take it off a swollen finger."},
        {"nickel-release", "The metal gives off nickel: not for a skin that is allergic to it."},
        {"nickel-known",
         "Whether this alloy gives off nickel is known by its certificate alone: ask to see it."},
        {"skin-stain", "The bare metal colours the skin of the finger; it washes off."},
        {"band-width", "So wide a ring is felt when the finger bends."},
        {"band-thickness", "So thick a ring is felt by the fingers beside it."},
        {"ring-mass", "It is a heavy ring."},
        {"width-correction",
         "A wide ring sits tighter than the sizing ring it was measured with: try a wide one."},
        {"stone-proud", "The stone stands high and catches on cloth."},
        {"tube-proud", "The setting stands out a little and can catch on cloth."},
        {"girdle-proud", "The edge of the stone stands free: mind hard knocks."},
        {"fill-step", "The inlay is felt as a small step."},
        {"galvanic-pair", "Two metals touch in it: rinse off salt water."},
        {"first-yield", "A hard squeeze can bend it out of round: take it off for heavy work."},
        {"stiffness", "It gives way a little under a very hard grip: take it off for heavy work."},
    };
    return kSentences;
}

template <class Material>
std::string nameOf(const Material* material, const std::string& id) {
    return material != nullptr ? material->name : id;
}

std::string sizesOf(const trade::RingSize& size) {
    std::string text = trade::formatRingSize(size);
    for (const trade::SizeSystem system :
         {trade::SizeSystem::Us, trade::SizeSystem::Uk, trade::SizeSystem::Iso, trade::SizeSystem::Japan})
        if (system != size.system) text += ", " + trade::formatRingSize(trade::convert(size, system));
    return text;
}

void addFact(ClientWords& words, const std::string& label, const std::string& text) {
    const std::pair fact{label, text};
    if (std::ranges::find(words.facts, fact) == words.facts.end()) words.facts.push_back(fact);
}

void addMaterials(ClientWords& words, const Job& job) {
    const design::Design& design = job.design;
    const trade::Catalogue& known = job.catalogue;
    addFact(words, "Band", nameOf(known.metal(design.band.metal), design.band.metal));
    if (design.band.liner)
        addFact(words, "Lining", nameOf(known.metal(design.band.liner->metal), design.band.liner->metal));
    for (const design::Channel& channel : design.channels)
        if (channel.fill)
            addFact(words, "Inlay",
                    nameOf(known.filler(channel.fill->filler), channel.fill->filler) + " in clear adhesive");
    for (const design::Setting& setting : design.settings) {
        const auto count = std::to_string(design::placedAngles(setting.placement).size());
        if (setting.stone) {
            std::string stone = count == "1" ? "" : count + " \u00D7 ";
            stone += nameOf(known.gem(setting.stone->gem), setting.stone->gem);
            stone += ", " + base::fixed(setting.stone->diameter, 1) + " mm";
            addFact(words, "Stone", stone);
        }
        if (setting.tube)
            addFact(words, "Set in",
                    "a tube of " +
                        base::uncapitalised(nameOf(known.metal(setting.tube->metal), setting.tube->metal)));
    }
}

void addFacts(ClientWords& words, const Job& job) {
    const design::Design& design = job.design;
    addFact(words, "Size", sizesOf(design.finger.size));
    addFact(words, "Inside",
            "\u00D8 " + base::fixed(2 * design::boreRadius(design), 2) + " mm, " +
                base::fixed(2 * std::numbers::pi * design::boreRadius(design), 1) + " mm round");
    addFact(words, "Width", base::fixed(design.band.width, 1) + " mm");
    addFact(words, "Thickness", base::fixed(design.band.thickness, 1) + " mm");
    addMaterials(words, job);
    const double grams = check::weighed(job.report.bodies, design, job.catalogue).volume;
    addFact(words, "Weight", "about " + base::fixed(grams, 1) + " g");
}

/// The least heat in degrees C that what is glued in stands; nothing where nothing is glued.
std::optional<double> leastHeat(const Job& job) {
    std::optional<double> least;
    for (const design::Channel& channel : job.design.channels) {
        const trade::Adhesive* adhesive =
            channel.fill ? job.catalogue.adhesive(channel.fill->adhesive) : nullptr;
        if (adhesive == nullptr) continue;
        const double stands = adhesive->serviceTemperature.value;
        least = std::min(least.value_or(stands), stands);
    }
    return least;
}

bool hasStone(const design::Design& design) {
    return std::ranges::any_of(design.settings, [](const design::Setting& s) { return s.stone.has_value(); });
}

bool isFragile(const Job& job) {
    constexpr double kFair = 1;
    return std::ranges::any_of(job.design.settings, [&](const design::Setting& setting) {
        const trade::Gem* gem = setting.stone ? job.catalogue.gem(setting.stone->gem) : nullptr;
        return gem != nullptr && (gem->perfectCleavage || gem->toughness.value <= kFair);
    });
}

void addCare(ClientWords& words, const Job& job) {
    const std::optional<double> heat = leastHeat(job);
    words.care.push_back(
        heat || hasStone(job.design)
            ? "Clean it with lukewarm water, a mild soap and a soft brush. No ultrasonic bath and no "
              "steam."
            : "Clean it with lukewarm water, a mild soap and a soft brush.");
    if (heat) {
        words.care.push_back(
            "Keep it under " + base::fixed(*heat, 0) +
            " \u00B0C: no sauna, stove or hair dryer, for heat softens what holds the inlay.");
        words.care.push_back(
            "Take it off for swimming, long soaking and solvents such as nail-polish remover.");
    }
    if (isFragile(job))
        words.care.push_back(
            "The stone can chip or split under a hard knock: take the ring off for sport and work.");
    if (job.design.band.surface.treatment != design::Treatment::None)
        words.care.push_back("The colour is a skin thinner than a hair: it wears where the ring rubs.");
    words.care.push_back("Take it off at machines and where it could be caught or crushed.");
}

void addLater(ClientWords& words, const Job& job) {
    const auto room = std::ranges::find(job.report.measures, "resize-room", &check::Measure::id);
    if (room != job.report.measures.end() && room->value > 0)
        words.later.push_back("It can be opened later by up to " + base::fixed(room->value, 1) +
                              " US sizes. To be made smaller it has to be made again.");
    else
        words.later.push_back(
            "It cannot be made larger or smaller later: for another size it has to be made again.");
    if (leastHeat(job) || hasStone(job.design))
        words.later.push_back(
            "It cannot be soldered, welded or heated any more: inlay and stones do not stand it.");
    if (job.design.band.surface.treatment != design::Treatment::None)
        words.later.push_back(
            "Worn colour cannot be touched up in one place; the whole surface is done anew.");
}

void addEmergency(ClientWords& words, const Job& job) {
    words.emergency.push_back(
        "If the finger swells, take the ring off early: cool the hand, hold it up, use soap or oil.");
    constexpr std::string_view kPublished = "To cut it off a swollen finger: ",
                               kToTheMaker = " Tell the wearer, who tells the hospital.";
    for (const auto& [material, caution] : check::cautions(job.design, job.catalogue)) {
        if (!caution.text.starts_with(kPublished)) continue;
        std::string text = base::capitalised(caution.text.substr(kPublished.size()));
        if (text.ends_with(kToTheMaker)) text.erase(text.size() - kToTheMaker.size());
        words.emergency.push_back(text + " Show this card to whoever treats you.");
        return;
    }
    const bool isHard = std::ranges::any_of(job.report.findings, [](const check::Finding& f) {
        return (f.rule == "cut-off" || f.rule == "cut-bite") && f.verdict != check::Verdict::Go;
    });
    words.emergency.push_back(
        isHard ? "A hand ring cutter will not do: it has to be cracked or ground off. Show this card."
               : "Otherwise a ring cutter, as fire services and hospitals have, takes it off.");
}

}  // namespace

ClientWords clientWords(const Job& job) {
    ClientWords words;
    addFacts(words, job);
    for (const check::Finding& finding : job.report.findings) {
        const auto sentence = wearersSentences().find(finding.rule);
        if (finding.verdict == check::Verdict::Go || sentence == wearersSentences().end()) continue;
        if (std::ranges::find(words.know, sentence->second) == words.know.end())
            words.know.push_back(sentence->second);
    }
    addCare(words, job);
    addLater(words, job);
    addEmergency(words, job);
    return words;
}

}  // namespace bandwright::paper
