// Precious opal: each patch is the cell nearest to one of many scattered points, a crystal of its own.
#include "light.glsl"
#include "opal.glsl"

const float PATCH = 0.85;        // mm
const float FLASH_DEPTH = 0.22;  // mm under the surface, where the nearest are met

// What a ray inside the stone along d meets at p; `up` points out of the ring through the stone. Ring frame, except
// `surface`, where the ray entered, which is in the stage's.
vec3 patchFlash(vec3 p, vec3 d, vec3 up, vec3 surface) {
    vec3 q = p / PATCH - 0.5, cell = floor(q), at = q - cell, id = vec3(0.0), within = vec3(0.0);
    uint number = cellNumber(ivec3(cell));
    float nearest = 1e9, second = 1e9;
    for (int i = 0; i < 8; ++i) {
        ivec3 corner = ivec3(i & 1, (i >> 1) & 1, i >> 2);
        vec3 own = random3(number + cellNumber(corner)), from = at - vec3(corner) - 0.8 * (own - 0.5);
        float far = dot(from, from) * mix(0.7, 1.3, own.z);
        if (far < nearest) {
            second = nearest;
            nearest = far;
            id = own;
            within = from;
        } else {
            second = min(second, far);
        }
    }
    vec3 lattice = normalize(up + 1.3 * (id - 0.5) + 0.12 * within);
    vec3 bounced = reflect(d, lattice);
    // Stacking faults stripe the crystal and shade its brightness.
    float stripes = 0.8 + 0.2 * sin(40.0 * dot(within, id - 0.5));
    float strength = smoothstep(0.15, 0.5, id.x) * stripes * smoothstep(0.0, 0.08, second - nearest);
    return braggHue(d, lattice, mix(168.0, 240.0, id.z)) *
           studioLight(surface, mat3(ringToStage) * normalize(mix(up, bounced, 0.8)), SOFT) * (0.9 * strength);
}
