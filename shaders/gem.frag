// A clear convex stone. The view ray is bent at the surface and followed inside, from plane to plane. At each plane the
// exact Fresnel share leaves to the surroundings and the rest stays inside. The length of the path colours the light
// (Beer-Lambert). DISPERSED: red, green and blue each go their own way. CLOUD: the stone scatters light. OPALESCENT:
// patches flash in it.
#include "dielectric.glsl"
#include "light.glsl"
#ifdef OPALESCENT
#include "opal_patches.glsl"
#endif

layout(std140) uniform Facets { vec4 facets[MOST_FACETS]; };  // ring frame: dot(xyz, p) <= w inside; zeros after the last
uniform int facetCount;
uniform int bounces;
uniform vec3 index;       // of refraction, at the wavelengths that stand for red, green and blue
uniform vec3 absorbance;  // per mm
#ifdef CLOUD
uniform vec3 cloud;       // scattered, per mm
#endif
uniform vec3 seat;        // reflectance of the metal around and below
uniform vec3 outward;     // ring frame: from the ring's axis through the stone
in vec3 ringPosition, stagePosition, stageNormal;
out vec4 colour;

// Light that comes from direction d of the ring's frame: out of the tent, or off the metal that holds the stone.
vec3 beyond(vec3 d) {
    float inward = smoothstep(0.0, 0.25, -dot(d, outward));
    vec3 light = studioLight(stagePosition, mat3(ringToStage) * (d - 2.0 * min(dot(d, outward), 0.0) * outward),
                             inward > 0.5 ? SATIN : SHARP);
    return light * mix(vec3(1.0), 0.45 * seat, inward);
}

#ifdef DISPERSED
const int RAYS = 3;
#else
const int RAYS = 1;  // at the index of green
#endif
const float LITTLE = 0.05;  // below this share light is not followed further but taken as the mean of the surroundings

vec3 traced(vec3 start, vec3 n, vec3 towards) {
    vec3 sum = vec3(0.0), p[RAYS], d[RAYS], left[RAYS];
    float eta[RAYS];
    for (int ray = 0; ray < RAYS; ++ray) {
        eta[ray] = RAYS == 1 ? index.g : index[ray];
        p[ray] = start;
        d[ray] = refract(towards, n, 1.0 / eta[ray]);
        left[ray] = RAYS == 1 ? vec3(1.0) : vec3(ray == 0, ray == 1, ray == 2);
    }
    for (int bounce = 0; bounce < bounces; ++bounce) {
        // All rays go through the planes together, because reading a plane costs as much as intersecting it. The
        // nearest plane has the greatest ratio of speed towards it to gap.
        float fastest[RAYS];
        int nearest[RAYS];
        for (int ray = 0; ray < RAYS; ++ray) {
            fastest[ray] = 1e-4;
            nearest[ray] = 0;
        }
        for (int i = 0; i < facetCount; i += 2) {
            for (int j = i; j < i + 2; ++j) {
                vec4 plane = facets[j];
                for (int ray = 0; ray < RAYS; ++ray) {
                    float speed = dot(plane.xyz, d[ray]) / max(plane.w - dot(plane.xyz, p[ray]), 1e-6);
                    if (speed > fastest[ray]) {
                        fastest[ray] = speed;
                        nearest[ray] = j;
                    }
                }
            }
        }
        float most = 0.0;
        for (int ray = 0; ray < RAYS; ++ray) {
            vec3 facet = facets[nearest[ray]].xyz;
            float way = 1.0 / fastest[ray];
#ifdef OPALESCENT
            // Deeper layers shine through those in front of them.
            float seen = bounce == 0 ? 0.9 : 0.25;
            sum += left[ray] * seen * patchFlash(p[ray] + min(0.5 * way, FLASH_DEPTH) * d[ray], d[ray], outward, stagePosition);
#endif
            p[ray] += way * d[ray];
            vec3 kept = exp(-absorbance * way);
#ifdef CLOUD
            vec3 unscattered = exp(-cloud * way);
            sum += left[ray] * (1.0 - unscattered) * kept * studioLight(stagePosition, mat3(ringToStage) * outward, MATT);
            kept *= unscattered;
#endif
            left[ray] *= kept;
            float share = dielectric(dot(d[ray], facet), 1.0 / eta[ray]);
            if (share < 1.0) sum += left[ray] * (1.0 - share) * beyond(refract(d[ray], -facet, eta[ray]));
            left[ray] *= share;
            d[ray] = reflect(d[ray], facet);
            most = max(most, max(left[ray].r, max(left[ray].g, left[ray].b)));
        }
        if (most < LITTLE) break;
    }
    for (int ray = 0; ray < RAYS; ++ray)
        sum += left[ray] * 0.6 * studioLight(stagePosition, mat3(ringToStage) * d[ray], MATT);
    return sum;
}

void main() {
    vec3 n = normalize(stageNormal), toEye = normalize(eye.xyz - stagePosition);
    mat3 toRing = transpose(mat3(ringToStage));
    vec3 light = traced(ringPosition, toRing * n, toRing * -toEye);
    light = mix(light, surroundings(stagePosition, reflect(-toEye, n), SHARP), dielectric(max(dot(n, toEye), 0.0), index.g));
    colour = shown(light);
}
