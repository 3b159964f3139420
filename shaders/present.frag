// The mean of the passes, as sRGB bytes with straight alpha.
#include "frame.glsl"

uniform sampler2D source;
uniform float passes;
in vec2 place;
out vec4 colour;

void main() {
    vec4 mean = texture(source, place) / passes;
    // The mean of many passes has finer steps than can be shown, so it gets the same grain against bands as each pass.
    float step_ = (1.0 - 1.0 / passes) / 255.0;
    colour = vec4(encoded(mean.rgb / max(mean.a, 1e-4)) + step_ * dither(gl_FragCoord.xy, passes), mean.a);
}
