#include "sample_rings.hpp"

#include <algorithm>
#include <filesystem>

#include "base/input_error.hpp"
#include "check/check.hpp"
#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "random_design.hpp"

namespace bandwright::drawing {

namespace {

namespace fs = std::filesystem;

design::Design readSample(const fs::path& file) {
    design::Design design = design::readDesign(file);
    formats::readStoneModels(design, file.parent_path());
    return design;
}

bool isBuildable(const design::Design& design) {
    try {
        geometry::requireBuildable(design);
        return true;
    } catch (const base::InputError&) {
        return false;
    }
}

}  // namespace

design::Design sampleDesign(const std::string& name) {
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
        const design::Design design = readSample(file);
        for (const design::Stage stage : check::stages(design, trade::builtInCatalogue()))
            all.push_back({file.filename().string() + ", " + design::name(stage), design, stage});
    }
    return all;
}

std::vector<StagedDesign> designsByLot(std::uint64_t count) {
    std::vector<StagedDesign> all;
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(count); ++seed) {
        design::Design design = geometry::randomDesign(seed);
        if (!isBuildable(design)) continue;
        const std::vector<design::Stage> known = check::stages(design, trade::builtInCatalogue());
        all.push_back({"seed " + std::to_string(seed), std::move(design), known[seed % known.size()]});
    }
    return all;
}

std::vector<Drawing> allDrawings(const StagedDesign& ring, const Layout& layout) {
    const geometry::RingSections plain = geometry::sections(ring.design, ring.stage);
    std::vector<Drawing> all{sectionDrawing(ring.design, ring.stage, plain, layout)};
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        const geometry::SettingSection through = geometry::sectionThrough(ring.design, i, ring.stage);
        all.push_back(settingDrawing(ring.design, ring.stage, i, plain, through, layout));
    }
    return all;
}

}  // namespace bandwright::drawing
