#include "app/job_card.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "base/input_error.hpp"
#include "check/check.hpp"
#include "design/design_file.hpp"
#include "pictograms.hpp"

namespace bandwright {

namespace {

using Unit = NumberKind::Unit;
constexpr NumberKind kLength{Unit::Millimetre, 0.05, 2};
constexpr NumberKind kFineLength{Unit::Millimetre, 0.01, 2};
constexpr NumberKind kAngle{Unit::Degree, 0.5, 1};
constexpr NumberKind kWideAngle{Unit::Degree, 1, 1};
constexpr NumberKind kPercent{Unit::Percent, 0.5, 1};

std::string mm(double value) {
    return hundredths(value) + " mm";
}

/// With its blanks made such that no line ends there.
std::string unbroken(const std::string& text) {
    std::string out;
    for (const char c : text)
        out += c == ' ' ? std::string("\u00A0") : std::string(1, c);
    return out;
}

/// A drop-down of an enumeration whose values run from 0 in the order of the names.
template <class Enum>
bool segments(Fields& fields, const std::string& key, const char* label, Enum& value,
              std::span<const char* const> names, std::span<const Pictogram> pictograms = {}) {
    int index = static_cast<int>(value);
    const bool changed = fields.segments(key, label, index, names, pictograms);
    value = static_cast<Enum>(index);
    return changed;
}

/// A channel that fits beside those already there, or a narrow one in the middle where there is no room.
Channel newChannel(const Design& design) {
    constexpr double kRim = 0.8;
    Channel channel;
    if (design.channels.empty()) {
        channel.width = design.band.width / 2;
    } else {
        channel.width = 1;
        const double reach = (design.band.width - channel.width) / 2 - kRim;
        constexpr double kStep = 0.1;
        const int places = static_cast<int>(std::floor(2 * reach / kStep));
        for (int i = 0; i <= places; ++i) {
            const double offset = std::round(-reach / kStep + i) * kStep;
            const bool free = std::ranges::all_of(design.channels, [&](const Channel& other) {
                return std::abs(other.offset - offset) >= (other.width + channel.width) / 2 + kRim;
            });
            if (!free) continue;
            channel.offset = offset;
            break;
        }
    }
    channel.depth = std::min(channel.depth, design.band.thickness / 2);
    return channel;
}

/// Tube and hole for the stone by the usual proportions: seat as wide as the stone, tube half a millimetre
/// wider outside and narrower inside (Lewton-Brain, aboutstonesetting.com: the seat bore equals the stone;
/// facetjewelry.com, 2016: tube outside at least stone + 0.5 mm, inside at most stone - 0.5 mm).
void fitToStone(Setting& setting) {
    if (!setting.stone || !setting.tube) return;
    const double stone = setting.stone->diameter;
    Tube& tube = *setting.tube;
    tube.seatDiameter = stone;
    tube.outerDiameter = stone + 0.5;
    tube.innerDiameter = std::max(stone - 0.5, stone / 2);
    if (setting.hole.steps.empty()) setting.hole.steps.emplace_back();
    setting.hole.steps.front().diameter = tube.outerDiameter;
    setting.hole.pilotDiameter = std::min(setting.hole.pilotDiameter, tube.innerDiameter);
}

/// A seat for a stone without a tube: as wide as the stone, its bearing that of a bur of 90 degrees, the
/// girdle a quarter of a millimetre under the outside, and room below for the pavilion. Common practice, no
/// source.
void cutForStone(Setting& setting) {
    constexpr double kReach = 0.3, kCover = 0.25;
    const Stone& stone = *setting.stone;
    const double width = std::max(stone.diameter, stone.length);
    setting.hole.steps.resize(1);
    setting.hole.steps.front() = {width, kCover + stone.girdle / 100 * stone.diameter, 45};
    setting.hole.pilotDiameter = std::max(stone.diameter - 2 * kReach, stone.diameter / 2);
}

}  // namespace

void JobCard::readOptions(const Catalogue& catalogue) {
    if (!metals_.empty()) return;
    const auto densityNote = [](const Sourced& density) {
        return formatNumber(density.value, {Unit::Count, 1, 2}) + " g/cm\u00B3";
    };
    for (const Metal& metal : catalogue.metals) {
        metals_.push_back({metal.id, metal.name, densityNote(metal.density)});
        if (isPatternWelded(metal)) layeredMetals_.push_back(metal.id);
        for (const Treatment treatment : {Treatment::None, Treatment::Anodised, Treatment::Blackened})
            if (takes(metal, treatment)) treatments_[static_cast<std::size_t>(treatment)].push_back(metal.id);
    }
    for (const Gem& gem : catalogue.gems)
        gems_.push_back({gem.id, gem.name, {}});
    for (const Filler& filler : catalogue.fillers)
        fillers_.push_back({filler.id, filler.name, {}});
    for (const Adhesive& adhesive : catalogue.adhesives) {
        adhesives_.push_back({adhesive.id, adhesive.name, {}});
    }
}

void JobCard::draw(Session& session, const Theme& theme) {
    readOptions(session.catalogue());
    fields_.begin(theme, ImGui::GetContentRegionAvail().x);
    Design draft = session.design();
    title(draft);
    finger(draft);
    band(draft);
    bore(draft.band.bore);
    liner(draft.band.liner);
    edges(draft.band);
    channels(draft);
    settings(draft);
    finish(draft.band);
    allowances(draft);
    route(draft, session.catalogue());
    ImGui::Dummy({0, theme.px(16)});
    if (draft != session.design()) {
        if (const auto sentence = session.change(std::move(draft), fields_.drag())) fields_.refuse(*sentence);
    }
    if (fields_.dragEnded()) session.endDrag();
    if (fields_.changed().empty()) session.settle();
}

void JobCard::title(Design& draft) {
    fields_.text("title", "Job", draft.title);
    fields_.text("note", "Note", draft.note);
}

void JobCard::finger(Design& draft) {
    fields_.heading("Finger");
    fields_.ringSize("finger.size", "Size", draft.finger.size);
    const double diameter = innerDiameter(draft.finger.size);
    constexpr double kPi = 3.14159265358979323846;
    std::string same = mm(diameter) + " across \u00B7 " + mm(diameter * kPi) + " round";
    for (const SizeSystem system : {SizeSystem::Us, SizeSystem::Uk, SizeSystem::Iso}) {
        if (system != draft.finger.size.system) {
            same += " \u00B7 " + unbroken(formatRingSize(convert(draft.finger.size, system)));
        }
    }
    fields_.note(same);
    fields_.number("finger.width-correction", "Correction", draft.finger.widthCorrection, kFineLength);
    for (const WidthCorrection& offered :
         offeredWidthCorrections({draft.band.width, draft.band.bore.shape == BoreShape::Comfort})) {
        fields_.note(offered.text);
    }
}

void JobCard::band(Design& draft) {
    static constexpr const char* kShapes[] = {"Flat", "Domed", "Knife", "Hollow"};
    Band& band = draft.band;
    fields_.heading("Band");
    if (fields_.choice("band.metal", "Metal", band.metal, metals_)) {
        const auto& taking = treatments_[static_cast<std::size_t>(band.surface.treatment)];
        if (std::ranges::find(taking, band.metal) == taking.end()) band.surface.treatment = Treatment::None;
    }
    fields_.number("band.width", "Width", band.width, kLength);
    fields_.number("band.thickness", "Thickness", band.thickness, kLength);
    fields_.note("Outside \u00D8 " + mm(2 * outsideRadius(draft)) + ", bore \u00D8 " +
                 mm(2 * boreRadius(draft)));
    segments(fields_, "band.outside.shape", "Outside", band.outside.shape, kShapes, outsidePictograms());
    if (band.outside.shape != OutsideShape::Flat) {
        fields_.number("band.outside.rise", "Rise", band.outside.rise, kFineLength);
    }
}

void JobCard::bore(Bore& bore) {
    static constexpr const char* kShapes[] = {"Straight", "Comfort"};
    segments(fields_, "band.bore.shape", "Bore", bore.shape, kShapes, borePictograms());
    if (bore.shape == BoreShape::Comfort) {
        fields_.number("band.bore.rise", "Comfort rise", bore.rise, kFineLength);
        fields_.number("band.bore.flat", "Flat middle", bore.flat, kLength);
    }
    fields_.number("band.bore.ease", "Ease radius", bore.ease, kFineLength);
}

void JobCard::liner(std::optional<Liner>& liner) {
    bool has = liner.has_value();
    if (fields_.toggle("band.liner", "Liner", has))
        liner = has ? std::optional<Liner>(Liner{}) : std::nullopt;
    if (!liner) return;
    fields_.choice("band.liner.metal", "Liner metal", liner->metal, metals_);
    fields_.number("band.liner.thickness", "Liner wall", liner->thickness, kFineLength);
    fields_.note("At mid-width, part of the band's thickness.");
}

void JobCard::edges(Band& band) {
    fields_.heading("Edges");
    if (band.left != band.right) edgesAlike_ = false;
    if (fields_.toggle("edges-alike", "Both alike", edgesAlike_) && edgesAlike_) band.right = band.left;
    if (edgesAlike_) {
        edge("band.left", "Edges", band.left);
        band.right = band.left;
    } else {
        edge("band.left", "Left edge", band.left);
        edge("band.right", "Right edge", band.right);
    }
}

void JobCard::edge(const std::string& key, const char* name, Edge& edge) {
    static constexpr const char* kShapes[] = {"Sharp", "Bevel", "Round"};
    fields_.group(name);
    segments(fields_, key + ".shape", name, edge.shape, kShapes, edgePictograms());
    if (edge.shape == EdgeShape::Sharp) return;
    fields_.number(key + ".width", edge.shape == EdgeShape::Bevel ? "Bevel width" : "Radius", edge.width,
                   kLength);
    if (edge.shape == EdgeShape::Bevel) fields_.number(key + ".angle", "Bevel angle", edge.angle, kAngle);
}

void JobCard::finish(Band& band) {
    static const std::vector<Option> kNames = {{"0", "Polished", {}}, {"1", "Turned", {}},
                                               {"2", "Satin", {}},    {"3", "Brushed", {}},
                                               {"4", "Blasted", {}},  {"5", "Hammered", {}}};
    fields_.heading("Finish");
    const auto row = [&](const char* key, const char* label, Finish& finish) {
        std::string name = std::to_string(static_cast<int>(finish));
        if (fields_.choice(std::string("band.finish.") + key, label, name, kNames))
            finish = static_cast<Finish>(std::stoi(name));
    };
    Surface& surface = band.surface;
    row("outside", "Outside", surface.outside);
    row("edges", "Edges", surface.edges);
    row("bore", "Bore", surface.bore);
    treatment(band);
    const auto layered = std::ranges::find(layeredMetals_, band.metal);
    if (layered != layeredMetals_.end()) layers(band.layers);
}

void JobCard::treatment(Band& band) {
    static const std::vector<Option> kNames = {
        {"0", "None", {}}, {"1", "Anodised", {}}, {"2", "Blackened", {}}};
    Surface& surface = band.surface;
    std::vector<Option> offered;
    for (const Treatment treatment : {Treatment::None, Treatment::Anodised, Treatment::Blackened}) {
        const auto& metals = treatments_[static_cast<std::size_t>(treatment)];
        if (std::ranges::find(metals, band.metal) != metals.end())
            offered.push_back(kNames[static_cast<std::size_t>(treatment)]);
    }
    if (offered.size() < 2) return;
    std::string name = std::to_string(static_cast<int>(surface.treatment));
    if (fields_.choice("band.finish.treatment", "Treatment", name, offered))
        surface.treatment = static_cast<Treatment>(std::stoi(name));
    if (surface.treatment == Treatment::Anodised)
        fields_.number("band.finish.oxide", "Oxide, nm", surface.oxide, {Unit::Count, 1, 0});
}

void JobCard::layers(Layers& layers) {
    static const std::vector<Option> kPatterns = {
        {"0", "Random", {}}, {"1", "Ladder", {}}, {"2", "Twist", {}}, {"3", "Raindrop", {}}};
    std::string name = std::to_string(static_cast<int>(layers.pattern));
    if (fields_.choice("band.layers.pattern", "Pattern", name, kPatterns))
        layers.pattern = static_cast<LayerPattern>(std::stoi(name));
    fields_.number("band.layers.thickness", "Layer", layers.thickness, kFineLength);
    fields_.number("band.layers.etch", "Etch", layers.etch, {Unit::Millimetre, 0.001, 3});
}

void JobCard::channels(Design& draft) {
    for (std::size_t i = 0; i < draft.channels.size(); ++i)
        channel(draft, i);
    if (draft.channels.empty()) fields_.heading("Channel");
    if (fields_.button("add-channel", "Cut a channel")) draft.channels.push_back(newChannel(draft));
}

void JobCard::channel(Design& draft, std::size_t at) {
    const std::string key = "channels[" + std::to_string(at) + "]";
    const std::string name = draft.channels.size() == 1 ? "Channel" : "Channel " + std::to_string(at + 1);
    if (fields_.removableHeading(key, name, "this channel")) {
        draft.channels.erase(draft.channels.begin() + static_cast<std::ptrdiff_t>(at));
        return;
    }
    Channel& channel = draft.channels[at];
    fields_.number(key + ".width", "Width", channel.width, kLength);
    fields_.number(key + ".depth", "Depth", channel.depth, kFineLength);
    fields_.number(key + ".offset", "Off middle", channel.offset, kLength);
    fields_.number(key + ".floor-radius", "Floor corner", channel.floorRadius, kFineLength);
    fields_.number(key + ".draft", "Side draft", channel.draft, kAngle);
    bool filled = channel.fill.has_value();
    if (fields_.toggle(key + ".fill", "Filled", filled)) {
        channel.fill = filled ? std::optional<Fill>(Fill{}) : std::nullopt;
    }
    if (channel.fill) fill(key + ".fill", *channel.fill);
}

void JobCard::fill(const std::string& key, Fill& fill) {
    fields_.choice(key + ".filler", "Fill", fill.filler, fillers_);
    fields_.choice(key + ".adhesive", "Adhesive", fill.adhesive, adhesives_);
    fields_.number(key + ".grain-least", "Grain, least", fill.grainLeast, kFineLength);
    fields_.number(key + ".grain-most", "Grain, most", fill.grainMost, kFineLength);
    double packed = 100 * fill.packing;
    if (fields_.number(key + ".packing", "Packed", packed, {Unit::Percent, 1, 0}))
        fill.packing = packed / 100;
    fields_.number(key + ".proud", "Proud", fill.proud, kFineLength);
}

void JobCard::settings(Design& draft) {
    for (std::size_t i = 0; i < draft.settings.size(); ++i)
        setting(draft, i);
    if (draft.settings.empty()) fields_.heading("Stone");
    if (fields_.button("add-setting", "Set a stone")) draft.settings.emplace_back();
}

void JobCard::setting(Design& draft, std::size_t at) {
    const std::string key = "settings[" + std::to_string(at) + "]";
    const std::string name = draft.settings.size() == 1 ? "Stone" : "Stone " + std::to_string(at + 1);
    if (fields_.removableHeading(key, name, "this setting: stone, tube and hole")) {
        draft.settings.erase(draft.settings.begin() + static_cast<std::ptrdiff_t>(at));
        return;
    }
    Setting& setting = draft.settings[at];
    stone(key + ".stone", setting);
    tube(key + ".tube", setting);
    hole(key + ".hole", setting.hole);
    if (setting.stone && !setting.tube && fields_.button(key + "#fit", "Cut the hole to the stone"))
        cutForStone(setting);
    placement(key + ".placement", setting.placement);
}

void JobCard::stone(const std::string& key, Setting& setting) {
    static const std::vector<Option> kCuts = {
        {"0", "Round brilliant", {}}, {"1", "Oval", {}},        {"2", "Marquise", {}}, {"3", "Pear", {}},
        {"4", "Step octagon", {}},    {"5", "Step square", {}}, {"6", "Rose cut", {}}, {"7", "Cabochon", {}}};
    bool has = setting.stone.has_value();
    if (fields_.toggle(key, "Stone", has)) setting.stone = has ? std::optional<Stone>(Stone{}) : std::nullopt;
    if (!setting.stone) return;
    Stone& stone = *setting.stone;
    fields_.choice(key + ".gem", "Gem", stone.gem, gems_);
    if (fields_.text(key + ".model", "OBJ model", stone.model)) stone.solid.reset();
    if (!stone.model.empty()) {
        fields_.number(key + ".diameter", "Girdle width", stone.diameter, kLength);
        fields_.number(key + ".length", "Girdle length", stone.length, kLength);
        fields_.note("0 = as long as the model is in its own proportions");
        return;
    }
    std::string cut = std::to_string(static_cast<int>(stone.cut));
    if (fields_.choice(key + ".cut", "Cut", cut, kCuts)) stone.cut = static_cast<StoneCut>(std::stoi(cut));
    const bool isRound = stone.cut == StoneCut::RoundBrilliant || stone.cut == StoneCut::StepSquare;
    const bool isDomed = stone.cut == StoneCut::RoseCut || stone.cut == StoneCut::Cabochon;
    fields_.number(key + ".diameter", isRound ? "Girdle \u00D8" : "Girdle width", stone.diameter, kLength);
    if (!isRound) fields_.number(key + ".length", "Girdle length", stone.length, kLength);
    if (isDomed) {
        fields_.number(key + ".dome", "Dome", stone.dome, kPercent);
    } else {
        fields_.number(key + ".table", "Table", stone.table, kPercent);
        fields_.number(key + ".crown-angle", "Crown", stone.crownAngle, kAngle);
        fields_.number(key + ".pavilion-angle", "Pavilion", stone.pavilionAngle, kAngle);
    }
    fields_.number(key + ".girdle", "Girdle", stone.girdle, kPercent);
}

void JobCard::tube(const std::string& key, Setting& setting) {
    static constexpr const char* kJoins[] = {"Adhesive", "Solder", "Laser weld"};
    bool has = setting.tube.has_value();
    if (fields_.toggle(key, "Tube", has)) setting.tube = has ? std::optional<Tube>(Tube{}) : std::nullopt;
    if (!setting.tube) return;
    Tube& tube = *setting.tube;
    fields_.choice(key + ".metal", "Tube metal", tube.metal, metals_);
    fields_.number(key + ".outer-diameter", "Outside \u00D8", tube.outerDiameter, kLength);
    fields_.number(key + ".seat-diameter", "Seat \u00D8", tube.seatDiameter, kLength);
    fields_.number(key + ".inner-diameter", "Inside \u00D8", tube.innerDiameter, kLength);
    fields_.number(key + ".height", "Height", tube.height, kLength);
    fields_.number(key + ".seat-depth", "Seat depth", tube.seatDepth, kLength);
    segments(fields_, key + ".join", "Join", tube.join, kJoins);
    if (setting.stone && fields_.button(key + "#fit", "Fit tube and hole to the stone")) fitToStone(setting);
}

void JobCard::hole(const std::string& key, Hole& hole) {
    static constexpr const char* kBottoms[] = {"Through", "Flat", "118\u00B0", "135\u00B0"};
    fields_.number(key + ".pilot-diameter", "Pilot \u00D8", hole.pilotDiameter, kLength);
    segments(fields_, key + ".bottom", "Pilot ends", hole.bottom, kBottoms);
    if (hole.bottom != HoleBottom::Through) {
        fields_.number(key + ".pilot-depth", "Pilot depth", hole.pilotDepth, kLength);
    }
    for (std::size_t i = 0; i < hole.steps.size(); ++i) {
        const std::string step = key + ".steps[" + std::to_string(i) + "]";
        const std::string number = hole.steps.size() == 1 ? "" : " " + std::to_string(i + 1);
        fields_.number(step + ".diameter", ("Step" + number + " \u00D8").c_str(), hole.steps[i].diameter,
                       kLength);
        fields_.number(step + ".depth", ("Step" + number + " depth").c_str(), hole.steps[i].depth, kLength);
        fields_.number(step + ".bearing", ("Step" + number + " bearing").c_str(), hole.steps[i].bearing,
                       kWideAngle);
    }
    if (fields_.button(key + "#add-step", "Add a step")) {
        const HoleStep last = hole.steps.empty() ? HoleStep{hole.pilotDiameter, 1.6} : hole.steps.back();
        hole.steps.push_back({last.diameter + 0.5, last.depth / 2});
    }
    if (!hole.steps.empty()) {
        ImGui::SameLine();
        if (fields_.button(key + "#drop-step", "Drop the last")) hole.steps.pop_back();
    }
    fields_.number(key + ".countersink", "Countersink", hole.countersink, kLength);
}

void JobCard::placement(const std::string& key, Placement& placement) {
    fields_.number(key + ".offset", "Off middle", placement.offset, kLength);
    if (!placement.angles.empty()) {
        fields_.note("Placed at " + std::to_string(placement.angles.size()) + " listed angles");
        if (fields_.button(key + "#evenly", "Place evenly")) {
            placement.count = static_cast<int>(placement.angles.size());
            placement.angles.clear();
        }
        return;
    }
    fields_.count(key + ".count", "How many", placement.count);
    fields_.number(key + ".start", "First at", placement.start, kWideAngle);
    if (placement.count > 1) {
        fields_.number(key + ".spacing", "Spacing", placement.spacing, kWideAngle);
        if (placement.spacing == 0) fields_.note("0\u00B0 = evenly round the whole band");
    }
}

void JobCard::allowances(Design& draft) {
    constexpr NumberKind kLeft{Unit::Millimetre, 0.01, 3};
    Allowances& left = draft.allowances;
    fields_.heading("Allowances");
    fields_.number("allowances.sizing", "Left to size", left.sizing, kLeft);
    fields_.note("On the bore radius, until the band is sized. Half a US size is 0.203 mm.");
    fields_.number("allowances.truing", "Left to true", left.truing, kLeft);
    fields_.note("On the outside radius, until it is trued.");
    if (std::ranges::any_of(draft.channels, [](const Channel& c) { return c.fill.has_value(); }))
        fields_.number("allowances.fill", "Fill stands over", left.fill, kFineLength);
    fields_.number("allowances.parting", "Left to part off", left.parting, kLength);
    fields_.number("allowances.blank-outside", "Blank, outside", left.blankOutside, kLength);
    fields_.number("allowances.blank-bore", "Blank, bore", left.blankBore, kLength);
    fields_.note("More on each edge face, and on both radii of the blank.");
}

void JobCard::route(Design& draft, const Catalogue& catalogue) {
    fields_.heading("Route");
    const std::vector<Stage> done = steps(draft, catalogue);
    const Route before = draft.route;
    for (std::size_t i = 0; i < done.size(); ++i) {
        std::string text = name(done[i]);
        text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
        const int moved = fields_.mover("route." + name(done[i]), static_cast<int>(i + 1), text, i > 1,
                                        i > 0 && i + 1 < done.size());
        try {
            if (moved < 0) draft.route = movedBefore(before, done[i], done[i - 1]);
            if (moved > 0) draft.route = movedBefore(before, done[i + 1], done[i]);
        } catch (const InputError& error) {
            fields_.refuse(error.what());
        }
    }
}

}  // namespace bandwright
