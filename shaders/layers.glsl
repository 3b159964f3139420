// Pattern-welded steel: two steels forged in layers across the ring's axis, bent by the hammer. The layers fill space, so that
// bevels, bore, channel walls and cut faces show them as they run through the billet. Ring frame, mm.
const float LAYER = 0.24;       // thickness of each
const float ETCH = 0.006;       // depth to which acid eats the darker steel
const float SHARPNESS = 0.16;   // of the step between two, in layers
const mat3 SLANT = mat3(0.36, 0.48, -0.8, -0.8, 0.6, 0.0, 0.48, 0.64, 0.6);  // a rotation

// Smooth between random values at the corners of a lattice one apart; -1..1.
float bend(vec3 p) {
    vec3 base = floor(p), t = p - base;
    t = t * t * (3.0 - 2.0 * t);
    uint number = cellNumber(ivec3(base));
    vec4 low, high;  // corners at x = 0 and x = 1
    for (int i = 0; i < 4; ++i) {
        uint corner = number + cellNumber(ivec3(0, i & 1, i >> 1));
        low[i] = float(scrambled(corner) >> 8u);
        high[i] = float(scrambled(corner + cellNumber(ivec3(1, 0, 0))) >> 8u);
    }
    vec4 along = mix(low, high, t.x) / 8388608.0 - 1.0;
    vec2 across = mix(along.xz, along.yw, t.y);
    return mix(across.x, across.y, t.z);
}

// 0 in the brighter steel, 1 in the darker one; softened where a layer is narrower than a pixel.
float darkness(vec3 p) {
    vec3 q = SLANT * p;  // so that the lattice lies along no face of the ring
    float height = p.z + 1.15 * bend(q * 0.34) + 0.30 * bend(q * 1.1 + 17.0);
    float place = height / (2.0 * LAYER);
    float wave = abs(fract(place) - 0.5) * 2.0, soft = clamp(2.0 * fwidth(place), SHARPNESS, 1.0);
    return smoothstep(0.5 - soft, 0.5 + soft, wave);
}

// The normal where the depth eaten is that share of ETCH, from the change to the neighbouring pixels (after Mikkelsen, "Bump
// mapping unparametrized surfaces on the GPU", 2010).
vec3 etched(vec3 p, vec3 n, float eaten) {
    vec3 px = dFdx(p), py = dFdy(p), x = cross(py, n), y = cross(n, px);
    float size = dot(px, x);
    vec3 slope = (x * dFdx(eaten) + y * dFdy(eaten)) / (abs(size) > 1e-12 ? size : 1e-12);
    return normalize(n + ETCH * slope);
}
