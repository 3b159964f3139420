// Values that hold for one whole pass over the picture. Lengths in mm.
layout(std140) uniform Frame {
    mat4 stageToClip;
    mat4 ringToStage;
    vec4 eye;      // stage frame
    vec4 extent;   // radius, half width, bore radius, height of the floor
    vec4 picture;  // width and height in pixels, pixels a mm, number of the pass
    vec4 tent;     // cosine and sine of the camera's azimuth, brightness of the studio, brightness of what glows
    vec4 cut[2];   // ring frame: p is kept where dot(cut[i].xyz, p) + cut[i].w >= 0
};

const float PI = 3.14159265358979;

// A number for each cell of the integer lattice. Going from a cell to a neighbour adds the number that the neighbour of
// the origin has.
uint cellNumber(ivec3 cell) { return uint(cell.x) * 0x8da6b343u + uint(cell.y) * 0xd8163841u + uint(cell.z) * 0xcb1ab31fu; }

// A random number for each number (Jarzynski and Olano, "Hash functions for GPU rendering", JCGT 9(3), 2020: pcg).
uint scrambled(uint v) {
    v = v * 747796405u + 2891336453u;
    v = ((v >> ((v >> 28u) + 4u)) ^ v) * 277803737u;
    return v ^ (v >> 22u);
}

// Three numbers in [0, 1), in steps of about a thousandth.
vec3 random3(uint number) {
    uint h = scrambled(number);
    return vec3(h & 1023u, (h >> 10u) & 1023u, h >> 22u) / 1024.0;
}

// A number for each pixel and pass, -0.5..0.5, spread evenly over neighbours: interleaved gradient noise (Jimenez,
// SIGGRAPH 2014 course).
float dither(vec2 pixel, float pass) {
    return fract(52.9829189 * fract(dot(pixel + 5.588238 * pass, vec2(0.06711056, 0.00583715)))) - 0.5;
}

// The sRGB transfer function (IEC 61966-2-1).
vec3 encoded(vec3 light) {
    vec3 l = clamp(light, 0.0, 1.0);
    return mix(12.92 * l, 1.055 * pow(l, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, l));
}

vec3 decoded(vec3 srgb) {
    return mix(srgb / 12.92, pow((srgb + 0.055) / 1.055, vec3(2.4)), step(0.04045, srgb));
}

// Khronos PBR Neutral, from light to displayable colour (both linear).
vec3 neutral(vec3 light) {
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

// From light to the colour of a pixel. BAKED: of a texture, which tells what share of white light comes back from the
// surface, seen straight on, by its own colour alone: nothing is mirrored in it.
#ifdef BAKED
vec4 shown(vec3 light) { return vec4(encoded(light), 1.0); }
vec3 towardsEye(vec3 p, vec3 n) { return n; }
#else
vec4 shown(vec3 light) { return vec4(encoded(neutral(light)), 1.0); }
vec3 towardsEye(vec3 p, vec3 n) { return normalize(eye.xyz - p); }
#endif
