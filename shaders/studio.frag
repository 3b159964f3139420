#include "cube.glsl"
#include "studio.glsl"

uniform int face;
uniform int studioKind;  // 0 light tent, 1 even light
in vec2 place;
out vec4 colour;

void main() { colour = vec4(studioKind == 1 ? vec3(1.0) : lightTent(cubeDirection(face, place)), 1.0); }
