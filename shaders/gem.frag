// A clear convex stone. The view ray is bent at the surface and followed inside, plane to plane; at each the exact Fresnel
// share goes out to the surroundings and the rest stays in. Lengths along the way colour the light (Beer-Lambert).
#include "dielectric.glsl"
#include "light.glsl"

layout(std140) uniform Facets { vec4 facets[96]; };  // ring frame: dot(xyz, p) <= w inside
uniform int facetCount;
uniform int bounces;
uniform vec3 index;       // of refraction, at the wavelengths that stand for red, green and blue
uniform vec3 absorbance;  // per mm
#ifdef CLOUD
uniform vec3 cloud;       // scattered, per mm
#endif
uniform vec3 seat;        // reflectance of the metal around and below
uniform vec3 outward;     // ring frame: from the ring's axis through the stone
uniform int colours;       // 1: all at the index of green; 3: each at its own
in vec3 ringPosition, stagePosition, stageNormal;
out vec4 colour;

// Light that comes from direction d of the ring's frame: out of the tent, or off the metal that holds the stone.
vec3 beyond(vec3 d) {
    float inward = smoothstep(0.0, 0.25, -dot(d, outward));
    vec3 light = studioLight(stagePosition, mat3(ringToStage) * (d - 2.0 * min(dot(d, outward), 0.0) * outward),
                             inward > 0.5 ? SATIN : SHARP);
    return light * mix(vec3(1.0), 0.45 * seat, inward);
}

vec3 traced(vec3 p, vec3 n, vec3 d, float eta) {
    d = refract(d, n, 1.0 / eta);
    vec3 sum = vec3(0.0), left = vec3(1.0);
    for (int bounce = 0; bounce < bounces; ++bounce) {
        float nearest = 1e9;
        vec3 facet = n;
        for (int i = 0; i < facetCount; ++i) {
            vec4 plane = facets[i];
            float towards = dot(plane.xyz, d);
            float t = (plane.w - dot(plane.xyz, p)) / towards;
            if (towards > 1e-4 && t < nearest) {
                nearest = t;
                facet = plane.xyz;
            }
        }
        nearest = max(nearest, 0.0);
        p += nearest * d;
        vec3 kept = exp(-absorbance * nearest);
#ifdef CLOUD
        vec3 unscattered = exp(-cloud * nearest);
        sum += left * (1.0 - unscattered) * kept * studioLight(stagePosition, mat3(ringToStage) * outward, MATT);
        kept *= unscattered;
#endif
        left *= kept;
        float share = dielectric(dot(d, facet), 1.0 / eta);
        if (share < 1.0) sum += left * (1.0 - share) * beyond(refract(d, -facet, eta));
        left *= share;
        d = reflect(d, facet);
    }
    return sum + left * 0.6 * studioLight(stagePosition, mat3(ringToStage) * d, MATT);
}

void main() {
    vec3 n = normalize(stageNormal), toEye = normalize(eye.xyz - stagePosition);
    mat3 toRing = transpose(mat3(ringToStage));
    vec3 ringNormal = toRing * n, into = toRing * -toEye;
    float share = dielectric(max(dot(n, toEye), 0.0), index.g);
    vec3 light = vec3(0.0);
    for (int i = 0; i < colours; ++i) {
        vec3 one = vec3(i == 0, i == 1, i == 2);
        float eta = colours == 1 ? index.g : dot(one, index);
        light += (colours == 1 ? vec3(1.0) : one) * traced(ringPosition, ringNormal, into, eta);
    }
    light = mix(light, surroundings(stagePosition, reflect(-toEye, n), SHARP), share);
    colour = shown(light);
}
