#include "random_design.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>

#include "base/input_error.hpp"
#include "design/fields.hpp"

namespace bandwright::geometry {

namespace {

/// Numbers by Steele, Lea and Flood's SplitMix64 ("Fast splittable pseudorandom number generators", 2014),
/// turned into what is asked by plain arithmetic, since the distributions of <random> differ by library.
class Lot {
  public:
    explicit Lot(std::uint64_t seed) : state_(seed) {}

    double between(double least, double most) {
        const double share = static_cast<double>(next() >> 11) * 0x1p-53;
        return least + share * (most - least);
    }
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(next() % count); }
    bool once(std::size_t in) { return below(in) == 0; }

    /// A length as a maker gives it: every other time a multiple of 0.05 mm.
    double length(double least, double most) {
        const double value = between(least, std::max(least, most));
        return once(2) ? value : std::max(least, std::round(value * 20) / 20);
    }

    template <class T, std::size_t N>
    T of(const std::array<T, N>& choices) {
        return choices[below(N)];
    }

  private:
    std::uint64_t next() {
        state_ += 0x9e3779b97f4a7c15;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
        z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
        return z ^ (z >> 31);
    }

    std::uint64_t state_;
};

design::Edge edge(Lot& lot, const design::Band& band) {
    design::Edge edge;
    edge.shape =
        lot.of(std::array{design::EdgeShape::Sharp, design::EdgeShape::Bevel, design::EdgeShape::Round});
    edge.width = lot.length(0, 0.6 * std::min(band.width, band.thickness));
    edge.angle = lot.once(2) ? 45 : lot.between(15, 75);
    return edge;
}

design::Band band(Lot& lot) {
    design::Band band;
    band.width = lot.length(2, 14);
    band.thickness = lot.length(1, 4);
    band.outside.shape = lot.of(std::array{design::OutsideShape::Flat, design::OutsideShape::Domed,
                                           design::OutsideShape::KnifeEdge, design::OutsideShape::Hollow});
    band.outside.rise = lot.length(0, std::min(0.3 * band.width, 0.4 * band.thickness));
    band.bore.shape = lot.of(std::array{design::BoreShape::Straight, design::BoreShape::Comfort});
    band.bore.rise = lot.length(0, std::min(0.2 * band.width, 0.25 * band.thickness));
    band.bore.flat = lot.once(2) ? 0 : lot.length(0, 1.1 * band.width);
    band.bore.ease = lot.once(3) ? 0 : lot.length(0, 0.25 * band.thickness);
    band.left = edge(lot, band);
    band.right = lot.once(3) ? band.left : edge(lot, band);
    return band;
}

design::Channel channel(Lot& lot, const design::Band& band) {
    design::Channel channel;
    channel.width = lot.length(0.3, lot.once(4) ? 1.2 * band.width : 0.5 * band.width);
    channel.depth = lot.length(0.1, lot.once(16) ? 1.3 * band.thickness : 0.7 * band.thickness);
    const double half = band.width / 2;
    const double atEdge = half - channel.width / 2;
    switch (lot.below(6)) {
        case 0:
            channel.offset = 0;
            break;
        case 1:  // one side lies in the edge face
            channel.offset = lot.once(2) ? atEdge : -atEdge;
            break;
        case 2:  // or where the bevel begins
            channel.offset = atEdge - band.right.width;
            break;
        default:
            channel.offset = lot.length(-half, half);
            break;
    }
    if (lot.once(3)) channel.draft = lot.once(2) ? 5 * std::round(lot.between(-9, 9)) : lot.between(-20, 20);
    if (lot.once(2)) {
        const double most = std::min(channel.depth, channel.width / 2);
        channel.floorRadius = lot.once(4) ? most : lot.length(0, most);
    }
    if (lot.once(4)) {
        channel.fill.reset();
    } else if (lot.once(2)) {
        channel.fill->proud = lot.length(-0.6 * channel.depth, 0.5);
    }
    return channel;
}

design::Hole hole(Lot& lot, const design::Design& design) {
    design::Hole hole;
    const double thickness = design.band.thickness;
    hole.bottom = lot.of(std::array{design::HoleBottom::Through, design::HoleBottom::Flat,
                                    design::HoleBottom::Drill118, design::HoleBottom::Drill135});
    hole.pilotDiameter = lot.length(0.3, 0.4 * design.band.width);
    double depth = lot.length(0.1, 1.1 * thickness);
    hole.pilotDepth = depth;
    double diameter = hole.pilotDiameter;
    hole.steps.clear();
    for (std::size_t left = lot.below(4); left > 0; --left) {
        diameter += lot.length(0.1, 1);
        depth = lot.length(0.05, 0.95 * depth);
        hole.steps.push_back({diameter, depth});
    }
    if (!design.channels.empty() && !hole.steps.empty()) {
        // Down to the channel's own floor, or as wide as the channel.
        if (lot.once(4)) hole.steps.back().depth = design.channels[0].depth;
        if (lot.once(4)) hole.steps.back().diameter = design.channels[0].width;
    }
    if (lot.once(4)) hole.countersink = lot.length(0, 0.8);
    return hole;
}

design::Tube tube(Lot& lot, const design::Hole& hole) {
    design::Tube tube;
    tube.outerDiameter = hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter;
    tube.seatDiameter = lot.length(0.5, 0.95) * tube.outerDiameter;
    tube.innerDiameter = lot.length(0.4, 0.95) * tube.seatDiameter;
    tube.height = lot.length(0.3, 3);
    tube.seatDepth = lot.length(0.1, 0.9) * tube.height;
    return tube;
}

design::Stone stone(Lot& lot, const design::Setting& setting) {
    design::Stone stone;
    stone.cut = lot.of(std::array{design::StoneCut::RoundBrilliant, design::StoneCut::Oval,
                                  design::StoneCut::Marquise, design::StoneCut::Pear,
                                  design::StoneCut::StepOctagon, design::StoneCut::StepSquare,
                                  design::StoneCut::RoseCut, design::StoneCut::Cabochon});
    stone.diameter = setting.tube ? setting.tube->seatDiameter : setting.hole.pilotDiameter + 0.5;
    if (lot.once(2)) stone.diameter *= lot.between(0.8, 1);
    if (lot.once(2)) stone.length = stone.diameter * lot.between(1, 1.8);
    stone.table = lot.between(50, 65);
    stone.crownAngle = lot.between(25, 38);
    stone.pavilionAngle = lot.between(38, 44);
    stone.girdle = lot.between(0, 5);
    stone.dome = lot.between(20, 60);
    return stone;
}

design::Setting setting(Lot& lot, const design::Design& design) {
    design::Setting setting;
    setting.hole = hole(lot, design);
    const double half = design.band.width / 2;
    const design::Hole& hole = setting.hole;
    const double radius = (hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter) / 2;
    const std::size_t where = lot.below(5);
    if (where == 0) {
        setting.placement.offset = lot.length(-half, half);
    } else if (where > 2 && !design.channels.empty()) {
        const design::Channel& channel = design.channels[lot.below(design.channels.size())];
        setting.placement.offset = channel.offset;
        // Just touching a side of the channel, from within.
        if (where == 4) setting.placement.offset += channel.width / 2 - radius;
    }
    design::Placement& placement = setting.placement;
    placement.count = static_cast<int>(lot.once(2) ? 1 : 1 + lot.below(24));
    placement.start = lot.between(0, 360);
    if (lot.once(4)) placement.spacing = lot.between(5, 90);
    if (lot.once(8)) placement.angles = {lot.between(-360, 0), 0, lot.between(20, 360)};
    setting.tube.reset();
    setting.stone.reset();
    const bool flat = !hole.steps.empty() || hole.bottom == design::HoleBottom::Flat;
    if (flat && lot.once(2)) setting.tube = tube(lot, hole);
    if (flat && !lot.once(3)) setting.stone = stone(lot, setting);
    return setting;
}

design::Design sensible(Lot& lot) {
    design::Design design;
    design.finger.size = lot.once(2)
                             ? trade::RingSize{trade::SizeSystem::Us, static_cast<double>(lot.below(53)) / 4}
                             : trade::RingSize{trade::SizeSystem::Diameter, lot.between(12, 26)};
    design.band = band(lot);
    for (std::size_t left = lot.below(4); left > 0; --left)
        design.channels.push_back(channel(lot, design.band));
    for (std::size_t left = lot.below(4); left > 0; --left)
        design.settings.push_back(setting(lot, design));
    design.allowances.sizing = lot.once(3) ? 0 : lot.of(std::array{0.1016, 0.2032, 0.4064});
    return design;
}

/// Gives one field of a design, or all of them, any value that its range allows.
struct AnyValue {
    Lot& lot;
    std::size_t only;  ///< counted in the order of the file
    bool all = false;
    std::size_t at = 0;

