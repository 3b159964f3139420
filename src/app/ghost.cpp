#include "app/ghost.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/input_error.hpp"
#include "design/measured.hpp"
#include "geometry/measured.hpp"

namespace bandwright::app {

namespace {

geometry::Section bandAndLiner(geometry::Section band, const geometry::Section& liner) {
    band.insert(band.end(), liner.begin(), liner.end());
    return band;
}

std::optional<Ghost> madeAt(const design::Design& plan, design::Stage stage) {
    try {
        const design::Design made = geometry::asMeasured(plan);
        geometry::requireBuildable(made);
        return ghostOf(made, stage);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
}

}  // namespace

const geometry::Section& Ghost::over(int shown) const {
    const auto place = static_cast<std::size_t>(std::max(shown, 0));
    return outlines[place < outlines.size() ? place : 0];
}

Ghost ghostOf(const design::Design& made, design::Stage stage) {
    Ghost ghost;
    const geometry::RingSections plain = geometry::sections(made, stage);
    ghost.outlines.push_back(bandAndLiner(plain.band, plain.liner));
    for (std::size_t i = 0; i < made.settings.size(); ++i) {
        const geometry::SettingSection through = geometry::sectionThrough(made, i, stage);
        ghost.outlines.push_back(bandAndLiner(through.band, through.liner));
    }
    return ghost;
}

std::vector<geometry::Vec2> movedCorners(const geometry::Section& before, const geometry::Section& after) {
    constexpr double kSame = 1e-4;  // mm; less is not seen
    const auto isIn = [](const geometry::Section& section, geometry::Vec2 place) {
        for (const geometry::Loop& loop : section)
            for (const geometry::Segment& s : loop)
                if (std::hypot(s.from.z - place.z, s.from.r - place.r) < kSame) return true;
        return false;
    };
    std::vector<geometry::Vec2> moved;
    for (const geometry::Loop& loop : after)
        for (const geometry::Segment& s : loop)
            if (!isIn(before, s.from)) moved.push_back(s.from);
    return moved;
}

void Preview::follow(const Session& session, const std::optional<check::Remedy>& remedy) {
    const bool isSame = std::exchange(revision_, session.revision()) == session.revision();
    if (!isSame) {
        finished_.reset();
        if (session.stage() != design::Stage::Finished)
            finished_ = madeAt(session.design(), design::Stage::Finished);
    }
    const std::string text = remedy ? remedy->text : "";
    if (std::exchange(text_, text) == text && isSame) return;
    remedied_.reset();
    moved_.clear();
    if (!remedy) return;
    try {
        remedied_ = madeAt(check::carriedOut(session.design(), *remedy), session.stage());
        const geometry::RingSections& plain = session.derived().plain;
        if (remedied_) moved_ = movedCorners(bandAndLiner(plain.band, plain.liner), remedied_->over(0));
    } catch (const base::InputError&) {
        // A remedy that cannot be carried out has no picture; its button says why.
    }
}

}  // namespace bandwright::app
