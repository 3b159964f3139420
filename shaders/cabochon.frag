// A polished dome over a flat base. The view ray is bent at the surface and followed inside the ellipsoid, down to the base
// and back; on its way a cloudy stone scatters light from above into it, and opal shows its patches.
#include "dielectric.glsl"
#include "light.glsl"
#ifdef OPALESCENT
#include "opal_patches.glsl"
#endif

uniform vec3 centre, inverseX, inverseY, inverseZ;  // ring frame: the ellipsoid, as the map to the unit sphere
uniform vec3 up;          // ring frame, away from the base
uniform float base;       // dot(up, p) there
uniform vec3 index;
uniform vec3 absorbance;  // per mm
uniform vec3 cloud;       // scattered, per mm
uniform vec3 seat;        // reflectance of the metal below
in vec3 ringPosition, stagePosition, stageNormal;
out vec4 colour;

const int LEGS = 3;

vec3 unitSphere(vec3 v) { return vec3(dot(inverseX, v), dot(inverseY, v), dot(inverseZ, v)); }

vec3 lit(vec3 d, float level) { return studioLight(stagePosition, mat3(ringToStage) * d, level); }

// Distance from inside to the dome; p itself may lie on it.
float toDome(vec3 p, vec3 d) {
    vec3 q = unitSphere(p - centre), e = unitSphere(d);
    float a = dot(e, e), b = dot(q, e), c = dot(q, q) - 1.0;
    return (-b + sqrt(max(b * b - a * c, 0.0))) / a;
}

// Light that leaves the stone at its base meets the metal of the seat, which the stone itself shades.
vec3 fromSeat(vec3 d) { return 0.4 * seat * lit(up, BROAD); }

vec3 traced(vec3 p, vec3 d, float eta) {
    vec3 sum = vec3(0.0), left = vec3(1.0);
    vec3 above = lit(up, MATT);
    for (int leg = 0; leg < LEGS; ++leg) {
        float fall = dot(d, up), floor_ = fall < -1e-5 ? (base - dot(up, p)) / fall : 1e9, wall = toDome(p, d);
        float way = max(min(floor_, wall), 0.0);
        // Light scattered towards the eye has come down through half of what the ray passes, on the mean.
        vec3 kept = exp(-cloud * way), deep = exp(-absorbance * way), half_ = exp(-0.7 * absorbance * way);
        sum += left * (1.0 - kept) * half_ * above;
#ifdef OPALESCENT
        if (leg == 0) {
            vec3 deeper = 0.6 * exp(-(absorbance + cloud) * 0.9) * patchFlash(p + 0.9 * d, d, up, stagePosition);
            sum += patchFlash(p + FLASH_DEPTH * d, d, up, stagePosition) + deeper;
        }
#endif
        left *= kept * deep;
        p += way * d;
        bool onBase = floor_ < wall;
        vec3 n = onBase ? -up : normalize(inverseX * dot(inverseX, p - centre) + inverseY * dot(inverseY, p - centre) +
                                          inverseZ * dot(inverseZ, p - centre));
        float share = dielectric(max(dot(d, n), 0.0), 1.0 / eta);
        vec3 out_ = share < 1.0 ? refract(d, -n, eta) : vec3(0.0);
        if (share < 1.0) sum += left * (1.0 - share) * (onBase ? fromSeat(out_) : dot(out_, up) > 0.0 ? lit(out_, SHARP) : fromSeat(out_));
        left *= share;
        d = reflect(d, n);
    }
    return sum + left * 0.5 * above;
}

void main() {
    vec3 n = normalize(stageNormal), toEye = towardsEye(stagePosition, n);
    mat3 toRing = transpose(mat3(ringToStage));
    vec3 into = refract(toRing * -toEye, toRing * n, 1.0 / index.g);
    vec3 light = traced(ringPosition, into, index.g);
#ifndef BAKED
    light = mix(light, surroundings(stagePosition, reflect(-toEye, n), SHARP), dielectric(max(dot(n, toEye), 0.0), index.g));
#endif
    colour = shown(light);
}
