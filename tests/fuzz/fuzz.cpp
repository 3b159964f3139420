// One program for all harnesses; BANDWRIGHT_HARNESS names the one to run (`./dev fuzz`). An InputError is
// what the readers are for; whatever else comes out of them, a report of a sanitizer, a second of more than
// `-timeout` or memory beyond `-rss_limit_mb` is a fault.

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "base/input_error.hpp"
#include "check/check.hpp"
#include "check/tolerance_stack.hpp"
#include "design/design_file.hpp"
#include "formats/body.hpp"
#include "formats/model.hpp"
#include "formats/stone_model.hpp"
#include "geometry/measured.hpp"
#include "geometry/ring.hpp"
#include "mutate.hpp"
#include "paper/write.hpp"
#include "trade/catalogue.hpp"
#include "trade/length.hpp"
#include "trade/ring_size.hpp"
#include "trade/workshop.hpp"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace bandwright::fuzz {
namespace {

void require(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "does not hold: %s\n", what);
    std::abort();
}

const trade::Catalogue& catalogue() {
    static const trade::Catalogue built = trade::builtInCatalogue();
    return built;
}

/// A file of this process with these bytes.
std::filesystem::path fileOf(std::string_view bytes, const std::string& ending) {
    const char* folder = std::getenv("TMPDIR");
    std::filesystem::path file = std::string(folder == nullptr ? "/tmp" : folder) + "/bandwright-fuzz-" +
                                 std::to_string(::getpid()) + ending;
    std::ofstream(file, std::ios::binary) << bytes;
    return file;
}

void readDesign(std::string_view bytes) {
    const design::Design read = design::parseDesign(bytes, "fuzz");
    const std::string text = design::formatDesign(read);
    require(design::parseDesign(text, "fuzz") == read, "a design reads back as it was written");
}

void readMaterials(std::string_view bytes) {
    trade::extendedCatalogue(catalogue(), fileOf(bytes, ".json"));
}
void readLimits(std::string_view bytes) {
    check::requireLimits(trade::withLimits(catalogue(), fileOf(bytes, ".json")));
}
void readWorkshop(std::string_view bytes) {
    trade::readWorkshop(fileOf(bytes, ".json"), catalogue());
}
void readSize(std::string_view bytes) {
    trade::parseRingSize(bytes);
}
void readLength(std::string_view bytes) {
    trade::parseLength(bytes);
}
void readStone(std::string_view bytes) {
    formats::stoneFromObj(fileOf(bytes, ".obj"), {});
}
void readBody(std::string_view bytes) {
    constexpr std::array kEndings = {".stl", ".ply", ".obj"};
    const std::size_t kind = bytes.empty() ? 0 : static_cast<unsigned char>(bytes.front()) % kEndings.size();
    formats::readBody(fileOf(bytes.substr(bytes.empty() ? 0 : 1), kEndings[kind]));
}
void readPdf(std::string_view bytes) {
    paper::attachedDesign(bytes);
}

/// From the file to the model, as the commands go. The costly parts are for a share of the inputs alone,
/// which the text itself decides.
void wholePath(std::string_view bytes) {
    const design::Design plan = design::parseDesign(bytes, "fuzz");
    design::requireMaterials(plan, catalogue());
    const design::Design ring = geometry::asMeasured(plan);
    geometry::requireBuildable(ring);
    const std::size_t lot = std::hash<std::string_view>{}(bytes);
    check::CheckOptions options;
    options.remedies = lot % 256 == 0;
    check::Report report = check::check(ring, catalogue(), options);
    if (lot / 64 % 64 == 0) {
        check::addSpreads(ring, catalogue(), report, {.rings = 20});
        check::judgeAtWorst(ring, catalogue(), report);
    }
    const std::vector<design::Stage> stages = check::stages(ring, catalogue());
    formats::ModelOptions model;
    model.stage = stages[lot % stages.size()];
    model.build = {base::Micrometres(lot % 7 == 0 ? 5 : 50)};
    const std::filesystem::path file = fileOf("", ".obj");
    formats::writeModel(ring, catalogue(), model, file);
    require(std::filesystem::file_size(file) > 0, "the model is written");
}

struct Harness {
    std::string_view name;
    void (*run)(std::string_view);
    bool isDesign = false, isJson = false;
};
constexpr std::array kHarnesses = {Harness{"design", readDesign, true, true},
                                   Harness{"ring", wholePath, true, true},
                                   Harness{"json", readDesign},
                                   Harness{"materials", readMaterials, false, true},
                                   Harness{"limits", readLimits, false, true},
                                   Harness{"workshop", readWorkshop, false, true},
                                   Harness{"size", readSize},
                                   Harness{"length", readLength},
                                   Harness{"stone", readStone},
                                   Harness{"body", readBody},
                                   Harness{"pdf", readPdf}};

const Harness& harness() {
    static const Harness& chosen = []() -> const Harness& {
        const char* name = std::getenv("BANDWRIGHT_HARNESS");
        const auto* const found =
            std::ranges::find(kHarnesses, std::string_view(name == nullptr ? "" : name), &Harness::name);
        if (found != kHarnesses.end()) return *found;
        std::fputs("BANDWRIGHT_HARNESS is one of:", stderr);
        for (const Harness& each : kHarnesses)
            std::fprintf(stderr, " %s", each.name.data());
        std::fputs("\n", stderr);
        std::exit(2);
    }();
    return chosen;
}

}  // namespace
}  // namespace bandwright::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    try {
        bandwright::fuzz::harness().run({reinterpret_cast<const char*>(data), size});
    } catch (const bandwright::base::InputError& refused) {
        const std::string_view said = refused.what();
        bandwright::fuzz::require(!said.empty() && said.find('\n') == std::string_view::npos, "one sentence");
    }
    return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                               unsigned seed) {
    const bandwright::fuzz::Harness& harness = bandwright::fuzz::harness();
    bandwright::fuzz::Random random(seed);
    const std::size_t lot = random() % 8;
    if (!harness.isJson || lot == 0) return LLVMFuzzerMutate(data, size, most);
    const std::string text(reinterpret_cast<const char*>(data), size);
    const std::string changed = harness.isDesign && lot < 6
                                    ? bandwright::fuzz::withFieldChanged(text, random)
                                    : bandwright::fuzz::withValueChanged(text, random);
    if (changed.size() > most || changed.empty()) return LLVMFuzzerMutate(data, size, most);
    std::memcpy(data, changed.data(), changed.size());
    return changed.size();
}