    template <class T, class Field>
    void operator()(std::string_view /*key*/, T& value, const Field& field, const design::Words& /*words*/) {
        visit(value, field);
    }

    void visit(double& value, const design::NumberField& field) {
        const double drawn =
            lot.once(8) ? lot.of(std::array{field.least, field.most}) : lot.between(field.least, field.most);
        if (isTurn()) value = drawn;
    }
    void visit(int& value, const design::CountField& field) {
        const auto drawn = lot.below(static_cast<std::size_t>(field.most - field.least) + 1);
        if (isTurn()) value = field.least + static_cast<int>(drawn);
    }
    void visit(trade::RingSize& value, const design::SizeField& field) {
        const double drawn = lot.between(field.least, field.most);
        if (isTurn()) value = {trade::SizeSystem::Diameter, drawn};
    }
    template <class Enum, std::size_t N>
    void visit(Enum& value, const design::WordField<Enum, N>& words) {
        const Enum drawn = words.words[lot.below(N)].value;
        if (isTurn()) value = drawn;
    }
    void visit(std::string& /*value*/, const design::TextField& /*field*/) {}
    void visit(std::string& /*value*/, design::MaterialField /*field*/) {}
    template <class T, class Rule>
    void visit(std::vector<T>& items, const design::ListField<Rule>& field) {
        for (T& item : items)
            visit(item, field.each);
    }
    void visit(std::string& /*path*/, design::PathField /*field*/) {}
    void visit(design::Route& /*value*/, const design::RouteField& /*field*/) {}
    template <class T>
    void visit(std::optional<T>& part, const design::GroupField& field) {
        if (part) visit(*part, field);
    }
    template <class T>
    void visit(T& group, const design::GroupField& /*field*/) {
        design::visitFields(*this, group);
    }

