#include "app/job_card.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "card_summaries.hpp"
#include "check/addition.hpp"
#include "check/check.hpp"
#include "design/design_file.hpp"
#include "design/locks.hpp"
#include "design/measured.hpp"
#include "pictograms.hpp"

namespace bandwright::app {

namespace {

std::string mm(double value) {
    return base::fixed(value, 2) + " mm";
}

std::string placed(const char* list, std::size_t at) {
    return std::string(list) + "[" + std::to_string(at) + "]";
}

}  // namespace

void JobCard::readOptions(const trade::Catalogue& catalogue) {
    if (!metals_.empty()) return;
    for (const trade::Metal& metal : catalogue.metals)
        metals_.push_back({metal.id, metal.name,
                           formatNumber(metal.density.value, {.decimals = 2}) + " g/cm\u00B3",
                           swatchOf(metal)});
    for (const trade::Gem& gem : catalogue.gems)
        gems_.push_back({gem.id, gem.name, {}, swatchOf(gem)});
    for (const trade::Filler& filler : catalogue.fillers)
        fillers_.push_back({filler.id, filler.name, {}, swatchOf(filler)});
    for (const trade::Adhesive& adhesive : catalogue.adhesives)
        adhesives_.push_back({adhesive.id, adhesive.name, {}});
}

std::span<const Option> JobCard::options(design::MaterialField kind) const {
    switch (kind) {
        case design::MaterialField::Metal:
            return metals_;
        case design::MaterialField::Gem:
            return gems_;
        case design::MaterialField::Filler:
            return fillers_;
        case design::MaterialField::Adhesive:
            return adhesives_;
    }
    return {};
}

bool JobCard::choose(const design::Field& field, const std::string& label, design::WordChoice& choice,
                     const Look& look) {
    std::vector<Option> offered;
    for (const auto& [id, name] : choice.options)
        if (look.only.empty() || std::ranges::find(look.only, id) != look.only.end())
            offered.push_back({std::string(id), std::string(name), {}});
    std::string id(choice.options[choice.chosen].id);
    const bool changed = field.control == design::Control::SideBySide
                             ? rows_.segments(field.path, label, id, offered, look.pictograms)
                             : rows_.choice(field.path, label, id, offered);
    if (changed) {
        const auto chosen = std::ranges::find(choice.options, id, &design::WordChoice::Option::id);
        choice.choose(static_cast<std::size_t>(chosen - choice.options.begin()));
    }
    return changed;
}

bool JobCard::row(design::Design& draft, const std::string& path, const Look& look) {
    const auto found = std::ranges::find(fields_, path, &design::Field::path);
    if (found == fields_.end()) return false;  // a field added in this frame is drawn in the next
    drawn_[static_cast<std::size_t>(found - fields_.begin())] = true;
    const design::Field& field = *found;
    if (!field.counts) return false;
    rows_.lockable(path, design::isLocked(draft, path));
    const bool isChanged = valueRow(draft, field, look);
    if (rows_.lockTurned()) {
        design::setLocked(draft, path, !design::isLocked(draft, path));
        if (edgesAlike_ && path.starts_with("band.left"))
            design::setLocked(draft, "band.right" + path.substr(std::string_view("band.left").size()),
                              design::isLocked(draft, path));
    }
    return isChanged;
}

bool JobCard::valueRow(design::Design& draft, const design::Field& field, const Look& look) {
    const std::string& path = field.path;
    const std::string& label = look.label.empty() ? field.label : look.label;
    design::FieldValue held = design::valueAt(draft, path);
    if (auto* number = std::get_if<double*>(&held))
        return rows_.number(path, label, look.number != nullptr ? *look.number : **number, field.number);
    if (auto* count = std::get_if<int*>(&held)) return rows_.count(path, label, **count);
    if (auto* size = std::get_if<trade::RingSize*>(&held)) return rows_.ringSize(path, label, **size);
    if (auto* choice = std::get_if<design::WordChoice>(&held)) return choose(field, label, *choice, look);
    if (auto* text = std::get_if<std::string*>(&held))
        return field.control == design::Control::MaterialList
                   ? rows_.choice(path, label, **text, options(field.material))
                   : rows_.text(path, label, **text);
    auto* part = std::get_if<design::PartSwitch>(&held);
    if (part == nullptr || !rows_.toggle(path, label, part->isThere)) return false;
    part->put(part->isThere);
    return true;
}

void JobCard::rest(design::Design& draft, const std::string& within) {
    for (std::size_t i = 0; i < fields_.size(); ++i)
        if (fields_[i].within == within && !drawn_[i]) row(draft, fields_[i].path);
}

void JobCard::leaveOut(const std::string& what) {
    for (std::size_t i = 0; i < fields_.size(); ++i)
        if (fields_[i].path == what || fields_[i].within == what) drawn_[i] = true;
}

void JobCard::add(const design::Design& draft, const std::string& key, const Addition& addition) {
    try {
        // What is added is judged in the ring as it is by now.
        check::Added added = addition(draft, *catalogue_);
        added_ = std::move(added.design);
        toldAt_ = added.isGo ? "" : key;
    } catch (const base::InputError& error) {
        rows_.refuse(error.what());
    }
}

void JobCard::told(const std::string& key) {
    if (toldAt_ == key)
        rows_.note("No size of it is go in this ring as it is; the gauges say what is in the way.");
}

void JobCard::more(design::Design& draft) {
    if (!rows_.changed().empty()) return;  // the fields describe the design before the change
    const auto isLeft = [&](std::size_t i) { return !drawn_[i] && fields_[i].counts; };
    bool isHeaded = false;
    for (std::size_t i = 0; i < fields_.size(); ++i) {
        if (!isLeft(i)) continue;
        if (!std::exchange(isHeaded, true)) rows_.heading("More");
        row(draft, fields_[i].path);
    }
}

void JobCard::draw(Session& session, const Theme& theme) {
    const trade::Catalogue& catalogue = session.catalogue();
    readOptions(catalogue);
    catalogue_ = &catalogue;
    rows_.begin(theme, ImGui::GetContentRegionAvail().x);
    design::Design draft = session.design();
    fields_ = design::fieldsIn(draft);
    drawn_.assign(fields_.size(), false);
    row(draft, "title");
    row(draft, "note");
    finger(draft);
    band(draft, catalogue, session.derived().made);
    bore(draft);
    edges(draft);
    channels(draft);
    settings(draft);
    finish(draft, catalogue);
    allowances(draft);
    route(draft, catalogue);
    readings(draft);
    ticks(draft);
    more(draft);
    // Only now: while rows are drawn they hold on to parts of the draft.
    if (added_) draft = *std::exchange(added_, std::nullopt);
    ImGui::Dummy({0, theme.px(16)});
    if (draft != session.design()) {
        design::dropLostLocks(draft);
        if (!rows_.changed().empty() && rows_.changed() != toldAt_) toldAt_.clear();
        keepPlaces(session.design(), draft);
        draft = check::following(session.design(), std::move(draft), catalogue);
        if (const auto sentence = session.change(std::move(draft), rows_.drag())) rows_.refuse(*sentence);
    }
    if (rows_.dragEnded()) session.endDrag();
    if (rows_.changed().empty()) session.settle();
}

void JobCard::finger(design::Design& draft) {
    rows_.foldingHeading("finger", "Finger", [&] { return fingerInLine(draft); });
    row(draft, "finger.size");
    rows_.sizeSystems("finger.size", draft.finger.size);
    row(draft, "finger.width-correction");
    inUsSizes(draft.finger.widthCorrection);
    for (const trade::WidthCorrection& offered : trade::offeredWidthCorrections(
             {draft.band.width, draft.band.bore.shape == design::BoreShape::Comfort})) {
        rows_.note(offered.text);
    }
    rest(draft, "finger");
}

/// Buttons for what is commonly given for a wide band or taken for a comfort bore.
void JobCard::inUsSizes(double& correction) {
    static const std::array<Option, 5> kShares{{{"-0.5", "\u2212\u00BD", {}},
                                                {"-0.25", "\u2212\u00BC", {}},
                                                {"0", "0", {}},
                                                {"0.25", "+\u00BC", {}},
                                                {"0.5", "+\u00BD", {}}}};
    const auto inMm = [](const Option& share) { return std::stod(share.id) * trade::kMmPerUsSize; };
    const auto chosen = std::ranges::find_if(kShares, [&](const Option& share) {
        return std::abs(inMm(share) - correction) < 0.005;  // as it is shown
    });
    std::string id = chosen == kShares.end() ? "" : chosen->id;
    if (rows_.segments("finger.in-us-sizes", "In US sizes", id, kShares))
        correction = std::round(std::stod(id) * trade::kMmPerUsSize * 1e4) / 1e4;
}

void JobCard::band(design::Design& draft, const trade::Catalogue& catalogue, const design::Design& made) {
    rows_.foldingHeading("band", "Band", [&] { return bandInLine(draft, catalogue); });
    if (row(draft, "band.metal")) {
        const trade::Metal* chosen = catalogue.metal(draft.band.metal);
        design::Treatment& treatment = draft.band.surface.treatment;
        if (chosen == nullptr || !design::takes(*chosen, treatment)) treatment = design::Treatment::None;
    }
    const trade::Metal* metal = catalogue.metal(draft.band.metal);
    if (metal != nullptr && metal->substance == trade::Substance::Wood) {
        row(draft, "band.grain");
    } else {
        leaveOut("band.grain");
    }
    row(draft, "band.width");
    row(draft, "band.thickness");
    rows_.note("Outside \u00D8 " + mm(2 * design::outsideRadius(draft)) + ", bore \u00D8 " +
               mm(2 * design::boreRadius(draft)));
    if (design::doneSoFar(draft))
        rows_.note("As measured so far: outside \u00D8 " + mm(2 * design::outsideRadius(made)) +
                   ", bore \u00D8 " + mm(2 * design::boreRadius(made)) + ", " + mm(made.band.thickness) +
                   " thick. The ring is shown and " + "judged so.");
    row(draft, "band.outside.shape", {.pictograms = outsidePictograms()});
    rest(draft, "band.outside");
}

void JobCard::bore(design::Design& draft) {
    row(draft, "band.bore.shape", {.pictograms = borePictograms()});
    rest(draft, "band.bore");
    rest(draft, "band");
    rest(draft, "band.liner");
    if (draft.band.liner) rows_.note("At mid-width, part of the band's thickness.");
}

void JobCard::edges(design::Design& draft) {
    design::Band& band = draft.band;
    rows_.foldingHeading("edges", "Edges", [&] { return edgesInLine(draft); });
    if (band.left != band.right) edgesAlike_ = false;
    if (rows_.toggle("edges-alike", "Both alike", edgesAlike_) && edgesAlike_) band.right = band.left;
    if (edgesAlike_) {
        edge(draft, "band.left", "Edges");
        band.right = band.left;
        leaveOut("band.right");
    } else {
        edge(draft, "band.left", "Left edge");
        edge(draft, "band.right", "Right edge");
    }
}

void JobCard::edge(design::Design& draft, const std::string& key, const std::string& name) {
    rows_.group(name);
    row(draft, key + ".shape", {.label = name, .pictograms = edgePictograms()});
    rest(draft, key);
}

void JobCard::finish(design::Design& draft, const trade::Catalogue& catalogue) {
    rows_.foldingHeading("band.finish", "Finish", [&] { return finishInLine(draft); });
    for (const char* surface : {"band.finish.outside", "band.finish.edges", "band.finish.bore"})
        row(draft, surface);
    const trade::Metal* metal = catalogue.metal(draft.band.metal);
    Look offered;
    for (const design::Word<design::Treatment>& word : design::kTreatments)
        if (metal != nullptr && design::takes(*metal, word.value)) offered.only.push_back(word.id);
    if (offered.only.size() < 2) {
        leaveOut("band.finish.treatment");
    } else {
        row(draft, "band.finish.treatment", offered);
    }
    rest(draft, "band.finish");
    if (metal == nullptr || !trade::isPatternWelded(*metal)) leaveOut("band.layers");
    rest(draft, "band.layers");
}

void JobCard::channels(design::Design& draft) {
    for (std::size_t i = 0; i < draft.channels.size(); ++i)
        channel(draft, i);
    rows_.endGroup();
    if (draft.channels.empty()) rows_.heading("Channel");
    if (rows_.button("add-channel", "Cut a channel"))
        add(draft, "add-channel", [](const design::Design& ring, const trade::Catalogue& catalogue) {
            return check::withChannel(ring, catalogue);
        });
    told("add-channel");
}

void JobCard::channel(design::Design& draft, std::size_t at) {
    const std::string key = placed("channels", at);
    const std::string name = draft.channels.size() == 1 ? "Channel" : "Channel " + std::to_string(at + 1);
    if (rows_.removableHeading(key, name, "this channel",
                               [&] { return channelInLine(draft.channels[at], *catalogue_); })) {
        draft.channels.erase(draft.channels.begin() + static_cast<std::ptrdiff_t>(at));
        design::dropLocksOf(draft, "channels", at);
        if (at < datums_.size()) datums_.erase(datums_.begin() + static_cast<std::ptrdiff_t>(at));
        return;
    }
    row(draft, key + ".width");
    row(draft, key + ".depth");
    channelPlace(draft, at);
    rest(draft, key);
    rest(draft, key + ".fill");
}

void JobCard::channelPlace(design::Design& draft, std::size_t at) {
    static const std::array<Option, 3> kDatums{
        {{"middle", "Middle", {}}, {"left", "Left", {}}, {"right", "Right", {}}}};
    const std::string key = placed("channels", at);
    if (datums_.size() <= at) datums_.resize(at + 1, Datum::Middle);
    Datum& datum = datums_[at];
    std::string id = kDatums.at(static_cast<std::size_t>(datum)).id;
    if (rows_.segments(key + "#from", "Placed from", id, kDatums))
        datum = static_cast<Datum>(std::ranges::find(kDatums, id, &Option::id) - std::ranges::begin(kDatums));
    if (datum == Datum::Middle) {
        row(draft, key + ".offset");
        return;
    }
    design::Channel& channel = draft.channels[at];
    double distance = distanceFrom(datum, channel, draft.band.width);
    distance = offsetAt(Datum::Middle, distance, 0, 0);  // rounded, for it is shown
    const Look look{.label = datum == Datum::LeftEdge ? "From left" : "From right", .number = &distance};
    if (row(draft, key + ".offset", look))
        channel.offset = offsetAt(datum, distance, channel.width, draft.band.width);
    rows_.note("From the band's face to the near side of the channel; kept when a width changes.");
}

void JobCard::keepPlaces(const design::Design& before, design::Design& draft) const {
    if (before.channels.size() != draft.channels.size()) return;
    for (std::size_t i = 0; i < std::min(datums_.size(), draft.channels.size()); ++i)
        if (!design::isLocked(draft, placed("channels", i) + ".offset"))
            draft.channels[i].offset = keptOffset(datums_[i], before, draft, i);
}

void JobCard::settings(design::Design& draft) {
    for (std::size_t i = 0; i < draft.settings.size(); ++i)
        setting(draft, i);
    rows_.endGroup();
    if (draft.settings.empty()) rows_.heading("Stone");
    if (rows_.button("add-setting", "Set a stone"))
        add(draft, "add-setting", [](const design::Design& ring, const trade::Catalogue& catalogue) {
            return check::withSetting(ring, catalogue);
        });
    told("add-setting");
}

void JobCard::setting(design::Design& draft, std::size_t at) {
    const std::string key = placed("settings", at);
    const std::string name = draft.settings.size() == 1 ? "Stone" : "Stone " + std::to_string(at + 1);
    if (rows_.removableHeading(key, name, "this setting: stone, tube and hole",
                               [&] { return stoneInLine(draft, at, *catalogue_); })) {
        draft.settings.erase(draft.settings.begin() + static_cast<std::ptrdiff_t>(at));
        design::dropLocksOf(draft, "settings", at);
        return;
    }
    design::Setting& setting = draft.settings[at];
    row(draft, key + ".stone");
    if (setting.stone) stone(draft, key + ".stone", *setting.stone);
    row(draft, key + ".tube");
    if (setting.tube) tube(draft, key + ".tube", setting);
    hole(draft, key + ".hole", at);
    if (setting.stone && !setting.tube && rows_.button(key + "#fit", "Cut the hole to the stone"))
        setting = check::fittedToStone(setting);
    placement(draft, key + ".placement", setting.placement);
    rest(draft, key);
}

void JobCard::stone(design::Design& draft, const std::string& key, design::Stone& stone) {
    row(draft, key + ".gem");
    if (row(draft, key + ".model")) stone.solid.reset();
    for (const char* first : {".cut", ".diameter", ".length", ".dome"})
        row(draft, key + first);
    rest(draft, key);
    if (!stone.model.empty()) rows_.note("0 = by the model's own proportions");
}

void JobCard::tube(design::Design& draft, const std::string& key, design::Setting& setting) {
    for (const char* first : {".metal", ".outer-diameter", ".seat-diameter"})
        row(draft, key + first);
    rest(draft, key);
    if (setting.stone && rows_.button(key + "#fit", "Fit tube and hole to the stone"))
        setting = check::fittedToStone(setting);
}

void JobCard::hole(design::Design& draft, const std::string& key, std::size_t setting) {
    design::Hole& hole = draft.settings[setting].hole;
    for (const char* first : {".pilot-diameter", ".bottom", ".pilot-depth"})
        row(draft, key + first);
    for (std::size_t i = 0; i < hole.steps.size(); ++i)
        rest(draft, placed((key + ".steps").c_str(), i));
    if (rows_.button(key + "#add-step", "Add a step")) {
        add(draft, key + "#add-step",
            [setting](const design::Design& ring, const trade::Catalogue& catalogue) {
                return check::withStep(ring, setting, catalogue);
            });
    }
    if (!hole.steps.empty() && rows_.buttonBeside(key + "#drop-step", "Drop the last")) hole.steps.pop_back();
    told(key + "#add-step");
    rest(draft, key);
}

void JobCard::placement(design::Design& draft, const std::string& key, design::Placement& placement) {
    row(draft, key + ".offset");
    const bool isListed = !placement.angles.empty();
    if (isListed) {
        rows_.note("Placed at " + std::to_string(placement.angles.size()) + " listed angles");
        if (rows_.button(key + "#evenly", "Place evenly")) {
            placement.count = static_cast<int>(placement.angles.size());
            placement.angles.clear();
        }
    }
    rest(draft, key);
    if (!isListed && placement.count > 1 && placement.spacing == 0)
        rows_.note("0\u00B0 = evenly round the whole band");
}

void JobCard::allowances(design::Design& draft) {
    rows_.foldingHeading("allowances", "Allowances", [&] { return allowancesInLine(draft); });
    row(draft, "allowances.sizing");
    rows_.note("On the bore radius, until the band is sized. Half a US size is 0.203 mm.");
    row(draft, "allowances.truing");
    rows_.note("On the outside radius, until it is trued.");
    if (std::ranges::none_of(draft.channels, [](const design::Channel& c) { return c.fill.has_value(); }))
        leaveOut("allowances.fill");
    rest(draft, "allowances");
    rows_.note("More on each edge face, and on both radii of the blank.");
}

void JobCard::route(design::Design& draft, const trade::Catalogue& catalogue) {
    rows_.foldingHeading("route", "Route", [&] { return routeInLine(draft, catalogue); });
    leaveOut("route");
    const std::vector<design::Stage> done = check::steps(draft, catalogue);
    const design::Route before = draft.route;
    for (std::size_t i = 0; i < done.size(); ++i) {
        const int moved =
            rows_.mover("route." + design::name(done[i]), static_cast<int>(i + 1),
                        std::string(design::word(done[i]).label), i > 1, i > 0 && i + 1 < done.size());
        try {
            if (moved < 0) draft.route = design::movedBefore(before, done[i], done[i - 1]);
            if (moved > 0) draft.route = design::movedBefore(before, done[i + 1], done[i]);
        } catch (const base::InputError& error) {
            rows_.refuse(error.what());
        }
    }
}

void JobCard::readings(design::Design& draft) {
    for (std::size_t i = 0; i < draft.measured.size(); ++i) {
        const std::string key = placed("measured", i);
        if (rows_.removableHeading(key, "Reading " + std::to_string(i + 1), "this reading",
                                   [&] { return readingInLine(draft, i); })) {
            draft.measured.erase(draft.measured.begin() + static_cast<std::ptrdiff_t>(i));
            design::dropLocksOf(draft, "measured", i);
            return;
        }
        rest(draft, key);
    }
    rows_.endGroup();
    if (draft.measured.empty()) rows_.heading("As measured");
    if (!rows_.button("add-reading", "Add a reading")) return;
    design::Measured next;
    if (!draft.measured.empty()) next = draft.measured.back();
    next.value = 0;
    draft.measured.push_back(next);
}

/// Ticks come from the bench; here they are seen and taken away.
void JobCard::ticks(design::Design& draft) {
    for (std::size_t i = 0; i < draft.done.size(); ++i) {
        const std::string key = placed("done", i);
        if (rows_.removableHeading(key, "Done " + std::to_string(i + 1), "this tick",
                                   [&] { return tickInLine(draft.done[i]); })) {
            draft.done.erase(draft.done.begin() + static_cast<std::ptrdiff_t>(i));
            design::dropLocksOf(draft, "done", i);
            return;
        }
        rest(draft, key);
    }
}

}  // namespace bandwright::app
