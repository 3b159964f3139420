#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/planner.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"

namespace bandwright::app {

/// A reading as the design keeps it beside the plan, without its value; nothing for what a design has no
/// place for, or where the sheet reads from another surface: a seat's depth beside its hole, edges on a round
/// outside. `stage` is the step whose operation asks for it.
std::optional<design::Measured> measuredBy(const route::Reading& reading, design::Stage stage,
                                           const design::Design& design);

/// One operation over the whole window, to be read at arm's length and worked with dirty hands: large text,
/// large keys for the reading. Readings and ticks go into the design, through its undo.
class BenchCard {
  public:
    bool shown() const { return shown_; }
    /// Begins at the step shown, or with the first operation that is not done.
    void open() {
        shown_ = true;
        place_ = false;
    }

    /// What the person asked for that is not the card's own.
    enum class Asked : unsigned char { Nothing, Undo, Redo, Save };

    /// Draws over the whole window.
    Asked draw(Session& session, const Planner& planner, const Theme& theme);

    /// Where keys were drawn, by their names: {least x, least y, most x, most y}.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }
    /// Why the last reading was refused; empty if it was not.
    const std::string& refusal() const { return refusal_; }
    /// Of the operations in the order of the work, from 0.
    std::size_t position() const { return position_; }

  private:
    struct Item {
        const route::Operation* operation;
        bool isDone;
    };
    static std::vector<Item> itemsOf(const Session& session, const route::Plan& plan);
    void begin(const Session& session, const std::vector<Item>& items);
    void step(int by, std::size_t count);
    Asked keys(std::size_t count, bool& ticks, bool& keeps);
    Asked head(const Session& session, const std::string& words, float room);
    bool key(const std::string& name, const char* text, ImVec2 size, bool isStrong = false);
    void told(const Item& item, const Session& session, float width);
    void pad(const Item& item, const Session& session, float width, bool& keeps);
    void type(char c);
    void keep(Session& session, const Item& item);

    const Theme* theme_ = nullptr;
    bool shown_ = false;
    bool place_ = false;  ///< whether the position was chosen since it was opened
    std::size_t position_ = 0;
    std::size_t reading_ = 0;  ///< which of the operation's is being typed
    std::string typed_, refusal_;
    std::map<std::string, std::array<float, 4>> places_;
};

}  // namespace bandwright::app
