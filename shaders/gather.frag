// One more pass of a still picture, as light, added to those before.
#include "frame.glsl"

uniform sampler2D source;
in vec2 place;
out vec4 colour;

void main() {
    vec4 pass = texture(source, place);
    colour = vec4(decoded(pass.rgb / max(pass.a, 1e-4)) * pass.a, pass.a);
}
