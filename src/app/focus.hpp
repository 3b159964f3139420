#pragma once

#include <imgui.h>

/// Keyboard focus, which ImGui 1.86 does not expose. Private to the room; the only place that uses ImGui's
/// internals.
namespace bandwright::app {

/// Puts the keyboard on the item just drawn, in sight.
void focusLastItem();

/// Ends typing in any field; the typed text counts.
void stopTyping();

/// Whether the focused item is marked, which it is after keys have moved the focus.
bool showsFocus();
void showFocus();

/// Presses the marked item, as Space does.
void pressFocused();

/// Marks this rectangle if the item drawn last has the keyboard focus.
void markIfFocused(ImVec2 least, ImVec2 most);

/// The keyboard skips items between these two calls.
void beginPassedOver();
void endPassedOver();

/// Writes the text between two corners in the text colour, shortened with an ellipsis.
void writeCutOff(ImVec2 least, ImVec2 most, const char* text);

}  // namespace bandwright::app
