#pragma once

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/swatch.hpp"
#include "app/theme.hpp"
#include "design/fields.hpp"
#include "trade/ring_size.hpp"

/// The rows of the job card: numbers, texts, choices. A row is known by its key, the path of its value in a
/// design file ("band.width", "channels[0].depth").
namespace bandwright::app {

/// The number as a person reads it, without its unit, e.g. "8.00" or "0.2032": at least the field's decimals,
/// up to two more when the number has them.
std::string formatNumber(double value, const design::NumberField& field);

/// Reads what was typed, with arithmetic; lengths with their units too (parseLength). Throws InputError.
double parseNumber(std::string_view text, const design::NumberField& field);

/// One entry of a choice.
struct Option {
    std::string id;
    std::string name;
    std::string note;  ///< written after the name in a lighter colour
    std::optional<Swatch> swatch{};
};

/// Draws the small picture of a choice into a box of this place and size.
using Pictogram = std::function<void(ImDrawList&, ImVec2 least, ImVec2 most, ImU32 colour)>;

/// Draws rows and keeps what is being typed or dragged between frames. Each row changes the value it is given
/// and returns whether it did. The owner of the value calls refuse() to reject the change.
class CardRows {
  public:
    /// Once a frame before the first row. `width` is that of the rows, in pixels.
    void begin(const Theme& theme, float width);

    void heading(const std::string& text);
    /// The name that sentences use for the following rows; a heading sets it too.
    void group(std::string name);
    /// The heading of rows that fold: while the person has them folded, what follows is not drawn, down to
    /// the next heading or `endGroup`, and the line that `summary` gives stands beside the heading.
    using Summary = std::function<std::string()>;
    void foldingHeading(const std::string& key, const std::string& text, const Summary& summary);
    /// The same of something that can be removed; returns whether the person asked for that.
    bool removableHeading(const std::string& key, const std::string& text, const char* what,
                          const Summary& summary);
    void endGroup() { isFolded_ = false; }
    /// The coming row gets a lock mark beside its name, shut or open.
    void lockable(const std::string& key, bool isLocked);
    /// Whether the person turned that row's lock in this frame: by its mark, or by Ctrl+L in the row.
    bool lockTurned();
    /// A line of explanation under a row.
    void note(const std::string& text);
    bool button(const std::string& key, const char* text);
    bool buttonBeside(const std::string& key, const char* text);

    bool number(const std::string& key, const std::string& label, double& value,
                const design::NumberField& field);
    bool count(const std::string& key, const std::string& label, int& value);
    bool text(const std::string& key, const std::string& label, std::string& value);
    bool ringSize(const std::string& key, const std::string& label, trade::RingSize& size);
    /// The size in every system side by side, under its row; another one pressed is taken, rounded as that
    /// system rounds.
    bool sizeSystems(const std::string& key, trade::RingSize& size);
    /// A choice from a list that opens; a long one is searched by typing.
    bool choice(const std::string& key, const std::string& label, std::string& id,
                std::span<const Option> options);
    /// A choice of a few side by side, with pictograms above them if there are any.
    bool segments(const std::string& key, const std::string& label, std::string& id,
                  std::span<const Option> options, std::span<const Pictogram> pictograms = {});
    bool toggle(const std::string& key, const std::string& label, bool& value);
    /// An entry of a list that the person can reorder. Returns -1 = move it earlier, 1 = later, 0 = leave it.
    int mover(const std::string& key, int number, const std::string& text, bool canRise, bool canSink);

    /// Rejects the change of this frame for the reason in the sentence. The sentence and the typed text stay
    /// in the row until it is changed again.
    void refuse(const std::string& sentence);
    void forgetRefusals() { refusals_.clear(); }

    /// The key of the row that changed in this frame, or empty.
    const std::string& changed() const { return changed_; }
    /// The name of the drag that the change is part of, for History::push; empty if it is not part of a drag.
    std::string drag() const { return dragging_ ? changed_ : std::string(); }
    /// Whether a drag ended in this frame.
    bool dragEnded() const { return dragEnded_; }
    /// The sentence under a row, or empty.
    std::string refusal(const std::string& key) const;

