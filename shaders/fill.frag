// OPALESCENT: the hue of a grain changes with the direction; FINE: look through the adhesive to the grains below.
// Crushed stone in clear adhesive, cut flush and polished: grains are the cells nearest to scattered points, in solid
// space, so that the surface cuts through them as it does on the bench.
#include "light.glsl"
#ifdef OPALESCENT
#include "opal.glsl"
#endif

uniform vec3 grainColour, grainColour2;
uniform float grainSize;    // mm, mean
uniform float grainSpread;  // half the range of sizes over the mean
uniform float packing;
uniform bool glows;
uniform vec3 glow;          // of the light it gives in the dark
in vec3 ringPosition, stagePosition, stageNormal;
in float open;
out vec4 colour;

const float ADHESIVE_INDEX = 1.49;

struct Grain {
    vec3 id;      // random numbers of its own
    vec3 within;  // from its middle, in grain sizes
    float gap;    // distance to the next grain's share, in grain sizes
};

Grain grainAt(vec3 p) {
    vec3 q = p / grainSize - 0.5;
    vec3 base = floor(q), at = q - base;
    uint number = cellNumber(ivec3(base));
    float nearest = 1e9, second = 1e9;
    Grain grain;
    for (int i = 0; i < 8; ++i) {
        ivec3 corner = ivec3(i & 1, (i >> 1) & 1, i >> 2);
        vec3 id = random3(number + cellNumber(corner));
        vec3 from = at - vec3(corner) - 0.62 * (id - 0.5);
        // Crushed, not rolled: each grain counts distance along its own direction more, so it is flatter that way.
        float d = (length(from) + 0.35 * abs(dot(from, 2.0 * id.zxy - 1.0))) * (1.0 - grainSpread * (id.y - 0.5));
        if (d < nearest) {
            second = nearest;
            nearest = d;
            grain.id = id;
            grain.within = from;
        } else if (d < second) {
            second = d;
        }
    }
    grain.gap = second - nearest;
    return grain;
}

#ifdef OPALESCENT
// A flash mirrors what is bright in the studio, by eye a third of what its grains face; a texture tells the mean.
#ifdef BAKED
const float FLASH = 0.5;
#else
const float FLASH = 1.5;
#endif

vec3 flash(Grain grain, vec3 n, vec3 into) {
    vec3 lattice = normalize(n + 1.1 * (grain.id - 0.5) + 0.45 * grain.within);
    vec3 hue = braggHue(into, lattice, mix(165.0, 245.0, grain.id.z));
    vec3 d = reflect(into, lattice);
    return hue * studioLight(stagePosition, normalize(mix(n, d, 0.85)), SOFT) * mix(0.1, 1.0, grain.id.x);
}
#endif

vec3 body(Grain grain, vec3 n) {
    vec3 tint = mix(grainColour, grainColour2, smoothstep(0.5, 0.85, grain.id.x)) * mix(0.65, 1.25, grain.id.y);
    vec3 facing = normalize(n + 0.7 * (grain.id.yzx - 0.5));
    if (glows && tent.w > 0.0) return glow * tent.w * mix(0.6, 1.1, grain.id.z);
    return tint * studioLight(stagePosition, facing, MATT);
}

vec3 grainLight(Grain grain, vec3 n, vec3 into) {
    vec3 light = body(grain, n);
#ifdef OPALESCENT
    light = 0.6 * light + FLASH * flash(grain, n, into);
#endif
    return light;
}

void main() {
    vec3 n = normalize(stageNormal), toEye = towardsEye(stagePosition, n);
    vec3 into = refract(-toEye, n, 1.0 / ADHESIVE_INDEX);
    Grain top = grainAt(ringPosition);
    float gapWidth = 0.5 * (1.0 - packing);
    vec3 light = grainLight(top, n, into);
    float between = 1.0 - smoothstep(0.45 * gapWidth, gapWidth, top.gap);
#ifdef FINE
    // Through the adhesive to a grain below.
    vec3 deeper = ringPosition + transpose(mat3(ringToStage)) * into * (0.8 * grainSize);
    vec3 below = grainLight(grainAt(deeper), n, into);
#else
    vec3 below = light;
#endif
    light = mix(light, 0.62 * below, between);
#ifndef BAKED
    float away = 1.0 - max(dot(n, toEye), 0.0), away2 = away * away, coat = 0.04 + 0.96 * away2 * away2 * away;
    light = mix(light, surroundings(stagePosition, reflect(-toEye, n), SHARP), coat);
#endif
    colour = shown(light * open);
}
