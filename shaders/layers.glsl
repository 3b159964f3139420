// Pattern-welded steel: two steels forged in layers, bent with the billet. The layers fill space, so that bevels, bore,
// channel walls and cut faces show them as they run through the billet. Ring frame, mm.
uniform int pattern;   // 0 random, 1 ladder, 2 twist, 3 raindrop
uniform float layer;   // thickness of each
uniform float etch;    // depth to which acid eats the darker steel
const float SHARPNESS = 0.16;   // width of the step between two, in layers
const mat3 SLANT = mat3(0.36, 0.48, -0.8, -0.8, 0.6, 0.0, 0.48, 0.64, 0.6);  // a rotation
const float RUNG = 3.4, TURN = 8.0, DROP = 2.7;  // mm from one feature of the pattern to the next, round the ring

// Smooth noise between random values at the corners of a unit lattice; -1..1.
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

// How many steps of about this many mm fit round the ring, as a whole number.
float timesRound(float stepLength) { return max(3.0, floor(2.0 * PI * extent.x / stepLength + 0.5)); }

// Dimples of a raindrop billet: how deep the nearest has pressed the layers at this place, 0..1.
float dimple(float turn, float across) {
    float count = timesRound(DROP), row = floor(across / (0.87 * DROP) + 0.5), deepest = 0.0;
    for (int i = -1; i <= 1; ++i) {
        float line = row + float(i);
        float s = turn * count + 0.5 * line, nearest = floor(s + 0.5);
        vec3 own = random3(scrambled(uint(int(mod(nearest - 0.5 * line, count) * 2.0)) + 977u * uint(int(line) + 64))) - 0.5;
        vec2 from = vec2((s - nearest) * DROP + 0.5 * own.x, across - (line * 0.87 * DROP + 0.5 * own.y));
        deepest = max(deepest, exp(-dot(from, from) / (0.26 * DROP * DROP) * (1.0 + 0.4 * own.z)));
    }
    return deepest;
}

// Height in the billet, mm, before hammering moved it.
float billetHeight(vec3 p) {
    if (pattern == 0) return p.z;
    float fromAxis = length(p.xy), turn = atan(p.y, p.x) / (2.0 * PI) + 0.5;
    if (pattern == 1) {
        float rung = abs(fract(turn * timesRound(RUNG)) - 0.5) * 2.0;
        return fromAxis + 1.15 * exp(-5.0 * rung * rung);
    }
    if (pattern == 2) {
        float angle = 2.0 * PI * turn * timesRound(TURN);
        return cos(angle) * (fromAxis - 0.5 * (extent.x + extent.z)) + sin(angle) * p.z;
    }
    return fromAxis + 1.5 * dimple(turn, p.z);
}

// 0 in the brighter steel, 1 in the darker one; softened where a layer is narrower than a pixel.
float darkness(vec3 p) {
    vec3 q = SLANT * p;  // so that the lattice lies along no face of the ring
    vec2 strength = pattern == 0 ? vec2(1.15, 0.30) : vec2(0.34, 0.12);
    float height = billetHeight(p) + strength.x * bend(q * 0.34) + strength.y * bend(q * 1.1 + 17.0);
    float place = height / (2.0 * layer);
    float wave = abs(fract(place) - 0.5) * 2.0, soft = clamp(2.0 * fwidth(place), SHARPNESS, 1.0);
    return smoothstep(0.5 - soft, 0.5 + soft, wave);
}

// The normal where acid has eaten this share of the etch depth, from the change to the neighbouring pixels (after
// Mikkelsen, "Bump mapping unparametrized surfaces on the GPU", 2010).
vec3 etched(vec3 p, vec3 n, float eaten) {
    vec3 px = dFdx(p), py = dFdy(p), x = cross(py, n), y = cross(n, px);
    float size = dot(px, x);
    vec3 slope = (x * dFdx(eaten) + y * dFdy(eaten)) / (abs(size) > 1e-12 ? size : 1e-12);
    return normalize(n + etch * slope);
}
