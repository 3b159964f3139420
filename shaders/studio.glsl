// The studios, as seen from the ring: y up, the camera towards +z.
// A lamp behind a rectangle of cloth, one unit away towards `centre`; 0..1 with soft sides.
float panel(vec3 d, vec3 centre, vec3 side, vec2 halfSize, float soft) {
    vec3 c = normalize(centre), s = normalize(side - dot(side, c) * c);
    float ahead = dot(d, c);
    if (ahead <= 0.0) return 0.0;
    vec2 place = abs(vec2(dot(d, s), dot(d, cross(c, s)))) / ahead;
    vec2 inside = 1.0 - smoothstep(halfSize - soft, halfSize + soft, place);
    return inside.x * inside.y;
}

vec3 lightTent(vec3 d) {
    const vec3 warm = vec3(1.0, 1.0, 0.99), cool = vec3(0.94, 0.98, 1.0);
    float up = d.y;
    vec3 light = mix(vec3(0.16), vec3(0.34), smoothstep(-0.05, 0.9, up));       // the cloth
    light = mix(light, vec3(0.62), smoothstep(0.02, -0.12, up));                // the pale floor
    light *= mix(1.0, 0.55, smoothstep(0.2, -0.9, d.z) * smoothstep(-0.3, 0.1, up));
    light += 3.4 * warm * panel(d, vec3(-0.95, 0.75, 0.25), vec3(0.25, 0.0, 0.95), vec2(0.52, 0.42), 0.06);
    light += 2.2 * cool * panel(d, vec3(1.0, 0.35, 0.1), vec3(-0.1, 0.0, 1.0), vec2(0.16, 0.62), 0.04);
    light += 2.4 * panel(d, vec3(0.1, 1.0, -0.25), vec3(1.0, 0.0, 0.0), vec2(0.55, 0.26), 0.05);
    light += 1.6 * cool * panel(d, vec3(0.25, 0.4, -1.0), vec3(1.0, 0.0, 0.0), vec2(0.5, 0.10), 0.03);
    float card = panel(d, vec3(0.0, 0.3, 1.0), vec3(1.0, 0.0, 0.0), vec2(0.36, 0.30), 0.12);  // round the lens
    light *= 1.0 - 0.85 * card;
    light *= 1.0 - 0.8 * panel(d, vec3(-0.35, 0.35, 1.0), vec3(1.0, 0.0, 0.4), vec2(0.10, 0.9), 0.05);
    return light;
}

// A tall window of six panes to the left, the sky brighter above; a warm room and a wooden table.
vec3 windowRoom(vec3 d) {
    vec3 light = mix(vec3(0.13, 0.128, 0.125), vec3(0.30, 0.298, 0.295), smoothstep(-0.2, 0.9, d.y));
    light = mix(light, vec3(0.36, 0.345, 0.33), smoothstep(0.02, -0.12, d.y));
    vec3 sky = mix(vec3(3.6, 3.75, 3.9), vec3(4.6, 4.8, 5.0), smoothstep(0.1, 0.9, d.y));
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 2; ++column) {
            vec3 centre = vec3(-1.0, 0.18 + 0.36 * float(row), 0.02 + 0.5 * float(column));
            light += sky * panel(d, centre, vec3(0.0, 0.0, 1.0), vec2(0.21, 0.15), 0.012);
        }
    }
    // A white wall to the right and the ceiling give some back.
    light += 0.8 * panel(d, vec3(1.0, 0.45, 0.1), vec3(0.0, 0.0, 1.0), vec2(0.7, 0.6), 0.25);
    light += 0.7 * panel(d, vec3(-0.3, 1.0, -0.1), vec3(1.0, 0.0, 0.0), vec2(0.7, 0.7), 0.3);
    light *= 1.0 - 0.6 * panel(d, vec3(0.0, 0.25, 1.0), vec3(1.0, 0.0, 0.0), vec2(0.25, 0.5), 0.15);
    return light;
}

// Before black cloth: strips of light at both sides, one behind and one above, and a glow from below that comes up through
// clear stones.
vec3 darkField(vec3 d) {
    vec3 light = vec3(0.012);
    light += 5.0 * panel(d, vec3(-1.0, 0.25, -0.15), vec3(0.0, 0.0, 1.0), vec2(0.13, 0.75), 0.05);
    light += 5.0 * panel(d, vec3(1.0, 0.25, -0.15), vec3(0.0, 0.0, 1.0), vec2(0.13, 0.75), 0.05);
    light += 3.0 * panel(d, vec3(0.0, 0.55, -1.0), vec3(1.0, 0.0, 0.0), vec2(0.75, 0.08), 0.04);
    light += 3.2 * panel(d, vec3(0.15, 1.0, 0.1), vec3(1.0, 0.0, 0.0), vec2(0.5, 0.10), 0.04);
    light += 0.16 * smoothstep(0.1, -0.6, d.y);
    return light;
}
