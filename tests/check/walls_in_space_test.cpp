// The walls between holes and what is beside them, against a search in space: places all over the two true
// surfaces, pairs of them with metal all the way between, and from the nearest pairs downhill by steps drawn
// by lot. It knows the ring as a turned section with holes taken out, and nothing of how the walls were
// measured.

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <limits>
#include <numbers>
#include <numeric>
#include <random>
#include <vector>

#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {
namespace {

using geometry::Vec2;
using geometry::Vec3;

/// Numbers by lot, the same everywhere: the distributions of <random> differ by library.
class Lot {
  public:
    explicit Lot(std::uint64_t seed) : engine_(seed * 2654435761U + 1) {}
    double between(double least, double most) {
        return least + static_cast<double>(engine_() >> 11) * 0x1p-53 * (most - least);
    }
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }
    bool once(std::size_t in) { return below(in) == 0; }

  private:
    std::mt19937_64 engine_;
};

/// Rings of every outside and bore, with holes off the middle, across channels, in pairs and in rows.
design::Design drilledByLot(std::uint64_t seed) {
    Lot lot(seed);
    design::Design design = plainRing();
    design.finger.size = {trade::SizeSystem::Diameter, lot.between(15, 22)};
    design::Band& band = design.band;
    band.width = lot.between(4, 10);
    band.thickness = lot.between(1.6, 3.2);
    band.outside.shape =
        std::array{design::OutsideShape::Flat, design::OutsideShape::Domed, design::OutsideShape::KnifeEdge,
                   design::OutsideShape::Hollow}[lot.below(4)];
    band.outside.rise = lot.between(0.1, 0.5);
    if (lot.once(2)) band.bore = {design::BoreShape::Comfort, lot.between(0.1, 0.4), 0, lot.between(0, 0.3)};
    if (lot.once(2)) band.left = {design::EdgeShape::Bevel, lot.between(0.1, 0.8), lot.between(30, 60)};
    if (lot.once(2)) band.right = {design::EdgeShape::Round, lot.between(0.1, 0.6), 45};
    if (lot.once(4)) band.liner = design::Liner{.thickness = lot.between(0.3, 0.6)};
    for (std::size_t left = lot.below(3); left > 0; --left) {
        design::Channel c = channel(lot.between(-0.4, 0.4) * band.width, lot.between(0.5, 0.5 * band.width),
                                    lot.between(0.2, 0.6) * band.thickness);
        if (lot.once(2)) c.floorRadius = lot.between(0, 0.5) * std::min(c.width / 2, c.depth);
        if (lot.once(3)) c.draft = lot.between(-15, 15);
        design.channels.push_back(c);
    }
    const std::size_t settings = 1 + lot.below(2);
    double last = 0;
    for (std::size_t i = 0; i < settings; ++i) {
        const double pilot = lot.between(0.5, 0.25 * band.width);
        design::Setting s = bareHole(lot.between(-0.35, 0.35) * band.width, pilot,
                                     pilot + lot.between(0.2, 1.2), lot.between(0.3, 0.8) * band.thickness);
        if (lot.once(3)) s.hole.steps.clear();
        if (!s.hole.steps.empty() && lot.once(3)) s.hole.steps[0].bearing = lot.between(20, 50);
        if (lot.once(3)) {
            s.hole.bottom = std::array{design::HoleBottom::Flat, design::HoleBottom::Drill118}[lot.below(2)];
            s.hole.pilotDepth = lot.between(0.5, 0.9) * band.thickness;
            if (!s.hole.steps.empty())
                s.hole.steps[0].depth = std::min(s.hole.steps[0].depth, s.hole.pilotDepth - 0.2);
        }
        if (lot.once(4)) s.hole.countersink = lot.between(0.1, 0.6);
        const double wide = s.hole.steps.empty() ? pilot : s.hole.steps[0].diameter;
        const double apart =
            (wide + lot.between(0.1, 1.5)) / (design::outsideRadius(design) - band.thickness);
        s.placement.count = static_cast<int>(1 + lot.below(3));
        s.placement.spacing = apart * 180 / std::numbers::pi;
        s.placement.start = i == 0 ? lot.between(0, 360) : last + lot.between(0, 30);
        last = s.placement.start + (s.placement.count - 1) * s.placement.spacing;
        design.settings.push_back(s);
    }
    return design;
}

struct Hole {
    geometry::HoleProfile profile;
    double angle;

