#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "app/card_rows.hpp"
#include "app/channel_place.hpp"
#include "app/session.hpp"
#include "check/addition.hpp"
#include "design/field_table.hpp"

namespace bandwright::app {

/// How a row of the card differs from what the table says.
struct Look {
    std::string label{};
    std::span<const Pictogram> pictograms{};
    std::vector<std::string_view> only{};  ///< ids of words; empty = all
    double* number = nullptr;              ///< shown and changed instead of the field's own
};

/// The column of everything a maker decides, in the order of deciding: finger, band, bore, edges, channels
/// with their fill, settings with their tube and stone, finish, allowances, route. Each row is a row of the
/// table of fields; the card gives their order, and rows that it does not place come at the end of their
/// group or of the card. Draws into the current ImGui window and changes the session.
class JobCard {
  public:
    void draw(Session& session, const Theme& theme);

    /// Puts the keyboard into the row of this key.
    void focus(const std::string& key) { rows_.focus(key); }
    void forgetRefusals() { rows_.forgetRefusals(); }
    const CardRows& rows() const { return rows_; }
    /// Keys of the groups that are folded to a line.
    std::set<std::string>& folded() { return rows_.folded(); }
    void foldAll() { rows_.foldAll(); }
    /// The key of the last button that added something, if no size of it was go in this ring; else empty.
    const std::string& addedInVain() const { return toldAt_; }

  private:
    /// Draws the row of one field, if it means anything now. Returns whether its value changed.
    bool row(design::Design& draft, const std::string& path, const Look& look = {});
    bool valueRow(design::Design& draft, const design::Field& field, const Look& look);
    /// The same for those fields of an object that are neither drawn nor left out yet, in the file's order.
    void rest(design::Design& draft, const std::string& within);
    /// Leaves out a field, or the fields of an object, for this ring.
    void leaveOut(const std::string& what);
    /// Draws the fields that no part of the card has drawn or left out.
    void more(design::Design& draft);
    bool choose(const design::Field& field, const std::string& label, design::WordChoice& choice,
                const Look& look);

    /// Adds what the program chooses itself; `told` says under the button of this key where none was go.
    using Addition = std::function<check::Added(const design::Design&, const trade::Catalogue&)>;
    void add(const design::Design& draft, const std::string& key, const Addition& addition);
    void told(const std::string& key);

    void readOptions(const trade::Catalogue& catalogue);
    std::span<const Option> options(design::MaterialField kind) const;
    void finger(design::Design& draft);
    void inUsSizes(double& correction);
    void band(design::Design& draft, const trade::Catalogue& catalogue, const design::Design& made);
    void bore(design::Design& draft);
    void edges(design::Design& draft);
    void edge(design::Design& draft, const std::string& key, const std::string& name);
    void finish(design::Design& draft, const trade::Catalogue& catalogue);
    void channels(design::Design& draft);
    void channel(design::Design& draft, std::size_t at);
    void channelPlace(design::Design& draft, std::size_t at);
    /// Keeps the channels that are given from an edge at their distance.
    void keepPlaces(const design::Design& before, design::Design& draft) const;
    void settings(design::Design& draft);
    void setting(design::Design& draft, std::size_t at);
    void stone(design::Design& draft, const std::string& key, design::Stone& stone);
    void tube(design::Design& draft, const std::string& key, design::Setting& setting);
    void hole(design::Design& draft, const std::string& key, std::size_t setting);
    void placement(design::Design& draft, const std::string& key, design::Placement& placement);
    void allowances(design::Design& draft);
    void route(design::Design& draft, const trade::Catalogue& catalogue);
    void readings(design::Design& draft);
    void ticks(design::Design& draft);

    CardRows rows_;
    const trade::Catalogue* catalogue_ = nullptr;  ///< of the session, in this frame
    std::optional<design::Design> added_;          ///< in this frame
    std::string toldAt_;                 ///< the key of the button whose addition is not go; or empty
    std::vector<design::Field> fields_;  ///< of the design, in this frame
    std::vector<bool> drawn_;            ///< which of them are drawn or left out
    std::vector<Datum> datums_;          ///< of each channel, as chosen while this window is open
    bool edgesAlike_ = true;             ///< both edges are shown as one and changed together
    std::vector<Option> metals_, gems_, fillers_, adhesives_;  ///< of the catalogue, read on the first draw
};

}  // namespace bandwright::app
