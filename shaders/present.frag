// The mean of the passes, as sRGB bytes with straight alpha.
uniform sampler2D source;
uniform float passes;
in vec2 place;
out vec4 colour;

void main() {
    vec4 mean = texture(source, place) / passes;
    vec3 light = clamp(mean.rgb / max(mean.a, 1e-4), 0.0, 1.0);
    vec3 encoded = mix(12.92 * light, 1.055 * pow(light, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, light));
    colour = vec4(encoded, mean.a);
}
