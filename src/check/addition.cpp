#include "check/addition.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "design/locks.hpp"
#include "geometry/stone.hpp"
#include "trial.hpp"
#include "usual.hpp"

namespace bandwright::check {

namespace {

constexpr double kUsualGrains = 0.4;  // mm, of a filler that does not say; common practice, no source
constexpr double kGrainsAcross = 3;   // the rules' comfortable count in depth and width

double hundredths(double value) {
    return std::round(value * 100) / 100;
}
double fine(double value) {
    return std::round(value * 1e4) / 1e4;
}

/// Whether a hole runs out over an edge of the band, where no rim is left that could be measured.
bool reachesTheEdge(const design::Design& design) {
    return std::ranges::any_of(design.settings, [&](const design::Setting& setting) {
        double widest = setting.hole.pilotDiameter;
        for (const design::HoleStep& step : setting.hole.steps)
            widest = std::max(widest, step.diameter);
        return std::abs(setting.placement.offset) + widest / 2 >= design.band.width / 2;
    });
}

/// Tries rings one after the other until one is go; keeps the best.
class Candidates {
  public:
    Candidates(const design::Design& design, const trade::Catalogue& catalogue)
        : catalogue_(catalogue), before_(check(design, catalogue, {.remedies = false, .resizing = true})) {}

    /// Whether no other need be tried: this one is go, or as many were tried as a person waits for.
    bool tried(const design::Design& candidate) {
        if (++tried_ > kMost) return true;
        std::size_t worse = 0;
        for (const bool resizing : {false, true}) {
            // How far it can be opened later takes several checks, and is asked only of what is go without.
            const std::optional<Report> report = reportOf(candidate, catalogue_, resizing);
            if (!report) return false;
            worse = Outcome(*report).worseThan(before_).size() + (reachesTheEdge(candidate) ? 1 : 0);
            if (worse > 0) break;
        }
        if (!best_ || worse < fewest_) {
            best_ = candidate;
            fewest_ = worse;
        }
        return worse == 0;
    }

    Added best(const char* refusal) {
        if (!best_) throw base::InputError(refusal);
        return {std::move(*best_), fewest_ == 0};
    }

