#include "app/command_line.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <fstream>
#include <iterator>
#include <new>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>
#include <stdexcept>
#include <thread>

#include "base/input_error.hpp"
#include "program.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::app {
namespace {

TEST(CommandLine, TellsAFaultOfItsOwnFromOneOfTheFile) {
    EXPECT_EQ(endingOf(base::InputError("a.ring.json: it is empty"), "check a.ring.json").code, 2);
    EXPECT_EQ(endingOf(base::InputError("a.ring.json: it is empty"), "").line, "a.ring.json: it is empty");
    EXPECT_EQ(endingOf(std::runtime_error("There is no display"), "").code, 2);
    EXPECT_EQ(endingOf(std::bad_alloc(), "").code, 2);
    const Ending fault = endingOf(std::out_of_range("vector\n::at"), "check a.ring.json --all");
    EXPECT_EQ(fault.code, 3);
    EXPECT_NE(fault.line.find("fault of Bandwright's own"), std::string::npos) << fault.line;
    for (const std::string part : {"vector ::at", "bandwright 0.", "check a.ring.json --all"})
        EXPECT_NE(fault.line.find(part), std::string::npos) << fault.line;
    EXPECT_EQ(fault.line.find('\n'), std::string::npos);
}

TEST(CommandLineDeath, AFaultOnAThreadIsToldAndEndsWithItsOwnCode) {
    const auto faulty = [] {
        std::set_terminate(endAtOnce);
        std::jthread([] { throw std::logic_error("no such stage"); }).join();
    };
    EXPECT_EXIT(faulty(), testing::ExitedWithCode(3),
                "^bandwright: a fault of Bandwright's own.*no such stage.*report");
}

using Json = nlohmann::json;

const Variables kNoDisplay = {{"DISPLAY", ""}, {"WAYLAND_DISPLAY", ""}};

TEST(CommandLine, EveryCommandHasHelpAndVersion) {
    for (const std::string command :
         {"", "check", "rules", "mend", "route", "export", "picture", "section", "size"}) {
        std::vector<std::string> words;
        if (!command.empty()) words.push_back(command);
        std::vector<std::string> help = words, version = words;
        help.emplace_back("--help");
        version.emplace_back("--version");
        const Outcome helped = run(help), told = run(version);
        EXPECT_EQ(helped.code, 0) << command;
        EXPECT_NE(helped.out.find("--help"), std::string::npos) << command;
        EXPECT_EQ(helped.err, "");
        EXPECT_EQ(told.code, 0) << command;
        EXPECT_TRUE(told.out.starts_with("bandwright ")) << told.out;
    }
}

TEST(CommandLine, SizeShowsTheSameFingerInEverySystem) {
    const Outcome outcome = run({"size", "US 9.5"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    // D = 0.458 + 0.032 n inches (US), C = 37.5 + 1.25 k mm (BS 6820:1987), ISO 8653: C to the nearest mm; by
    // hand: D = 19.3548 mm, C = 60.80 mm, k = 18.64 -> S 1/2, ISO 61, Swiss C - 40 = 20.80 -> 20 3/4.
    for (const std::string expected :
         {"19.35 mm across, 60.80 mm round", "US 9 1/2", "UK S\u00BD", "ISO 61", "CH 20.75"}) {
        EXPECT_NE(outcome.out.find(expected), std::string::npos) << expected << " is not in\n" << outcome.out;
    }
    for (const trade::SizeRule& rule : trade::sizeRules())
        EXPECT_NE(outcome.out.find(rule.name), std::string::npos) << rule.name;
}

TEST(CommandLine, WrongCallsAreRefusedInOneLine) {
    const ScratchFolder folder;
    const std::string out = folder / "out.obj", picture = folder / "out.png", harbour = sample("harbour");
    const std::vector<std::pair<std::vector<std::string>, std::string>> calls = {
        {{"check"}, "FILE"},
        {{"check", folder / "none.ring.json"}, "none.ring.json"},
        {{"check", harbour, "--stage", "dipped"}, "channelled"},
        {{"check", harbour, "--loud"}, "--loud"},
        {{"export", harbour}, "--out"},
        {{"export", harbour, "-o", folder / "out.xyz"}, ".obj"},
        {{"export", harbour, "-o", out, "--chord", "0"}, "--chord"},
        {{"export", harbour, "-o", out, "--chord", "nan"}, "--chord"},
        {{"export", harbour, "-o", folder / "no-folder/out.obj"}, "no-folder"},
        {{"picture", harbour, "-o", picture, "--width", "1"}, "--width"},
        {{"picture", harbour, "-o", picture, "--elevation", "95"}, "--elevation"},
        {{"picture", harbour, "-o", picture, "--dpi", "5"}, "--dpi"},
        {{"picture", harbour, "-o", picture, "--azimuth", "inf"}, "--azimuth"},
        {{"size", "fifty elephants"}, "fifty elephants"},
        {{"chek", harbour}, "'chek' is neither a command nor a file; the nearest command is 'check'"},
        {{"gild"}, "the commands are 'check'"},
        {{"check", harbour, "--materials", folder / "none.json"}, "none.json"},
        {{"check", harbour, "--limits", folder / "none.json"}, "none.json"},
        {{"check", harbour, "--at", "best"}, "'nominal' or 'worst'"},
        {{"mend", harbour}, "--out"},
        {{"mend", harbour, "-o", folder / "x.ring.json", "--lock", "band.wdth"}, "band.width"},
        {{"mend", harbour, "-o", folder / "x.ring.json", "--free", "band.thickness"}, "band.width"},
        {{"rules", "--limits", folder / "none.json"}, "none.json"},
        {{"route"}, "FILE"},
        {{"route", harbour, "--stage", "dipped"}, "channelled"},
        {{"route", harbour, "--workshop", folder / "none.json"}, "none.json"},
        {{"check", harbour, "--workshop", folder / "none.json"}, "none.json"},
    };
    for (const auto& [call, mentions] : calls)
        expectRefused(run(call), mentions);
    EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

TEST(CommandLine, DriversOfGraphicsAddNothingToTheSentence) {
    const ScratchFolder folder;
    const std::vector<std::string> call = {"picture", sample("harbour"), "-o", folder / "out.png", "--width",
                                           "16",      "--height",        "16"};
    const Outcome none =
        run(call, {{"LIBGL_DRIVERS_PATH", "/none"}, {"DISPLAY", ""}, {"WAYLAND_DISPLAY", ""}});
    if (none.code == 0) {
        EXPECT_EQ(none.err, "") << "a driver that is not Mesa's";
    } else {
        expectRefused(none, "OpenGL 4.1");
    }
    EXPECT_EQ(run(call, {{"EGL_PLATFORM", "none"}}).err, "");
}

TEST(CommandLine, WrongDesignsAreRefusedAndNothingIsWritten) {
    const ScratchFolder folder;
    const std::vector<std::array<std::string, 3>> changes = {
        {"\"titanium-grade-5\"", "\"unobtainium\"", "band.metal"},
        {"\"width\": 8", "\"width\": -8", "band.width"},
        {"\"band\"", "\"bend\"", "bend"},
        {"\"US 9 1/2\"", "\"huge\"", "finger.size"},
        {"\"model\": \"\"", "\"model\": \"none.obj\"", "none.obj: the stone's model cannot be read"},
        {"{", "", "2:15: this is not JSON"},
    };
    for (const auto& [from, to, mentions] : changes) {
        const std::string design = changedSample(folder, "harbour", from, to);
        expectRefused(run({"check", design}), mentions);
        expectRefused(run({"export", design, "-o", folder / "out.obj"}), mentions);
        expectRefused(run({"picture", design, "-o", folder / "out.png"}), mentions);
    }
    EXPECT_FALSE(std::filesystem::exists(folder / "out.obj"));
    EXPECT_FALSE(std::filesystem::exists(folder / "out.mtl"));
    EXPECT_FALSE(std::filesystem::exists(folder / "out.png"));
}

TEST(CommandLine, AStoneFromAModelBesideTheDesignIsCheckedAndExported) {
    const ScratchFolder folder;
    const Outcome checked = run({"check", sample("honeycomb")});
    EXPECT_EQ(checked.code, 0) << checked.out << checked.err;
    const std::string out = folder / "out.obj";
    const Outcome exported = run({"export", sample("honeycomb"), "-o", out});
    EXPECT_EQ(exported.code, 0) << exported.err;
    std::ifstream model(out);
    const std::string text{std::istreambuf_iterator<char>(model), {}};
    EXPECT_NE(text.find("g stone-1"), std::string::npos);
}

TEST(CommandLine, AModelOutsideTheDesignsFolderIsReadOnlyWhereThatIsAllowed) {
    const ScratchFolder folder;
    const std::filesystem::path inner = folder / "received", model = folder / "six-sided.obj";
    std::filesystem::create_directory(inner);
    std::filesystem::copy_file(std::string(BANDWRIGHT_MODELS) + "/six-sided.obj", model);
    std::filesystem::create_symlink(model, inner / "link.obj");
    const std::string text = readFile(sample("honeycomb")), named = "six-sided.obj";
    const std::filesystem::path design = inner / "a.ring.json";
    for (const std::string& path : {std::string("../six-sided.obj"), model.string(), std::string("link.obj"),
                                    std::string("x/../../six-sided.obj")}) {
        std::string changed = text;
        changed.replace(changed.find(named), named.size(), path);
        writeFile(design, changed);
        expectRefused(run({"check", design}),
                      "settings[0].stone.model is '" + path + "', outside the design's folder");
        expectRefused(run({"sweep", design, "--vary", "band.width=7:8:1"}), "--allow-outside");
        if (path.starts_with("x/")) continue;  // there is no x
        EXPECT_EQ(run({"check", design, "--allow-outside"}).code, 0) << path;
    }
    writeFile(design, text);
    std::filesystem::copy_file(model, inner / named);
    EXPECT_EQ(run({"check", design}).code, 0);
}

TEST(CommandLine, TakesTheLastStepOfTheRouteForTheFinishedRing) {
    const Outcome closed = run({"check", sample("harbour"), "--json", "--stage", "closed"});
    EXPECT_EQ(closed.code, 0) << closed.err;
    EXPECT_EQ(closed.out, run({"check", sample("harbour"), "--json", "--stage", "finished"}).out);
}

TEST(CommandLine, WeighSaysWhatEveryPartWeighsAndHowTheRingIsBalanced) {
    const Outcome text = run({"weigh", sample("harbour")});
    EXPECT_EQ(text.code, 0) << text.err;
    EXPECT_NE(text.out.find("stone-1"), std::string::npos) << text.out;
    const Outcome json = run({"weigh", sample("harbour"), "--json"});
    ASSERT_EQ(json.code, 0) << json.err;
    const Json weighed = Json::parse(json.out);
    ASSERT_EQ(weighed["parts"].size(), 4U);
    EXPECT_EQ(weighed["units"]["mass"], "g");
    EXPECT_EQ(weighed["units"]["inertia"], "g mm2");
    double mass = 0;
    double moment = 0;
    for (const Json& part : weighed["parts"]) {
        mass += part["mass"].get<double>();
        moment += part["mass"].get<double>() * part["centre"][1].get<double>();
    }
    const Json& ring = weighed["ring"];
    EXPECT_NEAR(ring["mass"].get<double>(), mass, 1e-12);
    EXPECT_NEAR(ring["centre"][1].get<double>(), moment / mass, 1e-12);
    EXPECT_NEAR(ring["centre"][0].get<double>(), 0, 1e-9) << "its one stone stands at 90 degrees";
    // The volume of the emerald from its carats, 0.2 g each.
    const Json checked = Json::parse(run({"check", sample("harbour"), "--json"}).out);
    for (const Json& measure : checked["measures"]) {
        if (measure["id"] != "stone-weight") continue;
        EXPECT_NEAR(0.2 * measure["value"].get<double>(), weighed["parts"][3]["mass"].get<double>(), 1e-9);
    }
    // A hoop's moment of inertia about its axis: its mass times about the square of its radius.
    const double radius = 19.05 / 2 + 1.1;
    EXPECT_NEAR(ring["inertia"][2][2].get<double>() / (mass * radius * radius), 1, 0.1);
}

TEST(CommandLine, WhatNeedsVolumesRefusesHolesThatRunIntoEachOther) {
    const ScratchFolder folder;
    const std::string ring = changedSample(folder, "seven-lamps", "\"count\": 7", "\"count\": 60");
    const std::string out = (folder / "out.pdf").string();
    const Outcome weighed = run({"weigh", ring});
    EXPECT_NE(weighed.err.find("run into each other"), std::string::npos) << weighed.err;
    for (const std::vector<std::string>& call :
         std::vector<std::vector<std::string>>{{"weigh", ring},
                                               {"route", ring},
                                               {"quote", ring},
                                               {"quote", ring, "-o", out},
                                               {"sheet", ring, "-o", out}}) {
        const Outcome outcome = run(call);
        EXPECT_EQ(outcome.code, 2) << call[0];
        EXPECT_EQ(outcome.out, "") << call[0];
        EXPECT_EQ(outcome.err, weighed.err) << call[0];
    }
    EXPECT_FALSE(std::filesystem::exists(out));
}

void expectReport(const Outcome& outcome) {
    const Json report = Json::parse(outcome.out);
    static const std::set<std::string> kVerdicts = {"go", "marginal", "no-go"};
    const auto kStages = report.at("stages").get<std::set<std::string>>();
    EXPECT_TRUE(kStages.contains("sized"));
    EXPECT_TRUE(kStages.contains("finished"));
    EXPECT_FALSE(report.at("cautions").empty());
    for (const Json& caution : report["cautions"])
        for (const char* key : {"material", "text", "source"})
            EXPECT_NE(caution.at(key), "") << caution;
    EXPECT_TRUE(report.at("design").is_string());
    ASSERT_TRUE(kVerdicts.contains(report.at("verdict")));
    EXPECT_EQ(outcome.code, report["verdict"] == "no-go" ? 1 : 0);
    std::set<std::string> measured;
    for (const Json& measure : report.at("measures")) {
        measured.insert(measure.at("id").get<std::string>());
        EXPECT_TRUE(kStages.contains(measure.at("stage")));
        EXPECT_TRUE(measure.at("value").is_number()) << measure;
        EXPECT_TRUE(measure.at("unit").is_string());
        const bool isMass = measure["unit"] == "g" || measure["unit"] == "ct";
        for (const char* end : {"from", "to"}) {
            EXPECT_EQ(measure.contains(end), !isMass) << measure;
            if (isMass) continue;
            ASSERT_EQ(measure.at(end).size(), 3U);
            for (const Json& coordinate : measure[end])
                EXPECT_TRUE(coordinate.is_number()) << measure;
        }
    }
    EXPECT_FALSE(report.at("findings").empty());
    int worst = 2;
    for (const Json& finding : report["findings"]) {
        EXPECT_TRUE(measured.contains(finding.at("measure"))) << finding;
        const int rank = finding.at("verdict") == "no-go" ? 2 : finding["verdict"] == "marginal" ? 1 : 0;
        EXPECT_LE(rank, worst) << "not worst first: " << finding;
        worst = rank;
        for (const char* key : {"value", "limit"})
            EXPECT_TRUE(finding.at(key).is_number()) << finding;
        for (const char* key : {"rule", "why", "source"})
            EXPECT_NE(finding.at(key), "") << finding;
        EXPECT_EQ(finding.at("remedy") == "", rank == 0) << finding;
    }
}

TEST(CommandLine, CheckPrintsOneJsonObjectOfFiniteNumbers) {
    const ScratchFolder folder;
    expectReport(run({"check", sample("harbour"), "--json"}));
    expectReport(
        run({"check", changedSample(folder, "harbour", "\"depth\": 1,", "\"depth\": 2.3,"), "--json"}));
    EXPECT_EQ(run({"check", sample("harbour"), "--json"}).out,
              run({"check", sample("harbour"), "--json"}).out);
}

TEST(CommandLine, CheckOfOneStageSpeaksOfThatStageOnly) {
    const Json report = Json::parse(run({"check", sample("harbour"), "--json", "--stage", "drilled"}).out);
    EXPECT_FALSE(report.at("measures").empty());
    for (const Json& measure : report["measures"])
        EXPECT_EQ(measure.at("stage"), "drilled");
    EXPECT_FALSE(report.at("findings").empty());
    for (const Json& finding : report["findings"])
        EXPECT_EQ(finding.at("stage"), "drilled");
}

TEST(CommandLine, CheckEndsWithOneWhenAFloorOfATenthOfAMillimetreIsLeft) {
    const ScratchFolder folder;
    const Outcome outcome =
        run({"check", changedSample(folder, "harbour", "\"depth\": 1,", "\"depth\": 2.3,")});
    EXPECT_EQ(outcome.code, 1) << outcome.out << outcome.err;
    EXPECT_NE(outcome.out.find("\u25A0 NO-GO"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("remedy"), std::string::npos) << outcome.out;
}

TEST(CommandLine, TextIsPlainWhereNoTerminalReadsIt) {
    for (const std::vector<std::string>& call :
         {std::vector<std::string>{"check", sample("harbour")}, {"size", "ISO 54"}}) {
        const Outcome outcome = run(call);
        EXPECT_EQ(outcome.out.find('\033'), std::string::npos);
        EXPECT_EQ(outcome.err, "");
    }
}

TEST(CommandLine, ExportWritesModelAndMaterials) {
    const ScratchFolder folder;
    const Outcome outcome = run({"export", sample("harbour"), "-o", folder / "out.obj"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out + outcome.err, "");
    for (const std::string part : {"band", "fill-1", "tube-1", "stone-1"}) {
        EXPECT_NE(readFile(folder / "out.obj").find(part), std::string::npos) << part;
    }
    EXPECT_NE(readFile(folder / "out.mtl").find("newmtl"), std::string::npos);
}

// A ring with fewer parts would otherwise be printed or cast with those of the one before it.
TEST(CommandLine, ExportNamesStlFilesOfAnEarlierRing) {
    const ScratchFolder folder;
    for (const std::string name : {"ring-fill-9.stl", "ring-tube-99.stl", "ring-fill-9.obj", "ring-fill.stl",
                                   "ring-stone-two.stl", "rings-fill-9.stl"})
        std::ofstream(folder / name) << "solid\n";
    const auto told = [&](std::vector<std::string> more) {
        more.insert(more.begin(), {"export", sample("tide-mill"), "-o", (folder / "ring.stl").string()});
        const Outcome outcome = run(more);
        EXPECT_EQ(outcome.code, 0) << outcome.err;
        return outcome.out;
    };
    EXPECT_EQ(told({}),
              "Not of this ring, but of one written before: ring-fill-9.stl and ring-tube-99.stl.\n");
    EXPECT_EQ(told({"--parts", "band", "--parts", "fill"}), "");
    EXPECT_EQ(told({"--one-body"}), "");
    EXPECT_TRUE(std::filesystem::exists(folder / "ring-fill-9.stl"));
}

TEST(CommandLine, PictureNeedsNoDisplay) {
    const ScratchFolder folder;
    const Outcome outcome =
        run({"picture", sample("harbour"), "-o", folder / "out.png", "--width", "160", "--height", "120"},
            kNoDisplay);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    const std::string png = readFile(folder / "out.png");
    ASSERT_GT(png.size(), 33U);
    EXPECT_EQ(png.substr(0, 8),
              "\x89PNG\r\n\x1a\n");  // signature and IHDR: PNG specification, 5.2 and 11.2.2
    EXPECT_EQ(png.substr(16, 8), std::string("\0\0\0\xA0\0\0\0\x78", 8));
}

TEST(CommandLine, TheWallMapIsAnotherPicture) {
    const ScratchFolder folder;
    for (const std::string name : {"plain", "map"}) {
        std::vector<std::string> call = {
            "picture", sample("harbour"), "-o", folder / (name + ".png"), "--width", "96", "--height", "96"};
        if (name == "map") call.emplace_back("--paint-walls");
        EXPECT_EQ(run(call, kNoDisplay).code, 0);
    }
    EXPECT_NE(readFile(folder / "plain.png"), readFile(folder / "map.png"));
}

TEST(CommandLine, WithoutADisplayTheWindowSaysHowToWorkWithoutOne) {
    expectRefused(run({sample("harbour")}, kNoDisplay), "bandwright check");
}

TEST(CommandLine, RulesListsEachRuleWithItsLimitSourceAndReason) {
    const Json rules = Json::parse(run({"rules", "--json"}).out).at("rules");
    const std::string text = run({"rules"}).out;
    std::set<std::string> names;
    for (const Json& rule : rules) {
        const std::string name = rule.at("rule");
        EXPECT_TRUE(names.insert(name).second) << name;
        EXPECT_NE(text.find("\n" + name + ": "), std::string::npos) << name;
        for (const char* key : {"measures", "why"})
            EXPECT_NE(rule.at(key), "") << name;
        ASSERT_FALSE(rule.at("limits").empty()) << name;
        for (const Json& limit : rule["limits"]) {
            EXPECT_NE(limit.at("source"), "") << name;
            EXPECT_TRUE(limit.at("limit").is_number() && limit.at("comfortable").is_number()) << name;
        }
    }
    // Every rule that a check reports is in the list, with the same unit.
    const Json report = Json::parse(run({"check", sample("harbour"), "--json"}).out);
    for (const Json& finding : report.at("findings")) {
        const auto rule = std::ranges::find_if(
            rules, [&](const Json& listed) { return listed["rule"] == finding["rule"]; });
        ASSERT_NE(rule, rules.end()) << finding;
        const std::string unit = (*rule)["unit"] == "share" ? "" : (*rule)["unit"];
        EXPECT_EQ(finding.at("unit"), unit) << finding;
    }
}

TEST(CommandLine, TheMakersOwnLimitsStandInForTheBuiltInOnes) {
    const ScratchFolder folder;
    const std::string limits = std::string(BANDWRIGHT_MODELS) + "/my-limits.json";
    const Json report = Json::parse(run({"check", sample("harbour"), "--json", "--limits", limits}).out);
    const auto floor = std::ranges::find_if(
        report.at("findings"), [](const Json& finding) { return finding["rule"] == "floor-wall"; });
    ASSERT_NE(floor, report["findings"].end());
    EXPECT_EQ((*floor)["limit"], 0.4);
    EXPECT_TRUE((*floor)["source"].get<std::string>().starts_with("the maker's own: ")) << *floor;
    EXPECT_NE(run({"rules", "--limits", limits}).out.find("the maker's own: "), std::string::npos);
    EXPECT_EQ(run({"picture", sample("harbour"), "-o", folder / "out.png", "--limits", limits, "--width",
                   "64", "--height", "64"},
                  kNoDisplay)
                  .code,
              0);
}

TEST(CommandLine, TheWorkshopsLimitsStandInToo) {
    const ScratchFolder folder;
    writeFile(folder / "shop.json",
              R"({"limits": [{"rule": "floor-wall", "limit": 1.5, "comfortable": 1.6}]})");
    const auto floorBy = [&](std::vector<std::string> words) {
        words.insert(words.begin(), {"check", sample("harbour"), "--json"});
        const Json report = Json::parse(run(words).out);
        for (const Json& finding : report.at("findings"))
            if (finding.at("rule") == "floor-wall") return finding;
        return Json();
    };
    EXPECT_EQ(floorBy({}).at("verdict"), "go");
    const Json own = floorBy({"--workshop", folder / "shop.json"});
    EXPECT_EQ(own.at("verdict"), "no-go") << "1.4 mm of metal are left under the channel";
    EXPECT_EQ(own.at("limit"), 1.5);
    EXPECT_EQ(own.at("source"), "the maker's own: the workshop file");
    // A limits file stands above the workshop.
    writeFile(folder / "limits.json", R"({"limits": [{"rule": "floor-wall", "limit": 0.3}]})");
    const std::string shop = folder / "shop.json", limits = folder / "limits.json";
    EXPECT_EQ(floorBy({"--workshop", shop, "--limits", limits}).at("limit"), 0.3);
}

TEST(CommandLine, WrongLimitsAreRefusedWithTheirPlace) {
    const ScratchFolder folder;
    const std::vector<std::pair<std::string, std::string>> files = {
        {R"({"limits": [{"rule": "flor-wall", "limit": 1}]})", "floor-wall"},
        {R"({"limits": [{"rule": "floor-wall", "limit": 1, "comfortable": 0.9}]})", "at least the limit"},
        {R"({"limits": [{"rule": "tube-proud", "limit": 1, "comfortable": 1.1}]})", "at most the limit"},
        {R"({"limits": [{"rule": "floor-wall"}]})", "no \"limit\""},
        {R"({"limits": [{"rule": "floor-wall", "limit": "thin"}]})", "$.limits[0].limit"},
        {R"({"limits": [{"rule": "floor-wall", "limit": 1, "metal": "unobtainium"}]})", "unobtainium"},
        {R"({"limits": [{"rule": "floor-wall", "limit": 1, "colour": "red"}]})", "colour"},
        {R"({"limits": 3})", "a list"},
        {R"({"tolerance-class": "exact"})", "'fine', 'medium', 'coarse' or 'very-coarse'"},
        {R"({"tolerances": [{"field": "channel[#].depth", "tolerance": 1}]})", "channels[#].depth"},
        {R"({"tolerances": [{"field": "band.width", "tolerance": -1}]})", "$.tolerances[0].tolerance"},
        {R"({"limit": []})", "unknown key"},
        {R"({"limits": [)", "no JSON text"},
    };
    for (const auto& [text, mentions] : files) {
        writeFile(folder / "limits.json", text);
        expectRefused(run({"check", sample("harbour"), "--limits", folder / "limits.json"}), mentions);
        expectRefused(run({"rules", "--limits", folder / "limits.json"}), mentions);
    }
}

TEST(CommandLine, TheTextFoldsTheGaugesThatAreGoUnlessAskedForAll) {
    const std::string some = run({"check", sample("harbour")}).out;
    const std::string all = run({"check", sample("harbour"), "--all"}).out;
    EXPECT_LT(std::ranges::count(some, '\n'), std::ranges::count(all, '\n'));
    EXPECT_NE(some.find("more, further from their limits"), std::string::npos);
    EXPECT_EQ(all.find("more, further from their limits"), std::string::npos);
    EXPECT_NE(all.find("Floor under the channel"), std::string::npos);
}

TEST(CommandLine, CheckWithTolerancesTellsWorstCaseAndChances) {
    const std::string limits = std::string(BANDWRIGHT_MODELS) + "/my-limits.json";
    const Json report =
        Json::parse(run({"check", sample("harbour"), "--json", "--tolerances", "--limits", limits}).out);
    for (const Json& finding : report.at("findings")) {
        const double good = finding.at("sense") == "at-least" ? 1 : -1;
        EXPECT_LE(good * finding.at("worst").get<double>(), good * finding.at("value").get<double>() + 1e-9);
        for (const char* chance : {"no-go-by-squares", "no-go-by-lot"}) {
            EXPECT_GE(finding.at(chance), 0) << finding;
            EXPECT_LE(finding.at(chance), 1) << finding;
        }
    }
    const std::string text = run({"check", sample("harbour"), "--tolerances", "--limits", limits}).out;
    for (const char* words : {"worst case", "ISO 2768-1, fine", "the cross slide's dial", "1000 rings"})
        EXPECT_NE(text.find(words), std::string::npos) << words << " is not in\n" << text;
}

TEST(CommandLine, CheckAtWorstJudgesTheWorstCase) {
    const Outcome outcome = run({"check", sample("harbour"), "--json", "--at", "worst"});
    const Json report = Json::parse(outcome.out);
    std::string worst = "go";
    for (const Json& finding : report.at("findings")) {
        EXPECT_EQ(finding.at("verdict"), finding.at("verdict-at-worst")) << finding;
        EXPECT_EQ(finding.at("remedy") == "", finding["verdict"] == "go") << finding;
    }
    EXPECT_EQ(report.at("verdict"), report["findings"][0]["verdict"]);
    EXPECT_EQ(outcome.code, report["verdict"] == "no-go" ? 1 : 0);
}

TEST(CommandLine, MendWritesADesignWithoutNoGo) {
    const ScratchFolder folder;
    const std::string mended = folder / "mended.ring.json";
    const Outcome outcome = run({"mend", sample("shallows"), "-o", mended});
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    EXPECT_NE(outcome.out.find("instead of"), std::string::npos) << outcome.out;
    EXPECT_EQ(run({"check", mended}).code, 0);
    // With everything locked there is no way, and nothing is written.
    const std::string none = folder / "none.ring.json";
    const Outcome locked =
        run({"mend", sample("shallows"), "-o", none, "--lock", "band,channels,allowances"});
    EXPECT_EQ(locked.code, 1);
    EXPECT_NE(locked.out.find("Floor under the channel, 0.33 mm"), std::string::npos) << locked.out;
    EXPECT_FALSE(std::filesystem::exists(none));
}

TEST(CommandLine, MendLeavesAloneWhatTheDesignLocksAndNamesIt) {
    const ScratchFolder folder;
    const std::string design = folder / "locked.ring.json", none = folder / "none.ring.json";
    Json file = Json::parse(readFile(sample("shallows")));
    file["locked"] = {"channels[0].depth", "band.thickness", "band.width"};
    std::ofstream(design) << file.dump();
    const Outcome outcome = run({"mend", design, "-o", none});
    EXPECT_EQ(outcome.code, 1) << outcome.out << outcome.err;
    EXPECT_FALSE(std::filesystem::exists(none));
    const std::size_t list = outcome.out.find("Left alone: ");
    ASSERT_NE(list, std::string::npos) << outcome.out;
    for (const char* lock : {"channels[0].depth", "band.thickness"})
        EXPECT_NE(outcome.out.find(lock, list), std::string::npos) << outcome.out;
    // A wish that is locked too is named once.
    const std::size_t width = outcome.out.find("band.width", list);
    EXPECT_EQ(outcome.out.find("band.width", width + 1), std::string::npos) << outcome.out;
}

/// Three holes at places of their own, too near to each other: no number decides it.
constexpr const char* kCrowded = R"({"bandwright": 1, "finger": {"size": "20 mm"}, "settings": [{
    "placement": {"count": 1, "angles": [0, 4, 8]}, "tube": null, "stone": null,
    "hole": {"pilot-diameter": 0.5, "steps": []}}]})";

TEST(CommandLine, MendLeavesOutNothingThatHoldsWhatIsLocked) {
    const ScratchFolder folder;
    const std::string design = folder / "crowded.ring.json", mended = folder / "mended.ring.json";
    std::ofstream(design) << kCrowded;
    const Json report = Json::parse(run({"check", design, "--json"}).out);
    int number = 0, leavesOut = 0;
    for (const Json& finding : report.at("findings")) {
        for (const Json& remedy : finding.at("remedies")) {
            ++number;
            if (leavesOut == 0 && remedy.value("left-out", "") == "settings[0]") leavesOut = number;
        }
    }
    ASSERT_GT(leavesOut, 0) << report.dump(1);
    const std::string that = std::to_string(leavesOut);
    for (const char* lock : {"settings[0].hole.pilot-diameter", "settings[0].hole", "settings"})
        expectRefused(run({"mend", design, "-o", mended, "--remedy", that, "--lock", lock}), "locked");
    EXPECT_FALSE(std::filesystem::exists(mended));
    EXPECT_LE(run({"mend", design, "-o", mended, "--remedy", that, "--lock", "band"}).code, 1);
    EXPECT_TRUE(std::filesystem::exists(mended));
}

TEST(CommandLine, MendCarriesOutTheRemedyOfANumber) {
    const ScratchFolder folder;
    const std::string design = sample("shallows"), mended = folder / "mended.ring.json";
    const Json before = Json::parse(run({"check", design, "--json"}).out);
    const Json change = before.at("findings").at(0).at("remedies").at(0).at("changes").at(0);
    EXPECT_NE(run({"check", design}).out.find("remedy 1 "), std::string::npos);
    const Outcome outcome = run({"mend", design, "-o", mended, "--remedy", "1"});
    EXPECT_LE(outcome.code, 1) << outcome.err;
    EXPECT_EQ(Json::parse(readFile(mended)).at("band").at("thickness"), change.at("to"));
    EXPECT_EQ(change.at("field"), "band.thickness");
    // A remedy that changes what is locked, and one there is not.
    expectRefused(run({"mend", design, "-o", mended, "--remedy", "1", "--lock", "band"}), "locked");
    expectRefused(run({"mend", design, "-o", mended, "--remedy", "99"}), "allowed is 1 to");
    expectRefused(run({"mend", design, "-o", mended, "--remedy", "0"}), "allowed is 1 to");
}

/// Where nobody can read what was changed, nothing is: the design keeps its bytes, also under its own name.
TEST(CommandLine, IntoAFullDeviceEndsWithTwoAndChangesNothing) {
    const ScratchFolder folder;
    const std::string design = folder / "own.ring.json", before = readFile(sample("shallows"));
    const std::string program = std::string("'") + BANDWRIGHT_PROGRAM + "' ";
    for (const std::string& call :
         {"mend '" + design + "' -o '" + design + "'", "mend '" + design + "' --remedy 1 -o '" + design + "'",
          std::string("--help")}) {
        writeFile(design, before);
        const Outcome outcome = runProgram({"/bin/sh", "-c", program + call + " >/dev/full"});
        EXPECT_EQ(outcome.code, 2) << call;
        EXPECT_NE(outcome.err.find("Standard output cannot be written."), std::string::npos) << outcome.err;
        EXPECT_EQ(readFile(design), before) << call;
    }
}

TEST(CommandLine, AFolderInPlaceOfAFileOfMaterialsIsNamed) {
    expectRefused(run({"check", sample("harbour"), "--materials", BANDWRIGHT_MODELS}),
                  "is a folder; a file of materials is needed");
}

TEST(CommandLine, AnObjHasANameOfOneLine) {
    const ScratchFolder folder;
    expectRefused(run({"export", sample("first-frost"), "-o", folder / "two\nlines.obj"}), "no line breaks");
}

/// Readings stand beside the plan: the ring is judged as it was read, and what is written is the plan with
/// the remedy alone, its readings kept.
TEST(CommandLine, ReadingsAreJudgedAndThePlanIsKept) {
    const ScratchFolder folder;
    Json plan = Json::parse(readFile(sample("shallows")));
    plan["measured"] = {{{"stage", "bored"}, {"what", "bore"}, {"value", 16.5}}};
    const std::string design = folder / "read.ring.json", mended = folder / "mended.ring.json";
    std::ofstream(design) << plan.dump();
    EXPECT_NE(run({"check", design}).out.find("As measured so far"), std::string::npos);
    EXPECT_NE(run({"route", design}).out.find("Done. Read: Bore 16.5 mm."), std::string::npos);
    EXPECT_EQ(run({"mend", design, "-o", mended}).code, 0);
    const Json after = Json::parse(readFile(mended));
    EXPECT_EQ(after.at("measured").at(0).at("value"), 16.5);
    EXPECT_EQ(after.at("allowances").at("sizing"), plan.at("allowances").at("sizing"));
    EXPECT_EQ(after.at("band").at("metal"), plan.at("band").at("metal"));
    EXPECT_NE(after.at("channels"), plan.at("channels"));

    plan["measured"][0]["what"] = "channel-depth";
    std::ofstream(design) << plan.dump();
    expectRefused(run({"check", design}), "measured[0].what");
}

TEST(CommandLine, RouteTellsTheWorkInTheOrderOfTheRoute) {
    const std::string shop = std::string(BANDWRIGHT_MODELS) + "/my-workshop.json";
    const Json plan = Json::parse(run({"route", sample("harbour"), "--workshop", shop, "--json"}).out);
    const Json report = Json::parse(run({"check", sample("harbour"), "--json"}).out);
    EXPECT_EQ(plan.at("design"), "Harbour");
    // The checks call what the last step leaves the finished ring.
    for (std::size_t i = 0; i + 1 < report.at("stages").size(); ++i)
        EXPECT_EQ(plan.at("stages").at(i).at("stage"), report["stages"][i]);
    for (const Json& stage : plan["stages"]) {
        for (const Json& operation : stage.at("operations")) {
            for (const Json& reading : operation.at("readings")) {
                EXPECT_LE(reading.at("least"), reading.at("value"));
                EXPECT_GE(reading.at("most"), reading.at("value"));
                EXPECT_FALSE(reading.at("what").get<std::string>().empty());
            }
        }
    }
    const std::string text =
        run({"route", sample("harbour"), "--workshop", shop, "--stage", "channelled"}).out;
    EXPECT_NE(text.find("CHANNELLED"), std::string::npos);
    EXPECT_EQ(text.find("BORED"), std::string::npos);
    EXPECT_NE(text.find("Diameter over the floor"), std::string::npos);
}

TEST(CommandLine, AWorkshopIsRefusedWithItsPlace) {
    const ScratchFolder folder;
    const std::vector<std::pair<std::string, std::string>> bad = {
        {R"({"lathes": {}})", "unknown key 'lathes'"},
        {R"({"grooving-blades": [{"width": 0}]})", "$.grooving-blades[0].width"},
        {R"({"divider": {"kind": "plate", "circles": [0]}})", "$.divider.circles[0]"},
        {R"({"stock": [{"metal": "moonsilver", "diameter": 20}]})", "moonsilver"},
        {R"({"prices": [{"material": "brass", "price": -1}]})", "$.prices[0].price"},
        {R"({"tax-percent": 120})", "0 to 100 %"},
        {R"({"hours": {"sawn": 1}})", "found 'sawn'"},
        {R"({"limits": [{"rule": "flor-wall", "limit": 1}]})", "floor-wall"},
        {R"({"limits": [{"rule": "floor-wall", "limit": 1, "comfortable": 0.9}]})", "at least the limit"},
        {R"({"limits": [{"rule": "floor-wall", "limit": 1, "metal": "moonsilver"}]})", "moonsilver"},
    };
    for (const auto& [text, mentions] : bad) {
        writeFile(folder / "shop.json", text);
        expectRefused(run({"route", sample("harbour"), "--workshop", folder / "shop.json"}), mentions);
        expectRefused(run({"check", sample("harbour"), "--workshop", folder / "shop.json"}), mentions);
    }
}

TEST(CommandLine, TheChecksJudgeByTheWorkshop) {
    const ScratchFolder folder;
    // A blade of 5 mm does not go into a channel of 4.
    writeFile(folder / "shop.json", R"({"grooving-blades": [{"width": 5}]})");
    const Json report =
        Json::parse(run({"check", sample("harbour"), "--workshop", folder / "shop.json", "--json"}).out);
    bool judged = false;
    for (const Json& finding : report.at("findings")) {
        if (finding.at("rule") != "channel-width") continue;
        judged = true;
        EXPECT_EQ(finding.at("verdict"), "no-go");
        EXPECT_NE(finding.at("source").get<std::string>().find("workshop"), std::string::npos);
    }
    EXPECT_TRUE(judged);
}

TEST(CommandLine, TheMakersOwnMaterialsAreKnown) {
    const ScratchFolder folder;
    const std::string materials = std::string(BANDWRIGHT_MODELS) + "/my-materials.json";
    const std::string id = Json::parse(readFile(materials)).at("metals").at(0).at("id");
    const std::string design = changedSample(folder, "harbour", "\"titanium-grade-5\"", "\"" + id + "\"");
    expectRefused(run({"check", design}), id);
    EXPECT_LE(run({"check", design, "--materials", materials}).code, 1);
}

}  // namespace
}  // namespace bandwright::app
