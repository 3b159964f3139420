#include "places.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "check/tolerance_stack.hpp"
#include "drawer.hpp"
#include "trade/ring_size.hpp"
#include "trade/tolerance.hpp"

namespace bandwright::route {

namespace {

Reading readingOf(std::string what, Instrument instrument, Span span, double value, double plusMinus) {
    Reading reading;
    reading.what = std::move(what);
    reading.instrument = instrument;
    reading.span = span;
    reading.value = value;
    reading.least = value - plusMinus;
    reading.most = value + plusMinus;
    return reading;
}

void setPlaces(Reading& reading, const Place& from, const Place& to) {
    reading.fromTag = from.tag;
    reading.toTag = to.tag;
    reading.from = from.at;
    reading.to = to.at;
}

geometry::Vec2 middleOf(const geometry::Segment& segment) {
    return geometry::pointAt(segment, 0.5);
}

const geometry::Segment* longest(const std::vector<geometry::Segment>& segments) {
    const geometry::Segment* best = nullptr;
    for (const geometry::Segment& s : segments)
        if (best == nullptr || geometry::arcLength(s) > geometry::arcLength(*best)) best = &s;
    return best;
}

}  // namespace

Reading diameterReading(std::string what, Instrument instrument, const Place& at, double plusMinus) {
    Reading reading = readingOf(std::move(what), instrument, Span::Diameter, 2 * at.at.r, plusMinus);
    setPlaces(reading, at, at);
    return reading;
}

Reading alongReading(std::string what, Instrument instrument, const Place& from, const Place& to,
                     double plusMinus) {
    Reading reading =
        readingOf(std::move(what), instrument, Span::Along, std::abs(to.at.z - from.at.z), plusMinus);
    setPlaces(reading, from, to);
    return reading;
}

Reading radialReading(std::string what, Instrument instrument, const Place& from, const Place& to,
                      double plusMinus) {
    Reading reading =
        readingOf(std::move(what), instrument, Span::Radial, std::abs(to.at.r - from.at.r), plusMinus);
    setPlaces(reading, from, to);
    return reading;
}

std::optional<double> radiusAt(const geometry::Segment& segment, double z) {
    const auto [low, high] = std::minmax(segment.from.z, segment.to.z);
    if (z < low || z > high || low == high) return std::nullopt;
    if (!segment.isArc()) {
        const double share = (z - segment.from.z) / (segment.to.z - segment.from.z);
        return segment.from.r + share * (segment.to.r - segment.from.r);
    }
    const double across = z - segment.centre.z;
    const double up = std::sqrt(std::max(0.0, segment.radius * segment.radius - across * across));
    const bool above = middleOf(segment).r > segment.centre.r;
    return segment.centre.r + (above ? up : -up);
}

std::optional<Place> outsidePlace(const geometry::Section& band, double z) {
    const auto outside = geometry::segmentsWhere(
        band, [](geometry::Tag tag) { return tag.feature == geometry::Feature::Outside; });
    for (const geometry::Segment& s : outside)
        if (const auto r = radiusAt(s, z)) return Place{s.tag, {z, *r}};
    return std::nullopt;
}

std::optional<Place> borePlace(const geometry::RingSections& plain) {
    const geometry::Section& inner = plain.liner.empty() ? plain.band : plain.liner;
    std::optional<Place> best;
    const auto offer = [&](const geometry::Segment& s, geometry::Vec2 at) {
        if (!best || at.r < best->at.r) best = Place{s.tag, at};
    };
    for (const geometry::Segment& s : geometry::segmentsWhere(inner, [](geometry::Tag tag) {
             return geometry::regionOf(tag.feature) == geometry::Region::Bore;
         })) {
        if (const auto middle = radiusAt(s, 0)) offer(s, {0, *middle});
        offer(s, s.from);
        offer(s, s.to);
    }
    return best;
}

std::optional<Place> edgeFace(const geometry::Section& band, geometry::Side side) {
    const auto faces = geometry::segmentsWhere(
        band, [&](geometry::Tag tag) { return tag == geometry::Tag(geometry::Feature::EdgeFace, side); });
    const geometry::Segment* face = longest(faces);
    if (face == nullptr) return std::nullopt;
    return Place{face->tag, middleOf(*face)};
}

double toleranceOf(const Job& job, std::string_view field) {
    for (const check::Tolerance& tolerance : check::tolerances(job.design, job.catalogue))
        if (tolerance.field == field) return tolerance.plusMinus;
    return 0;
}

double passingTolerance(const Job& job, double length, double left) {
    const double standard = trade::lengthTolerance(job.catalogue.toleranceClass, length);
    return left > 0 ? std::clamp(left / 2, trade::fitTolerance(length), standard) : standard;
}

std::string sizeOf(const design::Design& design, double diameter) {
    const trade::SizeSystem system = design.finger.size.system;
    if (system == trade::SizeSystem::Diameter) return {};
    return trade::formatRingSize(trade::convert({trade::SizeSystem::Diameter, diameter}, system));
}

bool isOffTheBar(const Job& job) {
    return job.stage != design::Stage::Parted &&
           design::isBefore(job.design.route, design::Stage::Parted, job.stage);
}

std::string mandrelFor(const Job& job, Operation& operation) {
    const double hole = 2 * job.before.bore;
    const std::string bore = "the bore of " + inMm(hole);
    if (job.workshop.mandrels.empty()) {
        operation.missing.push_back("mandrels: their diameters");
        return "On an expanding mandrel in " + bore;
    }
    if (const auto mandrel = largestUpTo(job.workshop.mandrels, hole))
        return "On the mandrel of " + inMm(*mandrel) + ", opened or packed to " + bore;
    operation.missing.push_back("a mandrel of at most " + inMm(hole));
    return "On a mandrel turned to fit " + bore + ", for none in the drawer is so thin";
}

std::string heldForOutside(const Job& job, Operation& operation) {
    if (!isOffTheBar(job)) return "In the chuck, on its bar, so that it runs as it was bored.";
    return mandrelFor(job, operation) +
           ", tightened until it no longer slips and no more; the right-hand side towards the tailstock.";
}

std::string inMm(double value, int decimals) {
    return base::shortestNumber(base::roundedTo(value, decimals)) + " mm";
}

std::string inDegrees(double value) {
    return base::shortestNumber(base::roundedTo(value, 1));
}

std::vector<std::string> metalCautions(const Job& job, std::string_view metal) {
    std::vector<std::string> cautions;
    if (const trade::Metal* found = job.catalogue.metal(metal))
        for (const trade::Caution& caution : found->cautions)
            cautions.push_back(caution.text);
    return cautions;
}

}  // namespace bandwright::route