    Vec3 at(double x, double radius, double turn) const {
        const double y = radius * std::cos(turn);
        return {x * std::cos(angle) - y * std::sin(angle), x * std::sin(angle) + y * std::cos(angle),
                profile.offset + radius * std::sin(turn)};
    }
    struct Own {
        double x, radius;
    };
    Own own(const Vec3& p) const {
        return {p.x * std::cos(angle) + p.y * std::sin(angle),
                std::hypot(p.y * std::cos(angle) - p.x * std::sin(angle), p.z - profile.offset)};
    }
    /// How deep p lies in the hole, mm, no deeper than it is; negative outside.
    double depth(const Vec3& p) const {
        const Own q = own(p);
        double deepest = -1;
        if (q.x <= 0) return deepest;
        for (const geometry::HolePiece& piece : profile.pieces) {
            if (piece.x0 == piece.x1 || q.x < piece.x0 || q.x > piece.x1) continue;
            const double share = (q.x - piece.x0) / (piece.x1 - piece.x0);
            deepest = std::max(deepest, piece.radius0 + share * (piece.radius1 - piece.radius0) - q.radius);
        }
        return deepest;
    }
    /// From p to the wall, mm.
    double toWall(const Vec3& p) const {
        const Own q = own(p);
        double least = std::numeric_limits<double>::infinity();
        for (const geometry::HolePiece& piece : profile.pieces) {
            const geometry::Segment s =
                geometry::line({piece.x0, piece.radius0}, {piece.x1, piece.radius1}, {});
            least =
                std::min(least, geometry::distance(geometry::nearestOn(s, {q.x, q.radius}), {q.x, q.radius}));
        }
        return least;
    }
};

/// The metal: band and liner as one turned body, with every hole taken out.
struct Metal {
    geometry::RingSections plain;
    std::vector<Hole> holes;
    std::vector<std::size_t> setting;  ///< of each hole

    explicit Metal(const design::Design& design) : plain(geometry::sections(design)) {
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            for (const double degrees : design::placedAngles(design.settings[i].placement)) {
                holes.push_back({geometry::settingHole(design, i), degrees * std::numbers::pi / 180});
                setting.push_back(i);
            }
        }
    }

    static Vec2 flat(const Vec3& p) { return {p.z, std::hypot(p.x, p.y)}; }
    double toOutline(const Vec3& p) const {
        double least = std::numeric_limits<double>::infinity();
        for (const geometry::Section* section : {&plain.band, &plain.liner}) {
            for (const geometry::Segment& s :
                 geometry::segmentsWhere(*section, [](geometry::Tag) { return true; }))
                least = std::min(least, geometry::distance(geometry::nearestOn(s, flat(p)), flat(p)));
        }
        return least;
    }
    bool isTurned(const Vec3& p, double tolerance) const {
        if (geometry::contains(plain.band, flat(p)) || geometry::contains(plain.liner, flat(p))) return true;
        return tolerance > 0 && toOutline(p) < tolerance;
    }
    bool isMetal(const Vec3& p, double tolerance) const {
        for (const Hole& hole : holes)
            if (hole.depth(p) > tolerance) return false;
        return isTurned(p, tolerance);
    }
    const Hole& first(std::size_t of) const {
        return holes[static_cast<std::size_t>(std::find(setting.begin(), setting.end(), of) -
                                              setting.begin())];
    }
    bool runsInMetal(const Vec3& from, const Vec3& to, int steps, double tolerance) const {
        for (int i = 0; i < steps; ++i) {
            if (!isMetal(from + ((i + 0.5) / steps) * (to - from), tolerance)) return false;
        }
        return true;
    }
};

/// A piece of a true surface: a place for two shares from 0 to 1.
using Patch = std::function<Vec3(double, double)>;
/// Whether a place of it belongs to it at all.
using Counts = std::function<bool(const Vec3&)>;
struct Surface {
    std::vector<Patch> patches;
    Counts counts;
};