    /// The rows drawn, key and name: "Width (band)".
    std::vector<std::pair<std::string, std::string>> names() const;

    /// Puts the keyboard into the row of this key in the coming frame and scrolls to it.
    void focus(std::string key) { focusRequest_ = std::move(key); }

    /// Keys of the headings that are folded.
    std::set<std::string>& folded() { return folded_; }
    void foldAll() { folded_ = headings_; }

    /// Where each row's box (key), choice (key + "=" + its name), thimble (key + "#thimble"), buttons and
    /// movers (key + "#earlier",
    /// "#later"), lock marks (key + "#lock") and headings (key + "#fold") were drawn: {least x, least y, most
    /// x, most y}.
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }

  private:
    struct Row {
        std::string label, group;
    };
    struct Refusal {
        std::string text, sentence;
    };
    /// The result of typing in a row.
    struct Typed {
        bool active = false;
        std::optional<std::string> committed;
    };

    /// Gives the typed text after this many steps up.
    using Nudge = std::function<std::string(const std::string& typed, double steps)>;

    void label(const std::string& key, const std::string& text);
    /// One of several choices in sight; returns whether it was pressed.
    static bool cell(const std::string& key, const std::string& text, ImVec2 size, bool isChosen);
    /// Whether the row is in a folded group, and so only has a name. The keyboard unfolds it.
    bool isHidden(const std::string& key, const std::string& name);
    /// `at` is the left upper corner of the row, `x` that of the mark from there.
    void lockMark(ImVec2 at, float x);
    /// The open list of a choice; returns whether another was chosen.
    bool list(const std::string& key, std::string& id, std::span<const Option> options);
    /// What is typed to find an option of the open list; whether Enter was pressed there.
    bool soughtOption(const std::string& key);
    void drawOption(const Option& option, ImVec2 at, float right) const;
    /// The sentence with the keys of rows replaced by their labels.
    std::string inLabels(const std::string& sentence) const;
    /// `unit` stands right of a number; a text has none.
    Typed entry(const std::string& key, const std::string& shown, std::optional<std::string_view> unit,
                const Nudge& nudge);
    std::optional<double> thimble(const std::string& key, double value, double step);
    float boxWidth() const;
    /// The text of the last item, shortened to its box; the whole text shows under the mouse.
    void drawCut(const std::string& text) const;
    void drawAligned(const std::string& number, std::string_view unit) const;
    void drawResult(const std::string& text) const;
    void drawRefusal(const std::string& key);
    void place(const std::string& key);
    /// Of the item just drawn, where the keyboard was asked for there.
    void takeFocus(const std::string& key);
    void noteChange(const std::string& key, const std::string& attempted, bool dragging);

    struct Lock {
        std::string key;
        bool isLocked = false, isTurned = false;
    };

    const Theme* theme_ = nullptr;
    Lock lock_;  ///< of the row being drawn; without a key it has none
    float width_ = 0;
    std::string editing_;           ///< key of the row being typed in
    std::string buffer_;            ///< what is typed there
    const Nudge* nudge_ = nullptr;  ///< of the row being typed in
    bool nudged_ = false;           ///< whether the up or down key was pressed there in this frame
    double dragStart_ = 0;          ///< the value when the drag of the thimble began
    std::string changed_;
    std::string attempted_;  ///< what was typed in the row that changed
    bool dragging_ = false, dragEnded_ = false;
    std::map<std::string, Refusal> refusals_;
    std::map<std::string, Row> rows_;
    std::string group_;
    std::set<std::string> folded_;
    std::set<std::string> headings_;  ///< keys of those that fold, in this frame
    std::string heading_;             ///< the last of them
    bool isFolded_ = false;           ///< what is being drawn
    std::string sought_;              ///< typed in the list that is open
    std::string focusRequest_;
    std::map<std::string, std::array<float, 4>> places_;

    friend int onHistoryKey(ImGuiInputTextCallbackData* data);
};

}  // namespace bandwright::app
