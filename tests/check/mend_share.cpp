// mend_share [COUNT]: of COUNT designs drawn by lot that have a no-go, how many mending mends, and how many
// of their findings that are not go get a remedy.

#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>

#include "check/mend.hpp"
#include "drawn_design.hpp"

int main(int argc, char** argv) {
    using namespace bandwright;
    const int wanted = argc > 1 ? std::atoi(argv[1]) : 1000;
    const Catalogue& catalogue = builtInCatalogue();
    int designs = 0, mended = 0, changes = 0, bad = 0, remedied = 0;
    std::map<std::string, int> left;
    for (std::uint64_t seed = 0; designs < wanted; ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        const Report report = check(*design, catalogue);
        if (report.verdict != Verdict::NoGo) continue;
        ++designs;
        for (const Finding& f : report.findings) {
            bad += f.verdict != Verdict::Go ? 1 : 0;
            remedied += f.change ? 1 : 0;
        }
        const Mended result = mend(*design, catalogue, usualWishes());
        if (result.report.verdict != Verdict::NoGo) {
            ++mended;
            changes += static_cast<int>(result.changes.size());
        }
        for (const Finding& f : result.report.findings)
            if (f.verdict == Verdict::NoGo) ++left[f.rule];
    }
    std::printf("%d designs with a no-go: %d mended (%.1f %%), %.1f numbers changed in each\n", designs,
                mended, 100.0 * mended / designs, mended > 0 ? static_cast<double>(changes) / mended : 0.0);
    std::printf("%d findings not go: %d with a remedy of one number (%.1f %%)\n", bad, remedied,
                100.0 * remedied / bad);
    for (const auto& [rule, count] : left)
        std::printf("  %s stays in %d\n", rule.c_str(), count);
}
