#include <cmath>
#include <cstdio>
#include <exception>
#include <functional>

#include "geometry/ring.hpp"
#include "render/still.hpp"

/// Writes a sheet with every material and finish that the program knows, to be looked at: would a jeweller
/// name the metal and the stone without a caption? Usage: contact_sheet OUT.png [metals | finishes | fills |
/// stones | cabochons]
namespace {

using namespace bandwright;

constexpr Size kEach{360, 270};

Design plain(const std::string& metal) {
    Design design;
    design.band.metal = metal;
    return design;
}

void addStone(Design& design, const std::string& gem, StoneCut cut) {
    Setting& setting = design.settings.emplace_back();
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

std::vector<Design> metals() {
    std::vector<Design> all;
    for (const Metal& metal : builtInCatalogue().metals)
        all.push_back(plain(metal.id));
    return all;
}

std::vector<Design> finishes() {
    std::vector<Design> all;
    for (const Finish finish : {Finish::Polished, Finish::Turned, Finish::Satin, Finish::Brushed,
                                Finish::Blasted, Finish::Hammered}) {
        Design& design = all.emplace_back(plain("gold-18k-yellow"));
        design.band.outside = {OutsideShape::Domed, 0.4};
        design.band.surface = {finish, Finish::Polished, Finish::Polished};
    }
    for (const double oxide : {10, 30, 50, 80, 110, 130, 150, 180}) {
        all.push_back(plain("titanium-grade-5"));
        all.back().band.surface.treatment = Treatment::Anodised;
        all.back().band.surface.oxide = oxide;
    }
    all.push_back(plain("zirconium"));
    all.back().band.surface.treatment = Treatment::Blackened;
    for (const LayerPattern pattern :
         {LayerPattern::Random, LayerPattern::Ladder, LayerPattern::Twist, LayerPattern::Raindrop}) {
        all.push_back(plain("steel-304l-316l-layered"));
        all.back().band.layers.pattern = pattern;
    }
    return all;
}

std::vector<Design> fills() {
    std::vector<Design> all;
    for (const Filler& filler : builtInCatalogue().fillers) {
        Channel channel;
        channel.fill->filler = filler.id;
        all.push_back(plain("titanium-grade-5"));
        all.back().channels = {channel};
    }
    return all;
}

std::vector<Design> stones(StoneCut cut) {
    std::vector<Design> all;
    for (const Gem& gem : builtInCatalogue().gems) {
        all.push_back(plain("platinum-950"));
        addStone(all.back(), gem.id, cut);
    }
    return all;
}

int write(const std::string& file, const std::string& only) {
    std::vector<Scene> scenes;
    const auto add = [&](const std::string& what, const std::vector<Design>& designs, const View& view = {}) {
        if (!only.empty() && only != what) return;
        for (const Design& design : designs)
            scenes.push_back(makeScene(design, buildParts(design), builtInCatalogue(), view));
    };
    View close;
    close.camera.elevation = 42;
    close.camera.zoom = 2.2;
    close.camera.pan = {-0.15, -0.42};
    add("metals", metals());
    add("finishes", finishes());
    add("fills", fills());
    add("stones", stones(StoneCut::RoundBrilliant), close);
    add("cabochons", stones(StoneCut::Cabochon), close);
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
