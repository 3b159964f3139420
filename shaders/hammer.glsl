// Dents of a round-faced hammer, side by side and over one another: in each the surface leans away from the dent's rim
// towards its middle. Ring frame, mm; n in the stage's.
const float DENT = 1.7;    // from one to the next
const float BOWL = 0.16;   // lean at half that distance, radians

const float RIM = 26.0;    // sharpness of the edge between two dents

vec3 dented(vec3 p, vec3 n) {
    vec3 q = p / DENT - 0.5, base = floor(q), at = q - base, middle = vec3(0.0);
    uint number = cellNumber(ivec3(base));
    float weights = 1e-9;
    for (int i = 0; i < 8; ++i) {
        ivec3 corner = ivec3(i & 1, (i >> 1) & 1, i >> 2);
        vec3 from = at - vec3(corner) - 0.8 * (random3(number + cellNumber(corner)) - 0.5);
        float weight = exp(-RIM * dot(from, from));
        weights += weight;
        middle += weight * from;
    }
    vec3 lean = mat3(ringToStage) * (middle / weights);
    return normalize(n - 2.0 * BOWL * (lean - dot(lean, n) * n));
}
