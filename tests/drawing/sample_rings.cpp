#include "sample_rings.hpp"

#include <algorithm>
#include <filesystem>

#include "base/input_error.hpp"
#include "check/check.hpp"
#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "random_design.hpp"

namespace bandwright {

namespace {

namespace fs = std::filesystem;

Design readSample(const fs::path& file) {
    Design design = readDesign(file);
    readStoneModels(design, file.parent_path());
    return design;
}

bool isBuildable(const Design& design) {
    try {
        requireBuildable(design);
        return true;
    } catch (const InputError&) {
        return false;
    }
}

}  // namespace

Design sampleDesign(const std::string& name) {
    return readSample(fs::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
}

std::vector<StagedDesign> samplesAtAllStages() {
    std::vector<fs::path> files;
    for (const fs::directory_entry& entry : fs::directory_iterator(BANDWRIGHT_MODELS)) {
        if (entry.path().string().ends_with(".ring.json")) files.push_back(entry.path());
    }
    std::ranges::sort(files);
    std::vector<StagedDesign> all;
    for (const fs::path& file : files) {
        const Design design = readSample(file);
        for (const Stage stage : stages(design, builtInCatalogue()))
            all.push_back({file.filename().string() + ", " + name(stage), design, stage});
    }
    return all;
}

std::vector<StagedDesign> designsByLot(std::uint64_t count) {
    std::vector<StagedDesign> all;
    for (std::uint64_t seed = 1; seed <= designsToDraw(count); ++seed) {
        Design design = randomDesign(seed);
        if (!isBuildable(design)) continue;
        const std::vector<Stage> known = stages(design, builtInCatalogue());
        all.push_back({"seed " + std::to_string(seed), std::move(design), known[seed % known.size()]});
    }
    return all;
}

std::vector<Drawing> allDrawings(const StagedDesign& ring, const Layout& layout) {
    const RingSections plain = sections(ring.design, ring.stage);
    std::vector<Drawing> all{sectionDrawing(ring.design, ring.stage, plain, layout)};
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        const SettingSection through = sectionThrough(ring.design, i, ring.stage);
        all.push_back(settingDrawing(ring.design, ring.stage, i, plain, through, layout));
    }
    return all;
}

}  // namespace bandwright
