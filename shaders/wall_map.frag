#include "light.glsl"

uniform sampler2D source;      // one row: the scale's colours from thin to thick
uniform vec2 wallScale;        // mm: least, most
in vec3 stagePosition, stageNormal;
in float open, wallHere;
out vec4 colour;

void main() {
    float share = clamp((wallHere - wallScale.x) / (wallScale.y - wallScale.x), 0.0, 1.0);
    vec3 tint = texture(source, vec2(share, 0.5)).rgb;
    vec3 light = studioLight(stagePosition, normalize(stageNormal), MATT);
    float brightness = dot(light, vec3(0.2126, 0.7152, 0.0722));
    colour = vec4(encoded(tint * mix(0.75, 1.1, smoothstep(0.1, 1.0, brightness)) * mix(0.6, 1.0, open)), 1.0);
}
