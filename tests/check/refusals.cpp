// refusals [COUNT [FIRST]]: of COUNT designs drawn by lot, how many are refused and with which sentence, its
// numbers left out; and on how many the check and the making of meshes disagree: one that the check lets pass
// has a mesh at every stage. Each without a mesh is told by its seed. On one core; several runs share a
// million by FIRST.

#include <cstdio>
#include <cstdlib>
#include <map>
#include <regex>
#include <string>

#include "base/input_error.hpp"
#include "check/check.hpp"
#include "geometry/ring.hpp"
#include "random_design.hpp"
#include "trade/catalogue.hpp"

namespace {

using namespace bandwright;

std::string reason(const std::string& sentence) {
    static const std::regex numbers("-?[0-9]+(\\.[0-9]+)?(e-?[0-9]+)?");
    return std::regex_replace(sentence, numbers, "#");
}

/// Why it cannot be; empty where it can.
template <class Work>
std::string refusal(const Work& work) {
    try {
        work();
        return {};
    } catch (const base::InputError& error) {
        return error.what();
    }
}

}  // namespace

int main(int argc, char** argv) {
    const unsigned long count = argc > 1 ? std::strtoul(argv[1], nullptr, 10) : 10'000;
    const unsigned long first = argc > 2 ? std::strtoul(argv[2], nullptr, 10) : 0;
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    std::map<std::string, unsigned long> outright, meshes, checks;
    unsigned long built = 0, passed = 0, disagree = 0;
    for (unsigned long seed = first; seed < first + count; ++seed) {
        const design::Design ring = geometry::randomDesign(seed);
        if (const std::string said = refusal([&] { geometry::requireBuildable(ring); }); !said.empty()) {
            ++outright[reason(said)];
            continue;
        }
        ++built;
        bool passes = false;
        const std::string unchecked = refusal([&] {
            passes = check::check(ring, catalogue, {.remedies = false}).verdict != check::Verdict::NoGo;
        });
        if (!unchecked.empty()) ++checks[reason(unchecked)];
        passed += passes ? 1 : 0;
        for (const design::Stage stage : check::stages(ring, catalogue)) {
            const std::string unmeshed =
                refusal([&] { geometry::buildParts(ring, stage, {base::Micrometres(100)}); });
            if (unmeshed.empty()) continue;
            ++meshes[reason(unmeshed)];
            disagree += passes ? 1 : 0;
            std::printf("seed %lu at %s%s: %s\n", seed, design::name(stage).c_str(),
                        passes ? ", which the check lets pass" : "", unmeshed.c_str());
            break;
        }
    }
    const auto list = [&](const char* title, const std::map<std::string, unsigned long>& reasons) {
        std::printf("%s\n", title);
        for (const auto& [sentence, times] : reasons)
            std::printf("%10lu %10.1f  %s\n", times,
                        1e6 * static_cast<double>(times) / static_cast<double>(count), sentence.c_str());
    };
    std::printf("%lu designs, %lu not refused outright, %lu without no-go, %lu disagreements\n", count, built,
                passed, disagree);
    list("Refused outright (times, in a million):", outright);
    list("No mesh:", meshes);
    list("No check:", checks);
    return disagree == 0 ? 0 : 1;
}
