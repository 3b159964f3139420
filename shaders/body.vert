#include "frame.glsl"

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float openness;
layout(location = 3) in float wall;
uniform vec3 shift;  // how far the body is moved from its place
out vec3 ringPosition, stagePosition, stageNormal;
out float open, wallHere;

void main() {
    vec4 onStage = ringToStage * vec4(position + shift, 1.0);
    ringPosition = position;
    stagePosition = onStage.xyz;
    stageNormal = mat3(ringToStage) * normal;
    open = openness;
    wallHere = wall;
    gl_Position = stageToClip * onStage;
    gl_ClipDistance[0] = dot(cut[0].xyz, position) + cut[0].w;
    gl_ClipDistance[1] = dot(cut[1].xyz, position) + cut[1].w;
}
