// What holds for one pass over the picture. Lengths in mm.
layout(std140) uniform Frame {
    mat4 stageToClip;
    mat4 ringToStage;
    vec4 eye;      // stage frame
    vec4 extent;   // radius, half width, bore radius, height of the floor
    vec4 picture;  // width and height in pixels, pixels a mm, number of the pass
    vec4 tent;     // cosine and sine of the camera's azimuth, brightness of the studio, brightness of what glows
    vec4 cut;      // ring frame: what is left where dot(cut.xyz, p) + cut.w >= 0
};

const float PI = 3.14159265358979;

// Integer hash of Jarzynski and Olano, "Hash functions for GPU rendering", JCGT 9(3), 2020 (pcg3d).
uvec3 scrambled(uvec3 v) {
    v = v * 1664525u + 1013904223u;
    v.x += v.y * v.z;
    v.y += v.z * v.x;
    v.z += v.x * v.y;
    v ^= v >> 16u;
    v.x += v.y * v.z;
    v.y += v.z * v.x;
    v.z += v.x * v.y;
    return v;
}

// Three numbers in [0, 1) that belong to a cell of the integer lattice.
vec3 random3(ivec3 cell) { return vec3(scrambled(uvec3(cell)) >> 8u) / 16777216.0; }

// Khronos PBR Neutral, from light to what is shown (both linear).
vec3 shown(vec3 light) {
    const float offsetMost = 0.04, start = 0.8 - offsetMost, desaturation = 0.15;
    float least = min(light.r, min(light.g, light.b));
    light -= least < 0.08 ? least - 6.25 * least * least : offsetMost;
    float peak = max(light.r, max(light.g, light.b));
    if (peak < start) return light;
    float room = 1.0 - start;
    float newPeak = 1.0 - room * room / (peak + room - start);
    float whiter = 1.0 - 1.0 / (desaturation * (peak - newPeak) + 1.0);
    return mix(light * (newPeak / peak), vec3(newPeak), whiter);
}
