#include "frame.glsl"

in vec2 place;
out vec4 colour;

void main() {
    vec2 p = (place - vec2(0.5, 0.46)) * vec2(picture.x / picture.y, 1.0);
    float pool = exp(-1.6 * dot(p, p));
    vec3 light = mix(vec3(0.40, 0.405, 0.415), vec3(0.80, 0.80, 0.795), pool) * tent.z;
    float grain = random3(ivec3(gl_FragCoord.xy, int(picture.w))).x - 0.5;
    vec3 shade = shown(light);
    colour = vec4(shade + grain / 255.0 * 2.0 * sqrt(shade), 1.0);  // against bands in the gradient
}
