#include "sanding.hpp"

#include <algorithm>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "sentences.hpp"

namespace bandwright::route {

const std::vector<Grit>& grits() {
    static const std::vector<Grit> kSeries{
        {120, 125}, {150, 100}, {180, 82},  {220, 68},  {240, 59},  {320, 46},  {400, 35},
        {600, 26},  {800, 22},  {1000, 18}, {1200, 15}, {1500, 13}, {2000, 10}, {2500, 8},
    };
    return kSeries;
}

std::vector<Grit> ladder(int from, int to) {
    std::vector<Grit> steps;
    int most = from;
    while (steps.empty() || steps.back().number < to) {
        const Grit* next = nullptr;
        for (const Grit& grit : grits())
            if (grit.number <= std::min(most, to) && (steps.empty() || grit.number > steps.back().number))
                next = &grit;
        if (next == nullptr) break;
        steps.push_back(*next);
        most = 2 * next->number;
    }
    return steps;
}

std::string inWords(const std::vector<Grit>& steps) {
    std::vector<std::string> names;
    names.reserve(steps.size());
    for (const Grit& grit : steps)
        names.push_back("P" + std::to_string(grit.number) + " (" + base::shortestNumber(grit.micrometres) +
                        " um)");
    return base::listed(names);
}

namespace {

constexpr int kToolMarks = 320;  // takes out the marks of a fine last pass; common practice, no source

std::string sand(int to) {
    return "Sand with " + inWords(ladder(kToolMarks, to)) +
           ", each across the scratches of the one before until those are gone, and half as long again.";
}

const char* const kCompound = "Polish with compound on a hard felt, then a soft mop; keep it cool.";

}  // namespace

std::vector<std::string> finishing(design::Finish finish) {
    switch (finish) {
        case design::Finish::Polished:
            return {sand(2000), kCompound};
        case design::Finish::Turned:
            return {"Leave the marks of a fine last pass: no sanding.",
                    "Polish over them with compound on a soft mop, along the marks, until they shine."};
        case design::Finish::Satin:
            return {sand(600),
                    "Draw fine lines with a pad of fine non-woven abrasive, held still while the ring "
                    "turns, all in one go."};
        case design::Finish::Brushed:
            return {sand(400),
                    "Brush across the ring with P240 on a flat stick or a coarse pad, straight strokes "
                    "of one direction, side by side."};
        case design::Finish::Blasted:
            return {sand(600),
                    "Mask what stays bright with tape, and blast with glass beads of 50 to 100 um, square to "
                    "the surface, until it is even."};
        case design::Finish::Hammered:
            return {
                sand(600),
                "Set the dents side by side with a polished domed hammer, the ring on a steel mandrel; check "
                "the size afterwards, for hammering stretches it.",
                kCompound};
    }
    return {};
}

}  // namespace bandwright::route
