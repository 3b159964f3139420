// The light tent, as seen from the ring: y up, the camera towards +z.
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