Surface wallOf(
    const Metal& metal, const Hole& hole,
    const std::function<bool(geometry::Tag)>& wanted = [](geometry::Tag) { return true; }) {
    Surface surface;
    const double top = metal.plain.band.empty() ? 0 : [&] {
        double r = 0;
        for (const geometry::Segment& s :
             geometry::segmentsWhere(metal.plain.band, [](geometry::Tag) { return true; }))
            r = std::max(r, geometry::rectangleRound(s).high.r);
        return r;
    }();
    double bottom = top;
    for (const geometry::Section* section : {&metal.plain.band, &metal.plain.liner}) {
        for (const geometry::Segment& s :
             geometry::segmentsWhere(*section, [](geometry::Tag) { return true; }))
            bottom = std::min(bottom, geometry::rectangleRound(s).low.r);
    }
    for (const geometry::HolePiece& piece : hole.profile.pieces) {
        if (!wanted(piece.tag)) continue;
        const double widest = piece.radius1;
        const double low = std::max(piece.x0, std::sqrt(std::max(0.0, bottom * bottom - widest * widest)));
        const double high = std::min(piece.x1, top);
        if (high < low) continue;
        surface.patches.push_back([hole, piece, low, high](double u, double v) {
            const double turn = 2 * std::numbers::pi * v;
            if (piece.isFlat())
                return hole.at(piece.x0, piece.radius0 + u * (piece.radius1 - piece.radius0), turn);
            const double x = low + u * (high - low);
            const double share = (x - piece.x0) / (piece.x1 - piece.x0);
            return hole.at(x, piece.radius0 + share * (piece.radius1 - piece.radius0), turn);
        });
    }
    surface.counts = [&metal](const Vec3& p) { return metal.isTurned(p, 0); };
    return surface;
}

Surface turned(const geometry::Section& section, double angle,
               const std::function<bool(geometry::Tag)>& wanted) {
    Surface surface;
    for (const geometry::Segment& s : geometry::segmentsWhere(section, wanted)) {
        surface.patches.push_back([s, angle](double u, double v) {
            const Vec2 p = geometry::pointAt(s, u);
            const double at = angle + 0.8 * (v - 0.5);
            return Vec3{p.r * std::cos(at), p.r * std::sin(at), p.z};
        });
    }
    surface.counts = [](const Vec3&) { return true; };
    return surface;
}

struct Found {
    double value = std::numeric_limits<double>::infinity();
    Vec3 from, to;
};

/// The shortest way through metal that the search finds.
Found nearest(const Metal& metal, const Surface& a, const Surface& b, std::uint64_t seed) {
    Lot lot(seed);
    struct Place {
        std::size_t patch;
        double u, v;
        Vec3 at;
    };
    const auto placesOf = [&](const Surface& surface) {
        std::vector<Place> places;
        constexpr int kTries = 900;
        for (int i = 0; i < kTries && !surface.patches.empty(); ++i) {
            Place p{lot.below(surface.patches.size()), lot.between(0, 1), lot.between(0, 1), {}};
            if (i % 3 == 0) p.u = i % 2;  // rims are where it ends as a rule
            p.at = surface.patches[p.patch](p.u, p.v);
            if (surface.counts(p.at)) places.push_back(p);
        }
        return places;
    };
    const std::vector<Place> as = placesOf(a), bs = placesOf(b);
    struct Pair {
        double value;
        std::size_t i, j;
    };
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < as.size(); ++i) {
        Pair best{std::numeric_limits<double>::infinity(), i, 0};
        Pair second = best;
        for (std::size_t j = 0; j < bs.size(); ++j) {
            const double value = geometry::distance(as[i].at, bs[j].at);
            if (value < best.value) {
                second = best;
                best = {value, i, j};
            } else if (value < second.value) {
                second = {value, i, j};
            }
        }
        if (!bs.empty()) pairs.insert(pairs.end(), {best, second});
    }
    std::sort(pairs.begin(), pairs.end(), [](const Pair& p, const Pair& q) { return p.value < q.value; });
    Found found;
    int descents = 0;
    for (const Pair& pair : pairs) {
        if (!std::isfinite(pair.value) || descents == 6) break;
        Place p = as[pair.i], q = bs[pair.j];
        if (!metal.runsInMetal(p.at, q.at, 24, 0)) continue;
        ++descents;
        double value = pair.value;
        double step = 0.1;
        for (int i = 0, failed = 0; i < 4000 && step > 1e-9; ++i) {
            Place p1 = p, q1 = q;
            const std::size_t which = lot.below(3);
            const auto move = [&](Place& place) {
                place.u = std::clamp(place.u + step * lot.between(-1, 1), 0.0, 1.0);
                place.v += step * lot.between(-1, 1);
            };
            if (which != 0) {
                move(p1);
                p1.at = a.patches[p1.patch](p1.u, p1.v);
            }
            if (which != 1) {
                move(q1);
                q1.at = b.patches[q1.patch](q1.u, q1.v);
            }
            const double here = geometry::distance(p1.at, q1.at);
            if (here < value && a.counts(p1.at) && b.counts(q1.at) &&
                metal.runsInMetal(p1.at, q1.at, 24, 0)) {
                p = p1;
                q = q1;
                value = here;
                failed = 0;
                step *= 1.5;
            } else if (++failed == 12) {
                failed = 0;
                step *= 0.6;
            }
        }
        if (value < found.value && metal.runsInMetal(p.at, q.at, 1000, 0)) found = {value, p.at, q.at};
    }
    return found;
}

