#include "frame.glsl"

out vec2 spot;

void main() {
    spot = (vec2(gl_VertexID & 1, gl_VertexID >> 1) * 2.0 - 1.0) * 3.0 * -extent.w;
    gl_Position = stageToClip * vec4(spot.x, extent.w, spot.y, 1.0);
}
