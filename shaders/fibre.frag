// Materials other than metal, under a clear coat. CARBON: twill cloth laid round the ring in plies; WOOD: growth rings
// and pores of a block turned across its grain. Both fill space, so that bevels and cuts show them. Ring frame, mm.
// HAMMERED: dented.
#include "light.glsl"
#ifdef HAMMERED
#include "hammer.glsl"
#endif

uniform vec3 lighter, darker;
uniform float finishLevel, finishRoughness, spread, relief;
uniform bool roundRing;
in vec3 ringPosition, stagePosition, stageNormal;
in float open;
out vec4 colour;

#ifdef CARBON
const float TOW = 1.1, PLY = 0.28;

// Threads of two directions, each over two and under two; a fibre mirrors light into a fan across its own direction.
vec3 body(vec3 p, vec3 n, vec3 toEye) {
    float fromAxis = length(p.xy), tows = 4.0 * floor(0.5 + 2.0 * PI * extent.x / (4.0 * TOW));
    float depth = (extent.x - fromAxis) / PLY + 0.5, ply = floor(depth);  // the outside lies in the middle of a ply
    vec2 place = vec2((atan(p.y, p.x) / (2.0 * PI) + 0.5) * tows, p.z / TOW) + 0.5 * vec2(random3(uint(int(ply) + 64)).xy) + 200.0;
    vec2 cell = floor(place), at = place - cell;
    float step_ = mod(cell.x + cell.y, 4.0);
    bool alongRing = step_ < 1.5;
    vec3 around = mat3(ringToStage) * vec3(-p.y, p.x, 0.0) / fromAxis, axis = vec3(0.0, 0.0, 1.0);
    vec3 fibre = alongRing ? around : axis;
    // The tow rises and falls over two threads.
    float way = alongRing ? (step_ < 0.5 ? at.x : at.x + 1.0) * 0.5 : (step_ < 2.5 ? at.y : at.y + 1.0) * 0.5;
    vec3 t = fibre - dot(fibre, n) * n;
    float lies = length(t);
    vec3 lean = normalize(n + 0.35 * (2.0 * way - 1.0) * t);
    vec3 tow = normalize(fibre - dot(fibre, lean) * lean + 1e-4 * lean), across = cross(lean, tow);
    vec3 d = reflect(-toEye, lean);
    vec3 fan = vec3(0.0);
    for (int i = -2; i <= 2; ++i) fan += studioLight(stagePosition, normalize(d + 0.3 * float(i) * across), SOFT);
    float edge = alongRing ? at.y : at.x, gap = mix(0.45, 1.0, smoothstep(0.0, 0.06, min(edge, 1.0 - edge)));
    float seam = 1.0 - 0.6 * smoothstep(0.8, 1.0, abs(fract(depth) - 0.5) * 2.0) * (1.0 - lies * abs(dot(n, mat3(ringToStage) * vec3(p.xy / fromAxis, 0.0))));
    // Some threads of a tow shine more than others: 0.875 to 1.125 of the mean.
    float fine = 0.875 + 0.25 * random3(uint(int(floor(edge * 14.0)) + 31 * int(cell.x) + 977 * int(cell.y))).x;
    return (darker * studioLight(stagePosition, n, MATT) + lighter * fan * 0.42 * fine * mix(0.25, 1.0, lies)) * gap * seam;
}
#else
float hashed(ivec3 cell) { return float(scrambled(cellNumber(cell)) >> 8u) / 16777216.0; }

float smoothNoise(vec3 p) {
    vec3 base = floor(p), t = p - base;
    t = t * t * (3.0 - 2.0 * t);
    ivec3 b = ivec3(base);
    float value = 0.0;
    for (int i = 0; i < 8; ++i) {
        ivec3 corner = ivec3(i & 1, (i >> 1) & 1, i >> 2);
        vec3 w = mix(1.0 - t, t, vec3(corner));
        value += w.x * w.y * w.z * hashed(b + corner);
    }
    return value;
}

// The grain runs along x; the pith lies below the ring.
vec3 body(vec3 p, vec3 n, vec3 toEye) {
    vec3 slow = vec3(0.05, 0.25, 0.25) * p;
    float fromPith = length(vec2(p.y + 31.0, p.z + 9.0)) + 1.1 * smoothNoise(slow) + 0.12 * smoothNoise(vec3(0.2, 2.0, 2.0) * p);
    float season = fract(fromPith / 1.25);
    float late = smoothstep(0.35, 0.97, season) * (1.0 - smoothstep(0.97, 1.0, season));
    float streak = smoothNoise(vec3(0.35, 7.0, 7.0) * p), broad = smoothNoise(vec3(0.06, 0.5, 0.5) * p + 7.0);
    vec3 tint = mix(lighter, darker, clamp(0.62 * late + 0.45 * (broad - 0.3) + 0.25 * (streak - 0.5), 0.0, 1.0));
    // Pores: long vessels, open where the season begins.
    vec3 q = vec3(0.42, 6.5, 6.5) * p;
    vec3 base = floor(q), at = q - base;
    vec3 own = random3(cellNumber(ivec3(base)));
    vec2 from = at.yz - 0.3 - 0.4 * own.xy;
    float ends = smoothstep(0.0, 0.15, at.x) * (1.0 - smoothstep(0.85, 1.0, at.x));
    float pore = own.z < mix(0.75, 0.3, season) ? (1.0 - smoothstep(0.13, 0.26, length(from))) * ends : 0.0;
    tint = mix(tint, 0.35 * darker, 0.8 * pore);
    // Fibres shimmer: light along the grain comes back, most where the grain dips into the surface.
    vec3 grain = mat3(ringToStage) * normalize(vec3(1.0, 0.25 * (broad - 0.5), 0.3 * (streak - 0.5)));
    float into = dot(grain, n);
    return tint * studioLight(stagePosition, normalize(n + 0.25 * into * grain), MATT) * mix(1.0, 0.78, into * into);
}
#endif

void main() {
    vec3 n = normalize(stageNormal), toEye = towardsEye(stagePosition, n);
    vec3 smooth_ = n;
#ifdef HAMMERED
    n = dented(ringPosition, n);
#endif
#ifdef RELIEF
    colour = reliefColour(stagePosition, smooth_, n);
    return;
#endif
    vec3 light = body(ringPosition, n, toEye);
#ifndef BAKED
    float away = 1.0 - max(dot(n, toEye), 0.0), away2 = away * away;
    float coat = 0.04 + 0.96 * away2 * away2 * away * (1.0 - finishRoughness);
    light = mix(light, surroundings(stagePosition, reflect(-toEye, n), finishLevel), coat);
#endif
    colour = shown(light * open);
}
