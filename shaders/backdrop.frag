#include "frame.glsl"

in vec2 place;
out vec4 colour;

// Paper that runs from the floor up behind the ring; already as sRGB.
void main() {
    vec2 p = (place - vec2(0.5, 0.46)) * vec2(picture.x / picture.y, 1.0);
    float pool = 1.0 / (1.0 + 2.2 * dot(p, p));
    vec3 paper = mix(vec3(0.60, 0.61, 0.62), vec3(0.93, 0.93, 0.928), pool) * (tent.z < 1.0 ? 0.08 : 1.0);
    // Against bands in the gradient: interleaved gradient noise (Jimenez, SIGGRAPH 2014 course).
    float grain = fract(52.9829189 * fract(dot(gl_FragCoord.xy + 5.588238 * picture.w, vec2(0.06711056, 0.00583715))));
    colour = vec4(paper + (grain - 0.5) / 255.0, 1.0);
}
