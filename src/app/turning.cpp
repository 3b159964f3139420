#include "turning.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/keys.hpp"

namespace bandwright::app {

namespace {

constexpr double kDegreesPerPixel = 0.4;
constexpr double kKeyTurn = 7.5;  ///< degrees a press of an arrow key
constexpr double kStep = 1.15;    ///< of the zoom

}  // namespace

bool turnByMouse(scene::Camera& camera, float height) {
    const ImGuiIO& io = ImGui::GetIO();
    bool turned = false;
    // What the pointer moved before it was pressed turns nothing.
    if (ImGui::IsItemActive() && !ImGui::IsItemActivated() &&
        (io.MouseDelta.x != 0 || io.MouseDelta.y != 0)) {
        turned = true;
        if (io.MouseDown[1] || io.KeyShift) {
            camera.pan[0] = std::clamp(camera.pan[0] + io.MouseDelta.x / height, -4.0, 4.0);
            camera.pan[1] = std::clamp(camera.pan[1] - io.MouseDelta.y / height, -4.0, 4.0);
        } else {
            camera.azimuth = std::remainder(camera.azimuth - io.MouseDelta.x * kDegreesPerPixel, 360.0);
            camera.elevation = std::clamp(camera.elevation + io.MouseDelta.y * kDegreesPerPixel, -89.0, 89.0);
        }
    }
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
        turned = true;
        camera = nearer(camera, io.MouseWheel);
    }
    return turned;
}

scene::Camera turnedByArrows(scene::Camera camera) {
    const auto pressed = [](Key key) { return app::pressed(key, true); };
    if (pressed(Key::Left)) camera.azimuth += kKeyTurn;
    if (pressed(Key::Right)) camera.azimuth -= kKeyTurn;
    if (pressed(Key::Up)) camera.elevation = std::min(camera.elevation + kKeyTurn, 89.0);
    if (pressed(Key::Down)) camera.elevation = std::max(camera.elevation - kKeyTurn, -89.0);
    return camera;
}

scene::Camera nearer(scene::Camera camera, double steps) {
    camera.zoom = std::clamp(camera.zoom * std::pow(kStep, steps), kLeastZoom, kMostZoom);
    return camera;
}

double nearestTurn(double from, double to) {
    return from + std::remainder(to - from, 360.0);
}

double easingShare() {
    constexpr double kPerSecond = 11;
    return 1 - std::exp(-kPerSecond * std::min(0.05, static_cast<double>(ImGui::GetIO().DeltaTime)));
}

bool easeTo(const scene::Camera& target, scene::Camera& camera) {
    constexpr double kNear = 0.01;
    const auto step = [share = easingShare()](double& value, double to) { value += share * (to - value); };
    step(camera.azimuth, target.azimuth);
    step(camera.elevation, target.elevation);
    step(camera.zoom, target.zoom);
    step(camera.pan[0], target.pan[0]);
    step(camera.pan[1], target.pan[1]);
    if (std::abs(camera.azimuth - target.azimuth) + std::abs(camera.elevation - target.elevation) >= 0.2 ||
        std::abs(camera.zoom - target.zoom) >= kNear)
        return false;
    camera = target;
    camera.azimuth = std::remainder(camera.azimuth, 360.0);
    return true;
}

}  // namespace bandwright::app