std::string text(const Vec3& p) {
    return "(" + std::to_string(std::hypot(p.x, p.y)) + " @" + std::to_string(std::atan2(p.y, p.x)) + ", " +
           std::to_string(p.z) + ")";
}

void forEachDrilled(std::uint64_t usual,
                    const std::function<void(const design::Design&, std::uint64_t)>& test,
                    const std::vector<std::uint64_t>& besides = {}) {
    const std::uint64_t count = geometry::inHaste() ? usual / 5 : geometry::designsToDraw(usual);
    std::vector<std::uint64_t> seeds(count);
    std::iota(seeds.begin(), seeds.end(), std::uint64_t{0});
    std::copy_if(besides.begin(), besides.end(), std::back_inserter(seeds),
                 [&](std::uint64_t seed) { return seed >= count; });
    for (const std::uint64_t seed : seeds) {
        const design::Design design = drilledByLot(seed);
        try {
            geometry::requireBuildable(design);
        } catch (const base::InputError&) {
            continue;
        }
        SCOPED_TRACE("seed " + std::to_string(seed));
        test(design, seed);
    }
}

bool starts(const Measure& m, std::string_view id) {
    return m.id == id || m.id.starts_with(std::string(id) + "@");
}

bool isBoreSurface(geometry::Tag tag) {
    return geometry::isBore(tag);
}
bool isFlank(geometry::Tag tag) {
    return geometry::regionOf(tag.feature) == geometry::Region::Edge;
}

constexpr double kNoNearer = 1e-4;  // mm, 0.1 um
constexpr double kOn = 1e-6;        // mm
constexpr double kNearly = 0.1;     // mm

/// Designs in which a search from one place, or from five, ends above the shortest land: channels,
/// countersinks and bearings crowd the holes, or these run into each other on one side.
const std::vector<std::uint64_t> kCrowded{32, 95, 137, 171, 320, 385, 428, 486, 807, 1475};

TEST(WallsInSpace, BetweenHolesAreNoThickerThanTheWaysThroughMetal) {
    std::size_t looked = 0;
    forEachDrilled(
        25,
        [&](const design::Design& design, std::uint64_t seed) {
            const Metal metal(design);
            const Report report = checked(design);
            std::vector<Found> least(design.settings.size());
            for (std::size_t i = 0; i < metal.holes.size(); ++i) {
                for (std::size_t j = i + 1; j < metal.holes.size(); ++j) {
                    const Found found =
                        nearest(metal, wallOf(metal, metal.holes[i]), wallOf(metal, metal.holes[j]), seed);
                    Found& best = least[metal.setting[i]];
                    if (found.value < best.value) best = found;
                }
            }
            for (std::size_t s = 0; s < least.size(); ++s) {
                const Measure* m =
                    measureOf(report, s == 0 ? "hole-to-hole" : "hole-to-hole@" + std::to_string(s + 1));
                if (!std::isfinite(least[s].value)) continue;
                ++looked;
                if (m == nullptr) {
                    ADD_FAILURE() << "found " << least[s].value << " " << text(least[s].from)
                                  << text(least[s].to);
                    continue;
                }
                EXPECT_GE(least[s].value, m->value - kNoNearer)
                    << m->label << text(least[s].from) << text(least[s].to) << " reported " << text(m->from)
                    << text(m->to);
            }
        },
        kCrowded);
    EXPECT_GT(looked, 5U);
}

/// The land at the outside of a ring, of its first setting with holes to compare.
double mouthLand(const design::Design& design) {
    const Report report = checked(design);
    const Measure* m = measureOf(report, "mouth-to-mouth");
    const Finding* f = findingOf(report, "mouth-to-mouth");
    if (m == nullptr || f == nullptr) return -1;
    EXPECT_EQ(f->verdict == Verdict::NoGo, m->value < 0.4);
    return m->value;
}

