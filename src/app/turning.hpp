#pragma once

#include "scene/camera.hpp"

/// How a person turns a picture of the ring, the same wherever one is turned. Private to the room.
namespace bandwright::app {

inline constexpr double kLeastZoom = 0.4, kMostZoom = 14;

/// After the item that holds the picture, `height` pixels high: dragging it turns the ring, or shifts it with
/// the right button or Shift, and the wheel comes closer. Returns whether any of it did.
bool turnByMouse(scene::Camera& camera, float height);

/// Turned on by the arrow keys pressed in this frame.
scene::Camera turnedByArrows(scene::Camera camera);

/// Closer by so many steps.
scene::Camera nearer(scene::Camera camera, double steps);

/// The turn of `to`, in degrees, in which it is nearest to `from`.
double nearestTurn(double from, double to);

/// The share of the way to where something moves that it moves in this frame.
double easingShare();

/// Moves the camera on towards the target; returns whether it is there.
bool easeTo(const scene::Camera& target, scene::Camera& camera);

}  // namespace bandwright::app
