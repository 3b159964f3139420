#pragma once

#include <imgui.h>

/// Where the keyboard is, which ImGui 1.86 keeps to itself. Private to the room; the one place that knows
/// ImGui's internals.
namespace bandwright::app {

/// Ends typing in whatever field it is; what was typed counts.
void stopTyping();

/// Whether the item that the keyboard is at is marked, as it is once it was moved by keys.
bool showsFocus();
void showFocus();

/// Presses the marked item, as Space does.
void pressFocused();

/// Marks this rectangle when the keyboard is at the item drawn last.
void markIfFocused(ImVec2 least, ImVec2 most);

/// Between the two, items are passed over by the keyboard.
void beginPassedOver();
void endPassedOver();

/// Writes the text between two corners in the colour of text, cut off with an ellipsis.
void writeCutOff(ImVec2 least, ImVec2 most, const char* text);

}  // namespace bandwright::app