TEST(WallsInSpace, AreNothingBetweenMouthsThatMeet) {
    // Of holes 2 mm wide at the outside, 12.4 mm from the axis: alike, unlike, one within the other, two in
    // one place, and alike with mouths that meet by their countersinks alone.
    const auto apart = [](double mm) { return 2 * std::asin(mm / 2 / 12.4) * 180 / std::numbers::pi; };
    design::Design design = plainRing();
    design.settings = {bareHole(0, 0.5, 2, 1)};
    design.settings[0].placement.count = 2;
    const auto spaced = [&](double mm) {
        design.settings[0].placement.spacing = apart(mm);
        return design;
    };
    EXPECT_NEAR(mouthLand(spaced(2.1)), 0.1, 0.01);
    EXPECT_EQ(mouthLand(spaced(1.9)), 0);
    design.settings[0].placement.spacing = 360;
    EXPECT_EQ(mouthLand(design), 0);
    design.settings[0].hole.countersink = 0.3;
    EXPECT_EQ(mouthLand(spaced(2.1)), 0);
    design.settings[0].hole.countersink = 0;
    design.settings[0].placement.count = 1;
    design.settings.push_back(bareHole(0, 0.5, 1, 1));
    for (const auto& [mm, land] : {std::pair{1.6, 0.1}, {1.4, 0.0}, {0.2, 0.0}, {0.0, 0.0}}) {
        design.settings[1].placement.start = apart(mm);
        EXPECT_NEAR(mouthLand(design), land, land / 10) << mm;
    }
}

/// By lot: where a place of the outside lies in two holes, seen on a grid of places, no land is left there,
/// and where none is reported both holes are open at the witness.
TEST(WallsInSpace, AreNothingBetweenMouthsThatMeetByLot) {
    constexpr double kClearly = 1e-3;  // mm
    std::size_t meet = 0, apart = 0;
    forEachDrilled(30, [&](design::Design design, std::uint64_t) {
        for (design::Setting& s : design.settings)
            s.placement.spacing *= 0.45;
        try {
            geometry::requireBuildable(design);
        } catch (const base::InputError&) {
            return;
        }
        const Metal metal(design);
        const Report report = checked(design);
        const auto isMouth = [](geometry::Tag tag) {
            const geometry::Region region = geometry::regionOf(tag.feature);
            return region == geometry::Region::Outside || region == geometry::Region::Edge;
        };
        const std::vector<geometry::Segment> outside = geometry::segmentsWhere(metal.plain.band, isMouth);
        /// Whether a place lies in a hole of a setting and in another of it or of a later one.
        const auto bothOpen = [&](const Vec3& p, std::size_t of, double by) {
            std::size_t own = 0, later = 0;
            for (std::size_t i = 0; i < metal.holes.size(); ++i) {
                if (metal.setting[i] < of || metal.holes[i].depth(p) <= by) continue;
                ++(metal.setting[i] == of ? own : later);
            }
            return own > 0 && own + later > 1;
        };
        for (std::size_t s = 0; s < design.settings.size(); ++s) {
            const Measure* m =
                measureOf(report, s == 0 ? "mouth-to-mouth" : "mouth-to-mouth@" + std::to_string(s + 1));
            bool seen = false;
            for (const Hole& hole : metal.holes) {
                for (const geometry::Segment& segment : outside) {
                    for (int i = 0; i < 40 * 40 && !seen; ++i) {
                        const Vec2 p = geometry::pointAt(segment, (i / 40 + 0.5) / 40);
                        const double turn = hole.angle + 0.5 * ((i % 40 + 0.5) / 40 - 0.5);
                        seen = bothOpen({p.r * std::cos(turn), p.r * std::sin(turn), p.z}, s, kClearly);
                    }
                }
            }
            if (seen) {
                ++meet;
                ASSERT_NE(m, nullptr) << "setting " << s;
                EXPECT_EQ(m->value, 0) << m->label;
            }
            if (m == nullptr) continue;
            if (m->value > 0) {
                ++apart;
                continue;
            }
            EXPECT_LT(metal.toOutline(m->from), kOn) << text(m->from);
            EXPECT_TRUE(bothOpen(m->from, s, -kOn)) << text(m->from);
        }
    });
    EXPECT_GT(meet, geometry::inHaste() ? 0U : 2U);
    EXPECT_GT(apart, geometry::inHaste() ? 0U : 2U);
}

double leastBetweenHoles(const Report& report) {
    double least = std::numeric_limits<double>::infinity();
    for (const Measure& m : report.measures)
        if (starts(m, "hole-to-hole")) least = std::min(least, m.value);
    return least;
}

