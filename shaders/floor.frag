#include "light.glsl"

in vec2 spot;
out vec4 colour;

void main() {
    float shade = 1.0 - floorOpenness(spot);
    float rim = 1.0 - smoothstep(0.6, 1.0, length(spot) / (FLOOR_RANGE * -extent.w));
    colour = vec4(vec3(0.0), shade * rim * 0.85);
}