  private:
    const trade::Catalogue& catalogue_;
    Outcome before_;
    std::optional<design::Design> best_;
    std::size_t fewest_ = 0;
    static constexpr int kMost = 100;
    int tried_ = 0;
};

void useUsualGrains(design::Fill& fill, const design::Channel& channel, const trade::Catalogue& catalogue) {
    const trade::Filler* filler = catalogue.filler(fill.filler);
    const double bought = filler != nullptr && filler->grains ? filler->grains->value : kUsualGrains;
    const double room = std::floor(100 * std::min(channel.depth, channel.width) / kGrainsAcross) / 100;
    fill.grainMost = std::max(0.02, std::min(bought, room));
    fill.grainLeast = fill.grainMost / 2;
}

/// The channel that mirrors one which has no mirror image.
std::optional<design::Channel> missingTwin(const design::Design& design) {
    constexpr double kSame = 0.005;
    for (const design::Channel& channel : design.channels) {
        if (std::abs(channel.offset) < kSame) continue;
        const bool hasTwin = std::ranges::any_of(design.channels, [&](const design::Channel& other) {
            return std::abs(other.offset + channel.offset) < kSame;
        });
        if (hasTwin) continue;
        design::Channel twin = channel;
        twin.offset = -channel.offset;
        return twin;
    }
    return std::nullopt;
}

/// Where the middle of one more channel might be, the best first.
std::vector<double> channelPlaces(const design::Design& design) {
    constexpr double kStep = 0.25;
    std::vector<double> places = {0};
    const int steps = static_cast<int>(design.band.width / 2 / kStep);
    for (int i = 1; i <= steps; ++i) {
        const double z = i * kStep;
        places.push_back(z);
        if (design.settings.empty()) continue;
        places.push_back(-z);
    }
    return places;
}

double leastLand(const trade::Metal* metal) {
    constexpr double kComfort = 1.2, kUnknown = 0.75;
    return metal == nullptr ? kUnknown : kComfort * std::max(metal->leastFloor.value, metal->leastWall.value);
}

/// Nothing where another channel is in the way.
bool isFree(const design::Design& design, const design::Channel& channel, double land) {
    return std::ranges::all_of(design.channels, [&](const design::Channel& other) {
        return std::abs(other.offset - channel.offset) >= (other.width + channel.width) / 2 + land;
    });
}

/// The angle in the middle of the widest gap between the holes there are.
double freeAngle(const design::Design& design) {
    std::vector<double> angles;
    for (const design::Setting& setting : design.settings)
        for (const double angle : design::placedAngles(setting.placement))
            angles.push_back(angle);
    if (angles.empty()) return 0;
    std::ranges::sort(angles);
    angles.push_back(angles.front() + 360);
    double widest = 0, after = 0;
    for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
        if (angles[i + 1] - angles[i] <= widest + 1e-9) continue;
        widest = angles[i + 1] - angles[i];
        after = angles[i];
    }
    return hundredths(std::fmod(after + widest / 2, 360.0));
}

/// A seat for a stone without a tube: as wide as the stone, its bearing that of a bur of 90 degrees, the
/// girdle a quarter of a millimetre under the outside, and room below for the pavilion. Common practice, no
/// source.
design::Setting flushFit(design::Setting setting) {
    constexpr double kReach = 0.3, kCover = 0.25;
    const design::Stone& stone = *setting.stone;
    setting.hole.countersink = 0;
    setting.hole.steps.resize(1);
    setting.hole.steps.front() = {usualSeat(stone), fine(kCover + stone.girdle / 100 * stone.diameter), 45};
    setting.hole.pilotDiameter = fine(std::max(stone.diameter - 2 * kReach, stone.diameter / 2));
    return setting;
}

bool isFitted(const design::Setting& setting) {
    return setting == fittedToStone(setting);
}

/// A stone newly put in is as large as its seat takes.
void putStone(const design::Setting& before, design::Setting& after) {
    const double seat = before.tube                 ? before.tube->seatDiameter
                        : before.hole.steps.empty() ? before.hole.pilotDiameter
                                                    : before.hole.steps.back().diameter;
    constexpr double kGrid = 0.05;
    double diameter = std::max(0.5, std::floor(seat / kGrid + 1e-6) * kGrid);
    after.stone->diameter = diameter = hundredths(diameter);
    while (usualSeat(*after.stone) > seat + 1e-9 && diameter > 0.5)
        after.stone->diameter = diameter = hundredths(diameter - kGrid);
}

/// A tube newly put in fits its hole where it has no stone to fit.
void putTube(const design::Setting& before, design::Setting& after) {
    design::Tube& tube = *after.tube;
    const double hole =
        before.hole.steps.empty() ? before.hole.pilotDiameter : before.hole.steps.back().diameter;
    const double outer = hole - 2 * usualGap(tube.join), wall = (tube.outerDiameter - tube.seatDiameter) / 2,
                 ledge = (tube.seatDiameter - tube.innerDiameter) / 2;
    if (outer - 2 * (wall + ledge) < 0.1) return;
    tube.outerDiameter = fine(outer);
    tube.seatDiameter = fine(outer - 2 * wall);
    tube.innerDiameter = fine(outer - 2 * (wall + ledge));
}

void follow(const design::Setting& before, design::Setting& after) {
    if (after.tube && !before.tube && !after.stone) putTube(before, after);
    if (!after.stone) return;
    if (!before.stone && after.tube.has_value() == before.tube.has_value()) putStone(before, after);
    const bool isNew = !before.stone || before.tube.has_value() != after.tube.has_value();
    const auto size = [](const design::Setting& setting) { return geometry::girdleLength(*setting.stone); };
    const double larger = isNew ? 0 : size(after) - size(before);
    if (!isNew && larger == 0 && before.stone->cut == after.stone->cut) return;
    if (isNew || isFitted(before)) {
        after = fittedToStone(after);
        return;
    }
    const auto grow = [larger](double& diameter) { diameter = std::max(0.1, fine(diameter + larger)); };
    for (design::HoleStep& step : after.hole.steps)
        grow(step.diameter);
    grow(after.hole.pilotDiameter);
    if (!after.tube) return;
    for (double* diameter :
         {&after.tube->outerDiameter, &after.tube->innerDiameter, &after.tube->seatDiameter})
        grow(*diameter);
}

void followTube(const design::Setting& before, design::Setting& after) {
    if (!before.tube || !after.tube || after.hole.steps.empty()) return;
    const double larger = after.tube->outerDiameter + 2 * usualGap(after.tube->join) -
                          before.tube->outerDiameter - 2 * usualGap(before.tube->join);
    if (larger == 0 || after.hole != before.hole) return;
    design::HoleStep& widest = after.hole.steps.back();
    widest.diameter = std::max(0.1, fine(widest.diameter + larger));
}

/// What brings out the layers of a pattern-welded band would eat the fill.
void etchBeforeFilling(design::Design& design, const trade::Catalogue& catalogue) {
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    if (metal == nullptr || !trade::isPatternWelded(*metal) ||
        design::isBefore(design.route, design::Stage::Etched, design::Stage::Filled))
        return;
    try {
        design.route = design::movedBefore(design.route, design::Stage::Etched, design::Stage::Filled);
    } catch (const base::InputError&) {
        return;  // then the gauge of the etch says what is wrong
    }
}

}  // namespace