TEST(WallsInSpace, LeadThroughNoOtherHole) {
    // Two holes of 1 mm, 0.5 mm off the middle, and between them and the nearer edge, 1.5 mm on, one of 0.6.
    design::Design design = plainRing();
    design.settings = {bareHole(0.5, 0.5, 1, 1), bareHole(2, 0.3, 0.6, 1)};
    design.settings[0].placement.angles = {40, 220};
    design.settings[1].placement.start = 40;
    const auto toEdge = [&](const char* id) { return measureOf(checked(design), id)->value; };
    const Report report = checked(design);
    const Measure* m = measureOf(report, "hole-to-edge");
    ASSERT_NE(m, nullptr);
    EXPECT_NEAR(m->value, 3, 1e-9);  // the other hole of the row has metal there
    EXPECT_NEAR(std::atan2(m->from.y, m->from.x), (220 - 360) * std::numbers::pi / 180, 1e-9);
    // With one hole alone the wall is that to the other edge; between two small ones there is none.
    design.settings[0].placement.angles = {40};
    EXPECT_NEAR(toEdge("hole-to-edge"), 4, 1e-9);
    EXPECT_NEAR(toEdge("hole-to-edge@2"), 1.7, 1e-9);
    design.settings.push_back(design.settings[1]);
    design.settings[2].placement.offset = -2;
    EXPECT_EQ(measureOf(checked(design), "hole-to-edge"), nullptr);
}

TEST(WallsInSpace, OfHolesAreNoThickerThanTheWaysThroughMetal) {
    std::size_t looked = 0;
    forEachDrilled(25, [&](const design::Design& design, std::uint64_t seed) {
        const Metal metal(design);
        const Report report = checked(design);
        const geometry::Section& inner = metal.plain.liner.empty() ? metal.plain.band : metal.plain.liner;
        for (std::size_t s = 0; s < design.settings.size(); ++s) {
            const Hole& hole = metal.first(s);
            const auto reported = [&](const std::string& id) {
                return measureOf(report, s == 0 ? id : id + "@" + std::to_string(s + 1));
            };
            const auto compare = [&](const Measure* m, const Found& found) {
                if (!std::isfinite(found.value)) return;
                ++looked;
                // Where other holes lie in its ways nothing is told: a wall beside one of them is thinner.
                if (m == nullptr && leastBetweenHoles(report) <= found.value / 2) return;
                EXPECT_GE(found.value, (m == nullptr ? 1e9 : m->value) - kNoNearer)
                    << (m == nullptr ? "nothing" : m->label) << text(found.from) << text(found.to);
                // The search may end above the least, but not by much.
                if (m != nullptr && starts(*m, "seat-floor")) {
                    EXPECT_LE(found.value, m->value + kNearly) << text(found.from) << text(found.to);
                }
            };
            compare(reported("hole-to-edge"),
                    nearest(metal, wallOf(metal, hole), turned(metal.plain.band, hole.angle, isFlank), seed));
            compare(reported("seat-floor"), nearest(metal, wallOf(metal, hole, geometry::isHoleFloor),
                                                    turned(inner, hole.angle, isBoreSurface), seed));
            const Measure* web = reported("seat-to-channel");
            if (web == nullptr) continue;
            const auto channel = geometry::channelOf(web->toTag);
            compare(web,
                    nearest(metal, wallOf(metal, hole),
                            turned(metal.plain.band, hole.angle,
                                   [&](geometry::Tag tag) { return geometry::channelOf(tag) == channel; }),
                            seed));
        }
    });
    EXPECT_GT(looked, 5U);
}

/// Both ends of a way by four shares from 0 to 1.
using Shares = std::array<double, 4>;
using WayBy = std::function<std::pair<Vec3, Vec3>(const Shares&)>;

