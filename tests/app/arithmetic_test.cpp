#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <vector>

#include "program.hpp"

/// How much of a ring may change with the C library's sin, atan2 and the like, whose last bits differ between
/// processors and versions.
namespace bandwright::app {
namespace {

struct Printed {
    std::string shape, report;
    std::vector<double> numbers;
};

/// The same designs in a process of its own.
Printed printed(const Variables& variables) {
    const ScratchFolder folder;
    const Outcome outcome = runProgram({BANDWRIGHT_PRINT_RINGS, "100", folder.path()}, variables);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    const std::string bytes = readFile(folder / "numbers");
    Printed result{readFile(folder / "shape"), readFile(folder / "report"), {}};
    result.numbers.resize(bytes.size() / sizeof(double));
    std::memcpy(result.numbers.data(), bytes.data(), result.numbers.size() * sizeof(double));
    return result;
}

TEST(Arithmetic, OfAnotherProcessorChangesNoShapeNoWordAndNoNumberByMoreThanRounding) {
    const Printed here = printed({});
    // glibc manual, "Hardware Capability Tunables": as on a processor without these instructions.
    const Printed there = printed({{"GLIBC_TUNABLES", "glibc.cpu.hwcaps=-AVX2,-FMA,-FMA4"}});
    ASSERT_GT(here.numbers.size(), 10000U);
    ASSERT_EQ(there.numbers.size(), here.numbers.size());
    double most = 0;
    for (std::size_t i = 0; i < here.numbers.size(); ++i)
        most = std::max(most, std::abs(here.numbers[i] - there.numbers[i]));
    // Another processor than this one could be told of only where this one has such instructions.
    if (__builtin_cpu_supports("fma")) {
        EXPECT_GT(most, 0);
    }
    RecordProperty("MostApart", std::to_string(most));
    EXPECT_LT(most, 1e-9);
    EXPECT_TRUE(there.shape == here.shape);
    EXPECT_EQ(there.report, here.report);
}

TEST(Arithmetic, OfTheSameMachineGivesTheSameBytesEachTime) {
    const Printed first = printed({}), second = printed({});
    EXPECT_TRUE(first.shape == second.shape);
    EXPECT_EQ(first.report, second.report);
    EXPECT_TRUE(first.numbers == second.numbers);
}

}  // namespace
}  // namespace bandwright::app
