#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "design/design_file.hpp"
#include "random_design.hpp"

namespace bandwright::design {
namespace {

RC_GTEST_PROP(RoundTrip, WhatIsWrittenIsReadBackTheSame, ()) {
    const Design design = randomDesign();
    const std::string text = formatDesign(design);
    RC_ASSERT(parseDesign(text, "random.ring.json") == design);
    RC_ASSERT(formatDesign(parseDesign(text, "random.ring.json")) == text);
}

// A reader that is not ours agrees about every number and text in the file.
RC_GTEST_PROP(RoundTrip, AnotherParserReadsTheSameNumbersAndTexts, ()) {
    const Design design = randomDesign();
    const nlohmann::json json = nlohmann::json::parse(formatDesign(design));
    RC_ASSERT(json.at("title").get<std::string>() == design.title);
    RC_ASSERT(json.at("note").get<std::string>() == design.note);
    RC_ASSERT(json.at("band").at("width").get<double>() == design.band.width);
    RC_ASSERT(json.at("channels").size() == design.channels.size());
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        RC_ASSERT(json.at("settings")[i].at("placement").at("count").get<int>() ==
                  design.settings[i].placement.count);
        RC_ASSERT(json.at("settings")[i].contains("stone") == design.settings[i].stone.has_value());
        RC_ASSERT(json.at("settings")[i].at("placement").at("angles").get<std::vector<double>>() ==
                  design.settings[i].placement.angles);
    }
}

/// Converts to any type; used to count the members of a plain struct.
struct Anything {
    template <class T>
    operator T() const {  // NOLINT(google-explicit-constructor)
        std::abort();     // never called
    }
};

template <class T, class... Members>
constexpr std::size_t memberCount() {
    if constexpr (requires { T{Members{}..., Anything{}}; }) {
        return memberCount<T, Members..., Anything>();
    } else {
        return sizeof...(Members);
    }
}

struct FieldCounter {
    std::size_t count = 0;
    void operator()(std::string_view /*key*/, const auto& /*value*/, const auto& /*rule*/,
                    const Words& /*words*/) {
        ++count;
    }
};

template <class T>
std::size_t fieldCount() {
    FieldCounter counter;
    const T value;
    visitFields(counter, value);
    return counter.count;
}

// Whoever adds a member to design.hpp and forgets the table, and with it the file, fails here.
TEST(FieldTable, HasEveryMemberOfEveryStructOfADesign) {
    EXPECT_EQ(fieldCount<Finger>(), memberCount<Finger>());
    EXPECT_EQ(fieldCount<Outside>(), memberCount<Outside>());
    EXPECT_EQ(fieldCount<Edge>(), memberCount<Edge>());
    EXPECT_EQ(fieldCount<Bore>(), memberCount<Bore>());
    EXPECT_EQ(fieldCount<Band>(), memberCount<Band>());
    EXPECT_EQ(fieldCount<Fill>(), memberCount<Fill>());
    EXPECT_EQ(fieldCount<Channel>(), memberCount<Channel>());
    EXPECT_EQ(fieldCount<HoleStep>(), memberCount<HoleStep>());
    EXPECT_EQ(fieldCount<Hole>(), memberCount<Hole>());
    EXPECT_EQ(fieldCount<Tube>(), memberCount<Tube>());
    EXPECT_EQ(fieldCount<Stone>() + 1, memberCount<Stone>())
        << "what a model's file holds is not in this one";
    EXPECT_EQ(fieldCount<Placement>(), memberCount<Placement>());
    EXPECT_EQ(fieldCount<Setting>(), memberCount<Setting>());
    EXPECT_EQ(fieldCount<Allowances>(), memberCount<Allowances>());
    EXPECT_EQ(fieldCount<Design>(), memberCount<Design>());
}

}  // namespace
}  // namespace bandwright::design
