#include "frame.glsl"

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float openness;
layout(location = 3) in float wall;
uniform vec3 shift;  // how far the body is moved from its place; BAKED: in the texture
out vec3 ringPosition, stagePosition, stageNormal;
out float open, wallHere;

void main() {
#ifdef BAKED
    vec4 onStage = ringToStage * vec4(position, 1.0);
#else
    vec4 onStage = ringToStage * vec4(position + shift, 1.0);
#endif
    ringPosition = position;
    stagePosition = onStage.xyz;
    stageNormal = mat3(ringToStage) * normal;
#ifdef BAKED
    // The surface is laid flat: a vertex carries its place in the texture.
    open = 1.0;
    wallHere = 0.0;
    gl_Position = vec4(2.0 * (vec2(openness, wall) + shift.xy) - 1.0, 0.0, 1.0);
    return;
#endif
    open = openness;
    wallHere = wall;
    gl_Position = stageToClip * onStage;
    gl_ClipDistance[0] = dot(cut[0].xyz, position) + cut[0].w;
    gl_ClipDistance[1] = dot(cut[1].xyz, position) + cut[1].w;
}