/// Where ways only just clear a corner: the shortest of many by lot, and downhill from the few best with a
/// look at every few thousandths of a mm.
Found nearestPast(const Metal& metal, const WayBy& wayBy, std::uint64_t seed) {
    Lot lot(seed);
    constexpr int kTries = 20000, kStarts = 3, kPatience = 60;
    constexpr double kLook = 0.005;  // mm
    const auto lengthOf = [&](const Shares& at) {
        const auto [from, to] = wayBy(at);
        const int looks = static_cast<int>(geometry::distance(from, to) / kLook) + 1;
        const bool isWay =
            metal.isTurned(from, kOn) && metal.isTurned(to, kOn) && metal.runsInMetal(from, to, looks, 1e-8);
        return isWay ? geometry::distance(from, to) : std::numeric_limits<double>::infinity();
    };
    std::vector<std::pair<double, Shares>> starts;
    for (int i = 0; i < kTries; ++i) {
        Shares at;
        for (double& share : at)
            share = lot.between(0, 1);
        const auto [from, to] = wayBy(at);
        const double worst =
            starts.size() < kStarts ? std::numeric_limits<double>::infinity() : starts.back().first;
        if (geometry::distance(from, to) >= worst) continue;
        const double value = lengthOf(at);
        if (value >= worst) continue;
        starts.emplace_back(value, at);
        std::sort(starts.begin(), starts.end());
        if (starts.size() > kStarts) starts.pop_back();
    }
    Found found;
    for (auto [value, at] : starts) {
        double step = 0.02;
        for (int failed = 0; step > 1e-8;) {
            Shares next = at;
            for (double& share : next)
                if (!lot.once(3)) share = std::clamp(share + step * lot.between(-1, 1), 0.0, 1.0);
            const auto [from, to] = wayBy(next);
            if (geometry::distance(from, to) < value && lengthOf(next) < value) {
                at = next;
                value = geometry::distance(from, to);
                failed = 0;
                step *= 1.3;
            } else if (++failed == kPatience) {
                failed = 0;
                step *= 0.6;
            }
        }
        if (value < found.value) found = {value, wayBy(at).first, wayBy(at).second};
    }
    return found;
}

/// A land narrower than the pilot between two channels that are deeper than the seat: in the plane through
/// the hole's middle the floor is cut away, and beside it, round the band, it is left.
design::Design floorBesideThePlane(double land, double bore) {
    design::Design design = plainRing();
    constexpr double kWidth = 3;
    for (const double side : {-1.0, 1.0}) {
        design.channels.push_back(channel(side * (land + kWidth) / 2, kWidth, 1.8));
        design.channels.back().floorRadius = 0;
    }
    if (bore > 0) design.band.bore = {design::BoreShape::Comfort, bore, 0, 0};
    design.settings = {bareHole(0, 2, 3, 1)};
    return design;
}

TEST(WallsInSpace, UnderAFloorThatIsLeftBesideThePlaneAreFound) {
    for (const auto& [land, bore] : {std::pair{1.2, 0.0}, {0.6, 0.3}}) {
        const Metal metal(floorBesideThePlane(land, bore));
        const Hole& hole = metal.first(0);
        const Report report = checked(floorBesideThePlane(land, bore));
        const Measure* m = measureOf(report, "seat-floor");
        ASSERT_NE(m, nullptr);
        const Found found = nearestPast(
            metal,
            [&](const Shares& at) {
                const double turn = std::numbers::pi * (at[0] - 0.5);
                const Vec3 from = hole.at(11.4, 1 + 0.5 * at[1], turn);
                const double z = from.z + 0.4 * (at[2] - 0.5);
                const double r = geometry::boreAt(metal.plain, z).value();
                const double angle = std::atan2(from.y, from.x) + 0.1 * (at[3] - 0.5);
                return std::pair{from, Vec3{r * std::cos(angle), r * std::sin(angle), z}};
            },
            1);
        EXPECT_GE(found.value, m->value - kNoNearer);
        EXPECT_LE(found.value, m->value + 20 * kNoNearer);
        EXPECT_LT(hole.toWall(m->from), kOn);
        EXPECT_LT(metal.toOutline(m->to), kOn);
        EXPECT_TRUE(metal.runsInMetal(m->from, m->to, 1000, kOn));
    }
}

TEST(WallsInSpace, LeadRoundTheCornerOfAChannel) {
    // Between seat and edge stands a channel a little deeper than the seat: the way passes its nearer corner.
    design::Design design = plainRing();
    design.settings = {bareHole(0, 1, 2, 1)};
    for (const double side : {-1.0, 1.0}) {
        design.channels.push_back(channel(2.5 * side, 1, 1.1));
        design.channels.back().floorRadius = 0;
    }
    const Metal metal(design);
    const Hole& hole = metal.first(0);
    const Report report = checked(design);
    const Measure* m = measureOf(report, "hole-to-edge");
    ASSERT_NE(m, nullptr);
    EXPECT_NEAR(m->value, std::hypot(3, 0.3), 1e-6);  // down by 0.1 mm in each mm from 1 to 4 mm
    const Found found = nearestPast(
        metal,
        [&](const Shares& at) {
            const Vec3 from = hole.at(11.4 + at[0], 1, std::numbers::pi * at[1]);
            const double r = 10 + 2.4 * at[2], angle = 0.3 * (at[3] - 0.5) + hole.angle;
            return std::pair{from, Vec3{r * std::cos(angle), r * std::sin(angle), 4}};
        },
        1);
    EXPECT_GE(found.value, m->value - kNoNearer);
    EXPECT_LE(found.value, m->value + 20 * kNoNearer);
}

