#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "compare_file.hpp"
#include "design/field_table.hpp"

namespace bandwright::app {

namespace {

using CompareJson = nlohmann::ordered_json;

constexpr int kMicrometre = 3;  // decimals of mm

/// "channel floor of channel 1", "bevel on the left".
std::string featureWords(const geometry::Tag& tag) {
    std::string text = geometry::name(tag.feature);
    if (const auto channel = geometry::channelOf(tag)) text += " of channel " + std::to_string(*channel + 1);
    if (const auto setting = geometry::settingOf(tag)) text += " of setting " + std::to_string(*setting + 1);
    if (tag.side != geometry::Side::None)
        text += tag.side == geometry::Side::Left ? " on the left" : " on the right";
    return text;
}

std::string signedMm(double value) {
    return (value > 0 ? "+" : "") + base::fixed(value, kMicrometre);
}

double degreesRound(const geometry::Vec3& p) {
    constexpr double kHalfTurn = 180;
    const double angle = std::atan2(p.y, p.x) * kHalfTurn / std::numbers::pi;
    return angle < 0 ? angle + 2 * kHalfTurn : angle;
}

std::string placeWords(const geometry::Vec3& p) {
    return "z " + base::fixed(p.z, 2) + ", r " + base::fixed(std::hypot(p.x, p.y), 2) + ", at " +
           base::fixed(degreesRound(p), 1) + " degrees";
}

std::string figureLine(const std::string& what, const std::string& value, const std::string& rest = "",
                       int width = 24) {
    constexpr int kValue = 9;
    return "  " + padded(what, width) + rightAligned(value, kValue) + (rest.empty() ? "" : "  " + rest) +
           "\n";
}

std::string fitWords(const CompareCall& call, const Compared& compared) {
    const compare::Fit& fit = compared.fit;
    std::string text = call.holdAxis ? "Fit, turned about the axis of the file and shifted along it\n"
                                     : "Fit, turned and shifted as it lies best\n";
    if (call.scale)
        text += figureLine("enlarged by", base::fixed(100 * (fit.factor - 1), 3) + " %",
                           "the body is that much smaller than the design");
    text += figureLine("typical distance, mm", base::fixed(fit.typical, kMicrometre),
                       "half of the surface is nearer to the design");
    text += figureLine("left out of the fit", base::fixed(100 * fit.leftOut, 1) + " %",
                       "of the surface, which is too far off to tell how the body lies");
    constexpr double kFarOff = 0.3;  // mm; no casting or scan of this ring is out so much nearly everywhere
    if (fit.typical > kFarOff) text += "  So much is far off that it may be no body of this ring.\n";
    if (fit.turnIsFree) {
        text += "  All faces are turned about the axis, so that it fits at any turn; degrees mean little.\n";
    } else if (fit.alike > 1) {
        text += "  It fits as well in " + std::to_string(fit.alike - 1) +
                (fit.alike == 2 ? " other way" : " other ways") + " round; one of them is taken.\n";
    }
    return text;
}

std::string figuresWords(const compare::Deviation& deviation) {
    const compare::DeviationFigures& whole = deviation.whole;
    const auto end = [](const char* what, const compare::DeviationAt& at, const std::string& proven) {
        return figureLine(what, signedMm(at.value),
                          featureWords(at.tag) + ": " + placeWords(at.at) + "; nowhere " + proven);
    };
    return "Deviation of the body's surface, mm (+ extra metal, - missing)\n" +
           end("least", whole.least, "less than " + signedMm(deviation.nowhereBelow)) +
           end("most", whole.most, "more than " + signedMm(deviation.nowhereAbove)) +
           figureLine("mean", signedMm(whole.mean)) +
           figureLine("mean without its sign", base::fixed(whole.meanSize, kMicrometre)) +
           figureLine("95 % of the area within", base::fixed(whole.size95, kMicrometre)) +
           figureLine("design farthest from it", base::fixed(deviation.barest.value, kMicrometre),
                      featureWords(deviation.barest.tag) + ": " + placeWords(deviation.barest.at) +
                          "; nowhere more than " + base::fixed(deviation.barestAtMost, kMicrometre));
}

std::string featuresWords(const CompareCall& call, const compare::Deviation& deviation) {
    std::string text;
    int width = 0;
    for (const compare::FeatureDeviation& feature : deviation.features)
        if (feature.extraArea + feature.missingArea > 0)
            width = std::max(width, columns(featureWords(feature.tag)));
    const auto amount = [width](const char* what, const compare::FeatureDeviation& feature, double area,
                                double volume, const compare::DeviationAt& at) {
        return figureLine(featureWords(feature.tag), signedMm(at.value),
                          std::string(what) + " over " + base::fixed(area, 2) + " mm2, " +
                              base::fixed(volume, 3) + " mm3; most at " + placeWords(at.at),
                          width);
    };
    for (const compare::FeatureDeviation& feature : deviation.features) {
        if (feature.extraArea > 0)
            text += amount("extra", feature, feature.extraArea, feature.extraVolume, feature.figures.most);
        if (feature.missingArea > 0)
            text +=
                amount("missing", feature, feature.missingArea, feature.missingVolume, feature.figures.least);
    }
    const std::string beyond = base::shortestNumber(call.beyond);
    if (text.empty()) return "No feature is out by more than " + beyond + " mm.\n";
    return "Features out by more than " + beyond + " mm\n" + text;
}

std::string wallsWords(const Compared& compared) {
    const auto finding = [&](const compare::JudgedWall& one) -> const check::Finding& {
        return compared.report.findings[one.finding];
    };
    const auto measure = [&](const compare::JudgedWall& one) -> const check::Measure& {
        return compared.report.measures[finding(one).measure];
    };
    const std::vector<compare::JudgedWall>& judged = compared.walls.judged;
    if (judged.empty()) return "No wall of the body is one that the design is held to.\n";
    int width = 0;
    for (const compare::JudgedWall& one : judged)
        width = std::max(width, columns(measure(one).label));
    std::string text = "Walls of the body, mm, held against the design's limits\n";
    for (const compare::JudgedWall& one : judged) {
        constexpr int kVerdict = 9;
        text += "  " + padded(check::name(one.verdict), kVerdict) +
                figureLine(measure(one).label, base::fixed(one.wall.thickness, kMicrometre),
                           "design " + base::fixed(measure(one).value, kMicrometre) + ", at least " +
                               base::shortestNumber(finding(one).limit) + "; " + placeWords(one.wall.from),
                           width);
    }
    return text;
}

CompareJson comparedAsJson(const compare::DeviationAt& at, const design::Design& design,
                           const std::vector<std::string>& parts) {
    return {{"value", at.value},
            {"at", {at.at.x, at.at.y, at.at.z}},
            {"feature", featureWords(at.tag)},
            {"field", geometry::fieldOf(design, at.tag)},
            {"part", parts[at.part]}};
}

CompareJson comparedAsJson(const compare::DeviationFigures& figures, const design::Design& design,
                           const std::vector<std::string>& parts) {
    return {{"area", figures.area},
            {"least", comparedAsJson(figures.least, design, parts)},
            {"most", comparedAsJson(figures.most, design, parts)},
            {"mean", figures.mean},
            {"mean-size", figures.meanSize},
            {"size-95", figures.size95}};
}

}  // namespace

std::string comparedText(const CompareCall& call, const design::Design& design, const Compared& compared) {
    std::string parts;
    for (const std::string& part : compared.parts)
        parts += (parts.empty() ? "" : ", ") + part;
    return design.title + "\n\n" + call.body + ": " + std::to_string(compared.body.triangles.size()) +
           " triangles, held against " + parts + "\n\n" + fitWords(call, compared) + "\n" +
           figuresWords(compared.deviation) + "\n" + featuresWords(call, compared.deviation) + "\n" +
           wallsWords(compared);
}

std::string comparedJson(const CompareCall& call, const design::Design& design, design::Stage stage,
                         const Compared& compared) {
    const compare::Fit& fit = compared.fit;
    const compare::Deviation& out = compared.deviation;
    CompareJson turn = CompareJson::array();
    for (const geometry::Vec3& row : fit.pose.turn)
        turn.push_back({row.x, row.y, row.z});
    CompareJson features = CompareJson::array();
    for (const compare::FeatureDeviation& feature : out.features) {
        CompareJson one = {{"feature", featureWords(feature.tag)},
                           {"field", geometry::fieldOf(design, feature.tag)},
                           {"part", compared.parts[feature.part]}};
        one.update(comparedAsJson(feature.figures, design, compared.parts));
        one["extra"] = {{"area", feature.extraArea}, {"volume", feature.extraVolume}};
        one["missing"] = {{"area", feature.missingArea}, {"volume", feature.missingVolume}};
        features.push_back(std::move(one));
    }
    const auto place = [](const geometry::Vec3& p) { return CompareJson{p.x, p.y, p.z}; };
    CompareJson walls = CompareJson::array();
    for (const compare::BodyWall& wall : compared.walls.all)
        walls.push_back({{"value", wall.thickness},
                         {"from", place(wall.from)},
                         {"to", place(wall.to)},
                         {"from-feature", featureWords(wall.fromTag)},
                         {"to-feature", featureWords(wall.toTag)}});
    CompareJson judged = CompareJson::array();
    for (const compare::JudgedWall& one : compared.walls.judged) {
        const check::Finding& finding = compared.report.findings[one.finding];
        const check::Measure& measure = compared.report.measures[finding.measure];
        judged.push_back({{"rule", finding.rule},
                          {"measure", measure.id},
                          {"label", measure.label},
                          {"verdict", check::name(one.verdict)},
                          {"value", one.wall.thickness},
                          {"design", measure.value},
                          {"limit", finding.limit},
                          {"comfortable", finding.comfortable},
                          {"from", place(one.wall.from)},
                          {"to", place(one.wall.to)}});
    }
    CompareJson deviation = comparedAsJson(out.whole, design, compared.parts);
    deviation["nowhere-below"] = out.nowhereBelow;
    deviation["nowhere-above"] = out.nowhereAbove;
    const CompareJson json = {{"design", design.title},
                              {"body", call.body},
                              {"unit", call.unit},
                              {"stage", design::name(stage)},
                              {"parts", compared.parts},
                              {"triangles", compared.body.triangles.size()},
                              {"fit",
                               {{"turn", turn},
                                {"shift", {fit.pose.shift.x, fit.pose.shift.y, fit.pose.shift.z}},
                                {"scale", fit.pose.scale},
                                {"factor", fit.factor},
                                {"axis-held", call.holdAxis},
                                {"turn-is-free", fit.turnIsFree},
                                {"alike", fit.alike},
                                {"typical", fit.typical},
                                {"left-out", fit.leftOut}}},
                              {"deviation", std::move(deviation)},
                              {"design-surface",
                               {{"farthest", comparedAsJson(out.barest, design, compared.parts)},
                                {"at-most", out.barestAtMost},
                                {"area-beyond", out.bareArea}}},
                              {"beyond", call.beyond},
                              {"features", std::move(features)},
                              {"judged", std::move(judged)},
                              {"walls", std::move(walls)}};
    return json.dump(2) + "\n";
}

}  // namespace bandwright::app