design::Setting fittedToStone(design::Setting setting) {
    if (!setting.stone) return setting;
    if (!setting.tube) return flushFit(std::move(setting));
    if (setting.hole.steps.empty()) setting.hole.steps.emplace_back();
    setting = usualFit(std::move(setting));
    setting.hole.pilotDiameter = std::min(setting.hole.pilotDiameter, setting.tube->innerDiameter);
    return setting;
}

Added withChannel(const design::Design& design, const trade::Catalogue& catalogue, const design::Fill& fill) {
    Candidates candidates(design, catalogue);
    const auto tried = [&](const design::Channel& channel) {
        design::Design next = design;
        next.channels.push_back(channel);
        return candidates.tried(next);
    };
    const auto best = [&] { return candidates.best("No ring can be made with one more channel."); };
    if (const auto twin = missingTwin(design); twin && tried(*twin)) return best();
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    const double land = leastLand(metal);
    const design::Band& band = design.band;
    const double rim = metal == nullptr ? land : 1.2 * metal->leastRim.value;
    const double widest = std::floor(100 * (band.width - band.left.width - band.right.width - 2 * rim)) / 100;
    const double half = design.channels.empty() ? band.width / 2 : std::min(2.0, band.width / 2);
    struct Depth {
        double depth, draft;
    };
    // Where there is little depth, an undercut keys the fill.
    constexpr std::array<Depth, 6> kDepths = {
        {{1, 0}, {0.75, 0}, {0.6, -10}, {0.5, -10}, {0.4, -10}, {0.3, -10}}};
    for (const double width :
         {half, std::min(widest, half), 0.75 * half, std::min(widest, 0.75 * half), 0.5 * half}) {
        for (const Depth& depth : kDepths) {
            design::Channel channel;
            channel.width = hundredths(std::max(0.6, width));
            channel.depth = depth.depth;
            channel.draft = depth.draft;
            channel.fill = fill;
            useUsualGrains(*channel.fill, channel, catalogue);
            for (const double place : channelPlaces(design)) {
                channel.offset = place;
                if (!isFree(design, channel, land)) continue;
                if (tried(channel)) return best();
                if (design.settings.empty()) break;  // the first that is free is the best there is
            }
        }
    }
    return best();
}

Added withSetting(const design::Design& design, const trade::Catalogue& catalogue, const std::string& gem) {
    Candidates candidates(design, catalogue);
    const auto tried = [&](const design::Setting& setting) {
        design::Design next = design;
        next.settings.push_back(setting);
        return candidates.tried(next);
    };
    const auto best = [&] { return candidates.best("No ring can be made with one more stone."); };
    design::Setting setting;
    if (!design.settings.empty()) setting = design.settings.back();  // like its neighbour
    if (!gem.empty()) setting.stone.emplace().gem = gem;
    setting.placement = {};
    setting.placement.start = freeAngle(design);
    if (!design.settings.empty()) {
        setting.placement.offset = design.settings.back().placement.offset;
        if (tried(setting)) return best();
        setting.placement.offset = 0;
    }
    if (!setting.stone) setting.stone.emplace();
    for (const bool hasTube : {true, false}) {
        for (const double diameter : {4.0, 3.0, 2.5, 2.0, 1.5, 1.2}) {
            setting.tube = hasTube ? std::optional<design::Tube>(design::Tube{}) : std::nullopt;
            setting.stone->diameter = diameter;
            setting.stone->length = 0;
            setting.hole = {};
            if (tried(fittedToStone(setting))) return best();
        }
    }
    return best();
}

Added withStep(const design::Design& design, std::size_t setting, const trade::Catalogue& catalogue) {
    Candidates candidates(design, catalogue);
    const design::Hole& hole = design.settings.at(setting).hole;
    const design::HoleStep last =
        hole.steps.empty() ? design::HoleStep{hole.pilotDiameter, 1.6} : hole.steps.back();
    for (const double wider : {0.5, 0.3, 0.2, 0.1}) {
        for (const double share : {0.5, 0.3, 0.7}) {
            design::Design next = design;
            next.settings[setting].hole.steps.push_back(
                {fine(last.diameter + wider), fine(last.depth * share)});
            if (candidates.tried(next)) return candidates.best("");
        }
    }
    return candidates.best("No ring can be made with one more step in this hole.");
}

