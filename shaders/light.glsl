#include "frame.glsl"

uniform samplerCube studio;     // blurred in steps, see below
uniform sampler2D floorShade;   // share of the tent that the floor sees past the ring, over its first quadrant

// The studio's levels; studio_light.cpp has the roughness of each.
const float SHARP = 0.0, GLOSSY = 1.0, SATIN = 2.0, SOFT = 3.0, BROAD = 4.0, MATT = 5.0;
const float TENT_RADIUS = 4.5;  // in ring radii; near enough for a flat face to see the light run across it
const float FLOOR_RANGE = 3.0;  // in ring radii; the texture's coordinates run with the square root of the distance

// Light that reaches p from a direction of the stage (a unit vector), blurred by one of the steps.
vec3 studioLight(vec3 p, vec3 direction, float level) {
#ifdef BAKED
    return vec3(tent.z);
#endif
    direction += p / (TENT_RADIUS * extent.x);
    vec3 d = vec3(tent.x * direction.x - tent.y * direction.z, direction.y,
                  tent.y * direction.x + tent.x * direction.z);
    return textureLod(studio, d, level).rgb * tent.z;
}

float floorOpenness(vec2 place) {
    return textureLod(floorShade, sqrt(abs(place) / (FLOOR_RANGE * -extent.w)), 0.0).r;
}

// The share of the light left on a ray that starts at p, outside the ring; it may end on the floor in the ring's shade.
float floorShadow(vec3 p, vec3 direction) {
    float down = max(-direction.y, 0.02);
    vec2 place = p.xz + direction.xz * ((p.y - extent.w) / down);
    return mix(1.0, floorOpenness(place), smoothstep(0.02, 0.25, down));
}

vec3 surroundings(vec3 p, vec3 direction, float level) {
#ifdef BAKED
    return vec3(0.0);
#endif
    return studioLight(p, direction, level) * floorShadow(p, direction);
}

// BAKED: the normal as a texture tells it, across and up in its own picture (glTF 2.0, 3.9.3).
vec4 reliefColour(vec3 p, vec3 smooth_, vec3 n) {
    vec3 x = dFdx(p), across = normalize(x - dot(x, smooth_) * smooth_), up = cross(smooth_, across);
    up *= dot(up, dFdy(p)) > 0.0 ? -1.0 : 1.0;
    return vec4(0.5 + 0.5 * normalize(vec3(dot(n, across), dot(n, up), dot(n, smooth_))), 1.0);
}
