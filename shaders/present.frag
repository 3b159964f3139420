// The mean of the passes, as sRGB bytes with straight alpha.
#include "frame.glsl"

uniform sampler2D source;
uniform float passes;
in vec2 place;
out vec4 colour;

void main() {
    vec4 mean = texture(source, place) / passes;
    colour = vec4(encoded(mean.rgb / max(mean.a, 1e-4)), mean.a);
}
