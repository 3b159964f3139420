// mend_share [COUNT]: of COUNT designs drawn by lot that have a no-go, how many mending mends, and how many
// of their findings that are not go get a remedy. Takes every core there is.

#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <thread>
#include <vector>

#include "check/mend.hpp"
#include "drawn_design.hpp"

namespace {

using namespace bandwright;
using namespace bandwright::check;

struct Share {
    int mended = 0, changes = 0, bad = 0, remedied = 0;
    std::map<std::string, int> left;

    void add(const design::Design& design) {
        const Report report = check::check(design, trade::builtInCatalogue());
        for (const Finding& f : report.findings) {
            bad += f.verdict != Verdict::Go ? 1 : 0;
            remedied += f.change ? 1 : 0;
        }
        const Mended result = mend(design, trade::builtInCatalogue(), usualWishes());
        if (result.report.verdict != Verdict::NoGo) {
            ++mended;
            changes += static_cast<int>(result.changes.size());
        }
        for (const Finding& f : result.report.findings)
            if (f.verdict == Verdict::NoGo) ++left[f.rule];
    }

    void add(const Share& other) {
        mended += other.mended;
        changes += other.changes;
        bad += other.bad;
        remedied += other.remedied;
        for (const auto& [rule, count] : other.left)
            left[rule] += count;
    }
};

std::vector<design::Design> designsWithNoGo(int wanted) {
    std::vector<design::Design> designs;
    for (std::uint64_t seed = 0; static_cast<int>(designs.size()) < wanted; ++seed) {
        const auto design = drawn(seed);
        if (design &&
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
    std::printf("%zu designs with a no-go: %d mended (%.1f %%), %.1f numbers changed in each\n",
                designs.size(), whole.mended, 100.0 * whole.mended / static_cast<double>(designs.size()),
                whole.mended > 0 ? static_cast<double>(whole.changes) / whole.mended : 0.0);
    std::printf("%d findings not go: %d with a remedy of one number (%.1f %%)\n", whole.bad, whole.remedied,
                100.0 * whole.remedied / whole.bad);
    for (const auto& [rule, count] : whole.left)
        std::printf("  %s stays in %d\n", rule.c_str(), count);
}
