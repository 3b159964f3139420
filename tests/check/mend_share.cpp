// mend_share [COUNT [remedies]]: of COUNT designs drawn by lot that have a no-go, how many mending mends, how
// many have wishes no ring can have, and how many of their findings that are not go get a remedy, by rule.
// With "remedies" nothing is mended, which takes less time. Takes every core there is.

#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <thread>
#include <vector>

#include "base/input_error.hpp"
#include "check/mend.hpp"
#include "design/design_file.hpp"
#include "drawn_design.hpp"

namespace {

using namespace bandwright;
using namespace bandwright::check;

bool isProof(const std::string& remedy) {
    return remedy.find("tried were") != std::string::npos;
}

struct Share {
    int mended = 0, hindered = 0, contradicted = 0, changes = 0;
    int bad = 0, remedied = 0, chosen = 0, proved = 0;
    std::map<std::string, int> left;
    struct OfRule {
        int bad = 0, remedied = 0, leftOut = 0, proved = 0;
    };
    std::map<std::string, OfRule> rules;

    void add(const design::Design& design, bool mending) {
        const Report report = check::check(design, trade::builtInCatalogue());
        for (const Finding& f : report.findings) {
            bad += f.verdict != Verdict::Go ? 1 : 0;
            remedied += f.remedies.empty() ? 0 : 1;
            chosen += f.remedies.size() > 1 ? 1 : 0;
            const bool isProved = f.remedies.empty() && isProof(f.remedy);
            proved += isProved ? 1 : 0;
            if (f.verdict == Verdict::Go) continue;
            OfRule& rule = rules[f.rule];
            ++rule.bad;
            rule.remedied += f.remedies.empty() ? 0 : 1;
            rule.leftOut += !f.remedies.empty() && f.remedies.front().leftOut ? 1 : 0;
            rule.proved += isProved ? 1 : 0;
            if ((f.remedies.empty() || f.remedies.front().leftOut) &&
                std::getenv("MEND_SHARE_WORDS") != nullptr)
                std::printf("%s: %s\n", f.rule.c_str(), f.remedy.c_str());
        }
        if (!mending) return;
        const bool isHindered = !hindrances(design, trade::builtInCatalogue(), usualWishes()).empty();
        hindered += isHindered ? 1 : 0;
        const Mended result = mend(design, trade::builtInCatalogue(), usualWishes());
        if (result.report.verdict != Verdict::NoGo) {
            ++mended;
            contradicted += isHindered ? 1 : 0;
            changes += static_cast<int>(result.changes.size());
        }
        for (const Finding& f : result.report.findings)
            if (f.verdict == Verdict::NoGo && !isHindered) ++left[f.rule];
    }

    void add(const Share& other) {
        mended += other.mended;
        changes += other.changes;
        hindered += other.hindered;
        contradicted += other.contradicted;
        bad += other.bad;
        remedied += other.remedied;
        chosen += other.chosen;
        proved += other.proved;
        for (const auto& [rule, count] : other.left)
            left[rule] += count;
        for (const auto& [rule, of] : other.rules) {
            rules[rule].bad += of.bad;
            rules[rule].remedied += of.remedied;
            rules[rule].leftOut += of.leftOut;
            rules[rule].proved += of.proved;
        }
    }

    void printMended(double all) const {
        std::printf("%.0f designs with a no-go: %d mended (%.1f %%), %.1f numbers changed in each\n", all,
                    mended, 100 * mended / all, mended > 0 ? static_cast<double>(changes) / mended : 0.0);
        std::printf(
            "%d have wishes no ring can have (%d of them mended all the same); of the others %.1f %%\n",
            hindered, contradicted, 100 * (mended - contradicted) / (all - hindered));
        std::printf("no-go left where the wishes allow a ring:\n");
        for (const auto& [rule, count] : left)
            std::printf("  %s stays in %d\n", rule.c_str(), count);
    }
};

/// Some numbers drawn lie beside the ranges of a design's file.
bool canBeInAFile(const design::Design& design) {
    try {
        design::requireValid(design);
        return true;
    } catch (const base::InputError&) {
        return false;
    }
}

std::vector<design::Design> designsWithNoGo(int wanted) {
    std::vector<design::Design> designs;
    for (std::uint64_t seed = 0; static_cast<int>(designs.size()) < wanted; ++seed) {
        const auto design = drawn(seed);
        if (design && canBeInAFile(*design) &&
            check::check(*design, trade::builtInCatalogue(), {.remedies = false}).verdict == Verdict::NoGo)
            designs.push_back(*design);
    }
    return designs;
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<design::Design> designs = designsWithNoGo(argc > 1 ? std::atoi(argv[1]) : 1000);
    const bool mending = argc < 3 || std::string(argv[2]) != "remedies";
    std::vector<Share> shares(std::max(1U, std::thread::hardware_concurrency()));
    std::vector<std::thread> workers;
    for (std::size_t first = 0; first < shares.size(); ++first) {
        workers.emplace_back([&, first] {
            for (std::size_t i = first; i < designs.size(); i += shares.size())
                shares[first].add(designs[i], mending);
        });
    }
    for (std::thread& worker : workers)
        worker.join();
    Share whole;
    for (const Share& share : shares)
        whole.add(share);
    const double all = static_cast<double>(designs.size());
    if (mending) whole.printMended(all);
    std::printf("%d findings not go: %d with a remedy (%.1f %%), %d with a choice, %d where all was tried\n",
                whole.bad, whole.remedied, 100.0 * whole.remedied / whole.bad, whole.chosen, whole.proved);
    for (const auto& [rule, of] : whole.rules)
        if (of.remedied < of.bad || of.leftOut > 0)
            std::printf("  %s: %d, with a remedy %d (a part left out: %d), all tried %d\n", rule.c_str(),
                        of.bad, of.remedied, of.leftOut, of.proved);
}
