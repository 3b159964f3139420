#pragma once

#include <array>
#include <string>

#include "app/fields.hpp"
#include "app/session.hpp"

namespace bandwright {

/// The column of all that is decided, in the order a maker decides it: finger, band, bore, edges, channels
/// with their fill, settings with their tube and stone, finish, allowances, route. Draws into the current
/// ImGui window and changes the session.
class JobCard {
  public:
    void draw(Session& session, const Theme& theme);

    /// Puts the keyboard into the row of this key.
    void focus(const std::string& key) { fields_.focus(key); }
    void forgetRefusals() { fields_.forgetRefusals(); }
    const Fields& fields() const { return fields_; }

  private:
    void readOptions(const Catalogue& catalogue);
    void title(Design& draft);
    void finger(Design& draft);
    void band(Design& draft);
    void bore(Bore& bore);
    void liner(std::optional<Liner>& liner);
    void edges(Band& band);
    void edge(const std::string& key, const char* name, Edge& edge);
    void finish(Band& band);
    void treatment(Band& band);
    void layers(Layers& layers);
    void channels(Design& draft);
    void channel(Design& draft, std::size_t at);
    void fill(const std::string& key, Fill& fill);
    void settings(Design& draft);
    void setting(Design& draft, std::size_t at);
    void placement(const std::string& key, Placement& placement);
    void stone(const std::string& key, Setting& setting);
    void tube(const std::string& key, Setting& setting);
    void hole(const std::string& key, Hole& hole);
    void allowances(Design& draft);
    void route(Design& draft, const Catalogue& catalogue);

    Fields fields_;
    bool edgesAlike_ = true;  ///< both edges are shown as one and changed together
    std::vector<std::string> layeredMetals_;
    std::array<std::vector<std::string>, 3> treatments_;       ///< the metals that take each
    std::vector<Option> metals_, gems_, fillers_, adhesives_;  ///< of the catalogue, read on the first draw
};

}  // namespace bandwright
