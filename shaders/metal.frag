// Metal. BORE: the inside of the band, where light meets the metal again; LINES: the last tool left lines; LAYERS:
// pattern-welded; HAMMERED: dented; SKIN: an oxide on the metal reflects in its place.
#include "metal_light.glsl"
#ifdef LAYERS
#include "layers.glsl"
#endif
#ifdef HAMMERED
#include "hammer.glsl"
#endif

uniform float spread;   // tilt of tool lines too fine to be seen singly, radians
uniform float relief;   // tilt of visible ones
uniform bool roundRing; // the lines run round the ring, not across it
in vec3 ringPosition, stagePosition, stageNormal;
in float open;
out vec4 colour;

// Random height of the i-th line, 0..1.
float lineHeight(int i) { return float(scrambled(uint(i)) >> 8u) / 16777216.0; }

float ripple(float s) {
    float cell = floor(s), t = s - cell;
    return mix(lineHeight(int(cell)), lineHeight(int(cell) + 1), t * t * (3.0 - 2.0 * t)) - 0.5;
}

void main() {
    vec3 n = normalize(stageNormal), toEye = towardsEye(stagePosition, n), across = vec3(0.0);
    vec3 smooth_ = n;
#ifdef LINES
    float fromAxis = length(stagePosition.xy);
    vec3 out_ = vec3(stagePosition.xy / fromAxis, 0.0), around = vec3(-out_.y, out_.x, 0.0);
    across = roundRing ? cross(n, around) : around;
    float s = roundRing ? dot(vec2(stagePosition.z, fromAxis), vec2(across.z, dot(across, out_)))
                        : atan(stagePosition.y, stagePosition.x) * extent.x;
    float coarse = 1.0 - smoothstep(0.3, 0.8, 7.0 * fwidth(s)), fine = 1.0 - smoothstep(0.3, 0.8, 19.0 * fwidth(s));
    n = normalize(n + across * relief * (coarse * ripple(7.0 * s) + fine * ripple(19.0 * s)));
#endif
#ifdef HAMMERED
    n = dented(ringPosition, n);
#endif
    float level = finishLevel, roughness = finishRoughness;
#ifdef LAYERS
    float dark = darkness(ringPosition);
    // Where acid has eaten, the steel is matt.
    float eaten = dark * smoothstep(0.0, 0.01, etch);
    level = mix(level, max(level, SATIN), eaten);
    roughness = mix(roughness, max(roughness, 0.32), eaten);
    reflectance = mix(brightReflectance, darkReflectance, dark);
    edgeDip = mix(brightDip, darkDip, dark);
#ifndef BORE
    n = etched(stagePosition, n, dark);
#endif
#endif
#if defined RELIEF
    colour = reliefColour(stagePosition, smooth_, n);
#elif defined SURFACE
    colour = vec4(0.0, roughness, 1.0, 1.0);  // roughness and metal where glTF has them
#elif defined BAKED
    colour = shown(reflectance);
#else
    colour = shown(metalLight(stagePosition, n, toEye, across, spread, level, roughness, open));
#endif
}