namespace {

design::Design followed(const design::Design& before, design::Design after,
                        const trade::Catalogue& catalogue) {
    if (before.settings.size() == after.settings.size()) {
        for (std::size_t i = 0; i < after.settings.size(); ++i) {
            follow(before.settings[i], after.settings[i]);
            followTube(before.settings[i], after.settings[i]);
        }
    }
    if (before.channels.size() != after.channels.size()) return after;
    for (std::size_t i = 0; i < after.channels.size(); ++i) {
        design::Channel& channel = after.channels[i];
        const std::optional<design::Fill>& was = before.channels[i].fill;
        if (!channel.fill || (was && was->filler == channel.fill->filler)) continue;
        const trade::Filler *old = was ? catalogue.filler(was->filler) : nullptr,
                            *next = catalogue.filler(channel.fill->filler);
        const auto grains = [](const trade::Filler* filler) {
            return filler != nullptr && filler->grains ? filler->grains->value : kUsualGrains;
        };
        if (was && grains(old) == grains(next)) continue;
        useUsualGrains(*channel.fill, channel, catalogue);
    }
    return after;
}

}  // namespace

design::Design following(const design::Design& before, design::Design after,
                         const trade::Catalogue& catalogue) {
    design::Design next = design::withLockedOf(after, followed(before, after, catalogue));
    // Fitting a hole may take away a step that is locked.
    return design::keepsLocked(after, next) ? next : after;
}

Ordinary ordinaryMaterials(const trade::Catalogue& catalogue) {
    const auto isGo = [&](const design::Design& design) {
        const std::optional<Report> report = reportOf(design, catalogue);
        return report && report->verdict == Verdict::Go;
    };
    Ordinary ordinary;
    design::Design plain;
    plain.band.thickness = 2.4;
    plain.band.left.width = plain.band.right.width = 0.4;
    const design::Design filled = withChannel(plain, catalogue).design,
                         set = withSetting(plain, catalogue).design;
    for (const trade::Metal& metal : catalogue.metals) {
        design::Design ring = plain;
        ring.band.metal = metal.id;
        if (isGo(ring)) ordinary.metals.push_back(metal.id);
    }
    for (const trade::Filler& filler : catalogue.fillers) {
        design::Design ring = filled;
        design::Channel& channel = ring.channels.front();
        channel.fill->filler = filler.id;
        useUsualGrains(*channel.fill, channel, catalogue);
        if (isGo(ring)) ordinary.fillers.push_back(filler.id);
    }
    for (const trade::Gem& gem : catalogue.gems) {
        design::Design ring = set;
        ring.settings.front().stone->gem = gem.id;
        if (isGo(ring)) ordinary.gems.push_back(gem.id);
    }
    return ordinary;
}

Added ringFor(const Wishes& wishes, const trade::Catalogue& catalogue) {
    design::Design plain;
    plain.finger.size = wishes.finger;
    plain.band.metal = wishes.metal;
    plain.band.width = wishes.width;
    plain.band.left.width = plain.band.right.width = std::min(0.4, wishes.width / 15);
    std::optional<Added> best;
    Verdict worst = Verdict::NoGo;
    design::Fill fill;
    fill.filler = wishes.filler;
    for (const double thickness : {2.2, 1.8, 2.4, 2.0, 2.5, 2.8, 3.2}) {
        plain.band.thickness = thickness;
        // What is not go with nothing in it is not go with more.
        const Verdict bare = check(plain, catalogue, {.remedies = false}).verdict;
        if (bare != Verdict::Go && best) continue;
        if (bare != Verdict::Go) {
            best = Added{plain, false};
            continue;
        }
        for (const char* adhesive : {"cyanoacrylate", "epoxy"}) {
            fill.adhesive = adhesive;
            for (const bool stoneFirst : {false, true}) {
                design::Design ring = plain;
                for (const bool stone : {stoneFirst, !stoneFirst}) {
                    if (stone && !wishes.gem.empty()) ring = withSetting(ring, catalogue, wishes.gem).design;
                    if (!stone && !wishes.filler.empty()) ring = withChannel(ring, catalogue, fill).design;
                }
                if (!wishes.filler.empty()) etchBeforeFilling(ring, catalogue);
                const Verdict verdict =
                    reachesTheEdge(ring)
                        ? Verdict::NoGo
                        : check(ring, catalogue, {.remedies = false, .resizing = true}).verdict;
                if (verdict == Verdict::Go) return {std::move(ring), true};
                if (!best || verdict < worst) {
                    best = Added{std::move(ring), false};
                    worst = verdict;
                }
                if (wishes.gem.empty() || wishes.filler.empty()) break;
            }
            if (wishes.filler.empty()) break;
        }
    }
    return std::move(*best);
}

}  // namespace bandwright::check
