#include "cube.glsl"
#include "studio.glsl"

uniform int face;
uniform int studioKind;  // 0 light tent, 1 even light, 2 window, 3 dark field
in vec2 place;
out vec4 colour;

void main() { 
    vec3 d = cubeDirection(face, place);
    vec3 light = studioKind == 0 ? lightTent(d) : studioKind == 1 ? vec3(1.0) : studioKind == 2 ? windowRoom(d) : darkField(d);
    colour = vec4(light, 1.0);
 }