    bool isTurn() { return all || at++ == only; }
};

/// Any order in which the work can be done.
design::Route route(Lot& lot) {
    design::Route route = design::usualRoute();
    for (int moves = 0; moves < 12; ++moves) {
        const std::size_t to = lot.below(route.size()), from = lot.below(route.size());
        if (from <= to) continue;
        try {
            route = design::movedBefore(route, route[from], route[to]);
        } catch (const base::InputError&) {
            continue;
        }
    }
    return route;
}

/// Fields added to designs later, drawn from a generator of their own so that a seed's other numbers stay the
/// same.
void drawLater(std::uint64_t seed, design::Design& design) {
    Lot lot(~seed);
    if (lot.once(4))
        design.band.liner = design::Liner{.thickness = lot.length(0.1, 0.6 * design.band.thickness)};
    for (design::Setting& setting : design.settings) {
        for (std::size_t i = 0; i < setting.hole.steps.size(); ++i) {
            const bool underTube = setting.tube && i + 1 == setting.hole.steps.size();
            const double bearing = lot.once(2) ? 45 : lot.between(0, 60);
            if (lot.once(3) && !underTube) setting.hole.steps[i].bearing = bearing;
        }
        // Stones a hole or a tube can hold, with some lip above them.
        const bool fits = lot.once(2);
        const double share = lot.between(0.9, 1);
        if (!setting.stone || !fits) continue;
        if (!setting.tube && !setting.hole.steps.empty())
            setting.stone->diameter = share * setting.hole.steps.back().diameter;
        if (setting.tube) setting.tube->seatDepth = lot.between(0.3, 0.9) * setting.tube->height;
    }
    design::Allowances& left = design.allowances;
    left.truing = lot.once(3) ? 0 : lot.length(0, 0.5);
    left.fill = lot.once(3) ? 0 : lot.length(0, 0.5);
    left.parting = lot.once(3) ? 0 : lot.length(0, 2);
    left.blankOutside = lot.length(0, 3);
    left.blankBore = lot.length(0, 6);
    design.route = route(lot);
}

}  // namespace

design::Design randomDesign(std::uint64_t seed) {
    Lot lot(seed);
    design::Design design = sensible(lot);
    drawLater(seed, design);
    design.title = "Drawn by lot, " + std::to_string(seed);
    if (lot.once(5)) {
        // A design has about 90 fields; a number past the last changes nothing.
        AnyValue change{.lot = lot, .only = lot.below(90), .all = lot.once(8)};
        design::visitFields(change, design);
    }
    return design;
}

design::Design mirrored(design::Design design) {
    std::swap(design.band.left, design.band.right);
    for (design::Channel& channel : design.channels)
        channel.offset = -channel.offset;
    for (design::Setting& setting : design.settings)
        setting.placement.offset = -setting.placement.offset;
    return design;
}

namespace {

std::optional<std::uint64_t> asked() {
    const char* text = std::getenv("BANDWRIGHT_DESIGNS");
    if (text == nullptr) return std::nullopt;
    return std::strtoull(text, nullptr, 10);
}

}  // namespace

std::uint64_t designsToDraw(std::uint64_t usual) {
    if (inHaste()) return std::min(*asked(), (usual + 1) / 2);
    return asked().value_or(usual);
}

bool inHaste() {
    constexpr std::uint64_t kFew = 100;
    return asked().value_or(kFew + 1) <= kFew;
}

std::size_t oneIn(std::size_t hasty, std::size_t usual) {
    constexpr std::uint64_t kMany = 1000;
    if (inHaste()) return hasty;
    return asked().value_or(0) >= kMany ? 1 : usual;
}

}  // namespace bandwright::geometry
