#include "frame.glsl"

uniform int studioKind;  // as in studio.frag
uniform vec2 tileScale, tileCorner;  // of this part in the whole picture
in vec2 place;
out vec4 colour;

// Paper that curves from the floor up behind the ring; already sRGB.
void main() {
    vec2 p = (tileCorner + tileScale * place - vec2(0.5, 0.46)) * vec2(picture.x / picture.y, 1.0);
    float pool = 1.0 / (1.0 + 2.2 * dot(p, p));
    vec3 far = vec3(0.60, 0.61, 0.62), near = vec3(0.93, 0.93, 0.928);
    if (studioKind == 2) {
        far = vec3(0.42, 0.40, 0.385);
        near = vec3(0.80, 0.785, 0.77);
        p.x += 0.25;
    }
    if (studioKind == 3) {
        far = vec3(0.035, 0.036, 0.04);
        near = vec3(0.13, 0.132, 0.14);
    }
    vec3 paper = mix(far, near, pool) * (tent.z < 1.0 ? 0.08 : 1.0);
    colour = vec4(paper + dither(gl_FragCoord.xy, picture.w) / 255.0, 1.0);  // against bands in the gradient
}
