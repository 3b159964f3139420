#include <cmath>
#include <cstdio>
#include <exception>
#include <functional>

#include "geometry/ring.hpp"
#include "render/still.hpp"

/// Writes a sheet with every material and finish that the program knows, for a person to judge: would a
/// jeweller name the metal and the stone without a caption? Usage: contact_sheet OUT.png [metals | finishes |
/// fills | stones | cabochons]
namespace {

using namespace bandwright;
using namespace bandwright::render;

constexpr scene::Size kEach{360, 270};

design::Design plain(const std::string& metal) {
    design::Design design;
    design.band.metal = metal;
    return design;
}

void addStone(design::Design& design, const std::string& gem, design::StoneCut cut) {
    design::Setting& setting = design.settings.emplace_back();
    setting.placement.start = 90;
    setting.stone->gem = gem;
    setting.stone->cut = cut;
    setting.stone->diameter = 5;
    setting.tube->metal = "silver-fine";
    setting.tube->outerDiameter = 5.5;
    setting.tube->seatDiameter = 5;
    setting.tube->innerDiameter = 4;
    setting.hole.steps[0].diameter = 5.5;
}

std::vector<design::Design> metals() {
    std::vector<design::Design> all;
    for (const trade::Metal& metal : trade::builtInCatalogue().metals)
        all.push_back(plain(metal.id));
    return all;
}

std::vector<design::Design> finishes() {
    std::vector<design::Design> all;
    for (const design::Finish finish :
         {design::Finish::Polished, design::Finish::Turned, design::Finish::Satin, design::Finish::Brushed,
          design::Finish::Blasted, design::Finish::Hammered}) {
        design::Design& design = all.emplace_back(plain("gold-18k-yellow"));
        design.band.outside = {design::OutsideShape::Domed, 0.4};
        design.band.surface = {finish, design::Finish::Polished, design::Finish::Polished};
    }
    for (const double oxide : {10, 30, 50, 80, 110, 130, 150, 180}) {
        all.push_back(plain("titanium-grade-5"));
        all.back().band.surface.treatment = design::Treatment::Anodised;
        all.back().band.surface.oxide = oxide;
    }
    all.push_back(plain("zirconium"));
    all.back().band.surface.treatment = design::Treatment::Blackened;
    for (const design::LayerPattern pattern : {design::LayerPattern::Random, design::LayerPattern::Ladder,
                                               design::LayerPattern::Twist, design::LayerPattern::Raindrop}) {
        all.push_back(plain("steel-304l-316l-layered"));
        all.back().band.layers.pattern = pattern;
    }
    return all;
}

std::vector<design::Design> fills() {
    std::vector<design::Design> all;
    for (const trade::Filler& filler : trade::builtInCatalogue().fillers) {
        design::Channel channel;
        channel.fill->filler = filler.id;
        all.push_back(plain("titanium-grade-5"));
        all.back().channels = {channel};
    }
    return all;
}

std::vector<design::Design> stones(design::StoneCut cut) {
    std::vector<design::Design> all;
    for (const trade::Gem& gem : trade::builtInCatalogue().gems) {
        all.push_back(plain("platinum-950"));
        addStone(all.back(), gem.id, cut);
    }
    return all;
}

int write(const std::string& file, const std::string& only) {
    std::vector<scene::Scene> scenes;
    const auto add = [&](const std::string& what, const std::vector<design::Design>& designs,
                         const scene::View& view = {}) {
        if (!only.empty() && only != what) return;
        for (const design::Design& design : designs)
            scenes.push_back(
                scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue(), view));
    };
    scene::View close;
    close.camera.elevation = 42;
    close.camera.zoom = 2.2;
    close.camera.pan = {-0.15, -0.42};
    add("metals", metals());
    add("finishes", finishes());
    add("fills", fills());
    add("stones", stones(design::StoneCut::RoundBrilliant), close);
    add("cabochons", stones(design::StoneCut::Cabochon), close);
    if (scenes.empty()) return 2;
    writeStill(stillOf(std::move(scenes), kEach), file);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) return 2;
    try {
        return write(argv[1], argc > 2 ? argv[2] : "");
    } catch (const std::exception& problem) {
        std::fprintf(stderr, "%s\n", problem.what());
        return 1;
    }
}