/// Witnesses: on a wall of a hole or on the outline, and metal between them.
TEST(WallsInSpace, RunThroughMetalFromSurfaceToSurface) {
    forEachDrilled(100, [&](const design::Design& design, std::uint64_t) {
        const Metal metal(design);
        for (const Measure& m : checked(design).measures) {
            if (m.stage != design::Stage::Finished || m.value < kOn) continue;
            bool ours = false;
            for (const char* id :
                 {"hole-to-hole", "mouth-to-mouth", "hole-to-edge", "seat-to-channel", "seat-floor",
                  "floor-wall", "rim-left", "rim-right", "land", "thinnest-wall", "liner-wall"})
                ours = ours || starts(m, id);
            if (!ours) continue;
            for (const auto& [place, tag] : {std::pair{m.from, m.fromTag}, {m.to, m.toTag}}) {
                double off = std::numeric_limits<double>::infinity();
                if (geometry::isHoleWall(tag.feature)) {
                    for (const Hole& hole : metal.holes)
                        off = std::min(off, hole.toWall(place));
                } else {
                    off = metal.toOutline(place);
                }
                EXPECT_LT(off, kOn) << m.label << text(m.from) << text(m.to);
            }
            EXPECT_NEAR(geometry::distance(m.from, m.to), m.value, kOn) << m.label;
            // What is measured of the turned band leaves holes aside.
            Metal seen = metal;
            if (!geometry::isHoleWall(m.fromTag.feature)) seen.holes.clear();
            EXPECT_TRUE(seen.runsInMetal(m.from, m.to, 500, kOn))
                << m.label << " " << m.value << text(m.from) << text(m.to);
        }
    });
}

/// The grip of a tube, against the wall of its seat followed all round: where it leaves the outside.
TEST(WallsInSpace, OfATubesSeatAreShallowestWhereItLeavesTheOutsideLowest) {
    std::size_t looked = 0;
    forEachDrilled(200, [&](design::Design design, std::uint64_t) {
        design.channels.clear();
        design.band.liner.reset();
        for (design::Setting& s : design.settings) {
            if (s.hole.steps.empty()) s.hole.steps = {{s.hole.pilotDiameter + 0.4, 0.5}};
            s.hole.steps[0].bearing = 0;
            s.hole.bottom = design::HoleBottom::Through;
            s.hole.countersink = 0;
            s.tube = design::Tube{};
            s.tube->outerDiameter = s.hole.steps[0].diameter;
            s.tube->seatDiameter = 0.8 * s.tube->outerDiameter;
            s.tube->innerDiameter = 0.6 * s.tube->outerDiameter;
        }
        try {
            geometry::requireBuildable(design);
        } catch (const base::InputError&) {
            return;
        }
        const Metal metal(design);
        for (const Measure& m : checked(design).measures) {
            if (!starts(m, "tube-grip") || m.value < 0) continue;
            const design::Setting& s = design.settings[m.number];
            const double radius = s.hole.steps[0].diameter / 2;
            if (std::abs(s.placement.offset) + radius > design.band.width / 2) continue;
            const Hole hole{geometry::settingHole(design, m.number),
                            design::placedAngles(s.placement).front() * std::numbers::pi / 180};
            double base = 0;
            for (const geometry::HolePiece& piece : hole.profile.pieces)
                if (piece.isFlat()) base = piece.x0;
            double least = std::numeric_limits<double>::infinity();
            for (int i = 0; i < 2000; ++i) {
                // From beyond the ring inwards until there is metal.
                double high = 20, low = base;
                const double turn = 2 * std::numbers::pi * i / 2000;
                for (int k = 0; k < 50; ++k) {
                    const double middle = (low + high) / 2;
                    (metal.isTurned(hole.at(middle, radius, turn), 0) ? low : high) = middle;
                }
                least = std::min(least, low - base);
            }
            ++looked;
            EXPECT_LE(m.value, least + 1e-9);
            EXPECT_NEAR(m.value, least, 1e-4);
            EXPECT_LT(metal.toOutline(m.to), kOn);
            EXPECT_LT(hole.toWall(m.to), kOn);
            EXPECT_LT(hole.toWall(m.from), kOn);
        }
    });
    EXPECT_GT(looked, 20U);
}

}  // namespace
}  // namespace bandwright::check
