// The studio as a rough surface reflects it, seen straight on: the light weighted by Trowbridge-Reitz (GGX) facets and
// the cosine. At roughness 1 this is the light that a matt surface gathers. The fewer samples there are, the coarser
// the level of the source they read (Krivanek and Colbert, "Real-time shading with filtered importance sampling",
// 2008).
#include "cube.glsl"

uniform samplerCube source;
uniform int face;
uniform float roughness;
uniform float sourceSide;  // texels
in vec2 place;
out vec4 colour;

const int SAMPLES = 48;

// Van der Corput's sequence to base 2: the bits in reverse, behind the point. GLSL ES 3.00 lacks bitfieldReverse.
float bitReversed(uint i) {
    float value = 0.0, share = 0.5;
    for (; i > 0u; i >>= 1) {
        value += float(i & 1u) * share;
        share *= 0.5;
    }
    return value;
}

void main() {
    vec3 n = cubeDirection(face, place);
    vec3 side = normalize(cross(abs(n.y) < 0.9 ? vec3(0, 1, 0) : vec3(1, 0, 0), n)), up = cross(n, side);
    float alpha2 = pow(roughness, 4.0), texel = 4.0 * 3.14159265 / (6.0 * sourceSide * sourceSide);
    vec3 sum = vec3(0.0);
    float weights = 0.0;
    for (int i = 0; i < SAMPLES; ++i) {
        float u = (float(i) + 0.5) / float(SAMPLES), azimuth = 6.2831853 * bitReversed(uint(i));
        float c2 = (1.0 - u) / (1.0 + (alpha2 - 1.0) * u), c = sqrt(c2), s = sqrt(max(0.0, 1.0 - c2));
        vec3 facet = s * cos(azimuth) * side + s * sin(azimuth) * up + c * n;
        vec3 light = 2.0 * c * facet - n;
        float weight = dot(n, light);
        if (weight <= 0.0) continue;
        float spread = c2 * (alpha2 - 1.0) + 1.0, density = alpha2 / (3.14159265 * spread * spread) / 4.0;
        float level = 0.5 * log2(1.0 / (float(SAMPLES) * density * texel)) + 1.0;
        sum += weight * textureLod(source, light, max(level, 0.0)).rgb;
        weights += weight;
    }
    colour = vec4(sum / weights, 1.0);
}
