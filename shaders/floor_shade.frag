// The share of the light from above that reaches the floor past the ring: a tube on its side, lengths in ring radii.
uniform bool shaded;  // false where light also comes from below
uniform float halfWidth, boreRadius;
in vec2 place;
out vec4 colour;

const int AROUND = 32, ABOVE = 12;
const float FLOOR_RANGE = 3.0;

bool betweenEnds(vec3 p, vec3 d, float t) { return t > 0.0 && abs(p.z + t * d.z) < halfWidth; }

// The ring's outside is a cylinder round the origin; a ray that enters and leaves through the bore is not stopped.
bool stopped(vec3 p, vec3 d) {
    float a = dot(d.xy, d.xy), b = dot(p.xy, d.xy), c = dot(p.xy, p.xy);
    float outer = b * b - a * (c - 1.0), inner = b * b - a * (c - boreRadius * boreRadius);
    if (outer > 0.0) {
        float root = sqrt(outer);
        if (betweenEnds(p, d, (-b - root) / a) || betweenEnds(p, d, (-b + root) / a)) return true;
    }
    if (inner > 0.0) {
        float root = sqrt(inner);
        if (betweenEnds(p, d, (-b - root) / a) || betweenEnds(p, d, (-b + root) / a)) return true;
    }
    if (abs(d.z) < 1e-5) return false;
    for (float end = -halfWidth; end <= halfWidth; end += 2.0 * halfWidth) {
        float t = (end - p.z) / d.z;
        vec2 q = p.xy + t * d.xy;
        float r2 = dot(q, q);
        if (t > 0.0 && r2 < 1.0 && r2 > boreRadius * boreRadius) return true;
    }
    return false;
}

void main() {
    vec3 p = vec3(place.x * place.x * FLOOR_RANGE, -1.001, place.y * place.y * FLOOR_RANGE);
    float open = 0.0, all = 0.0;
    for (int i = 0; i < ABOVE; ++i) {
        float rise = sqrt((float(i) + 0.5) / float(ABOVE)), level = sqrt(1.0 - rise * rise);
        for (int j = 0; j < AROUND; ++j) {
            float azimuth = 6.2831853 * (float(j) + 0.5 * float(i & 1)) / float(AROUND);
            vec3 d = vec3(level * cos(azimuth), rise, level * sin(azimuth));
            if (!stopped(p, d)) open += 1.0;
            all += 1.0;
        }
    }
    colour = vec4(shaded ? open / all : 1.0);
}
