// mend_share [COUNT]: of COUNT designs drawn by lot that have a no-go, how many mending mends, how many have
// wishes no ring can have, and how many of their findings that are not go get a remedy. Takes every core
// there is.

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

struct Share {
    int mended = 0, hindered = 0, contradicted = 0, changes = 0;
    int bad = 0, remedied = 0, chosen = 0, proved = 0;
    std::map<std::string, int> left;

    void add(const design::Design& design) {
        const Report report = check::check(design, trade::builtInCatalogue());
        for (const Finding& f : report.findings) {
            bad += f.verdict != Verdict::Go ? 1 : 0;
            remedied += f.remedies.empty() ? 0 : 1;
            chosen += f.remedies.size() > 1 ? 1 : 0;
            proved += f.remedies.empty() && f.remedy.find("tried") != std::string::npos ? 1 : 0;
        }
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
    std::vector<Share> shares(std::max(1U, std::thread::hardware_concurrency()));
    std::vector<std::thread> workers;
    for (std::size_t first = 0; first < shares.size(); ++first) {
        workers.emplace_back([&, first] {
            for (std::size_t i = first; i < designs.size(); i += shares.size())
                shares[first].add(designs[i]);
        });
    }
    for (std::thread& worker : workers)
        worker.join();
    Share whole;
    for (const Share& share : shares)
        whole.add(share);
    const double all = static_cast<double>(designs.size());
    std::printf("%.0f designs with a no-go: %d mended (%.1f %%), %.1f numbers changed in each\n", all,
                whole.mended, 100 * whole.mended / all,
                whole.mended > 0 ? static_cast<double>(whole.changes) / whole.mended : 0.0);
    std::printf("%d have wishes no ring can have (%d of them mended all the same); of the others %.1f %%\n",
                whole.hindered, whole.contradicted,
                100 * (whole.mended - whole.contradicted) / (all - whole.hindered));
    std::printf("%d findings not go: %d with a remedy (%.1f %%), %d with a choice, %d where all was tried\n",
                whole.bad, whole.remedied, 100.0 * whole.remedied / whole.bad, whole.chosen, whole.proved);
    std::printf("no-go left where the wishes allow a ring:\n");
    for (const auto& [rule, count] : whole.left)
        std::printf("  %s stays in %d\n", rule.c_str(), count);
}
