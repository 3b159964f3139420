#include "frame.glsl"

uniform samplerCube studio;     // by roughness: level 0 mirror-sharp, the last level fully diffuse
uniform sampler2D floorShade;   // share of the tent that the floor sees past the ring, over its first quadrant

const float STUDIO_LEVELS = 5.0;
const float FLOOR_RANGE = 3.0;  // in ring radii; the texture's coordinates run with the square root of the distance

// Light from a direction of the stage, blurred as a surface of that roughness blurs it.
vec3 studioLight(vec3 direction, float roughness) {
    vec3 d = vec3(tent.x * direction.x - tent.y * direction.z, direction.y,
                  tent.y * direction.x + tent.x * direction.z);
    return textureLod(studio, d, roughness * STUDIO_LEVELS).rgb * tent.z;
}

float floorOpenness(vec2 place) {
    return texture(floorShade, sqrt(abs(place) / (FLOOR_RANGE * -extent.w))).r;
}

// The same for a ray that starts at p, outside the ring: it may end on the floor in the ring's own shade.
vec3 surroundings(vec3 p, vec3 direction, float roughness) {
    vec3 light = studioLight(direction, roughness);
    float down = max(-direction.y, 0.0);
    if (down < 0.02) return light;
    vec2 place = p.xz + direction.xz * ((p.y - extent.w) / down);
    return light * mix(1.0, floorOpenness(place), smoothstep(0.02, 0.25, down));
}
