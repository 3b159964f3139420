#include "frame.glsl"

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float openness;
layout(location = 3) in float wall;
out vec3 ringPosition, stagePosition, stageNormal;
out float open, wallHere;

void main() {
    vec4 onStage = ringToStage * vec4(position, 1.0);
    ringPosition = position;
    stagePosition = onStage.xyz;
    stageNormal = mat3(ringToStage) * normal;
    open = openness;
    wallHere = wall;
    gl_Position = stageToClip * onStage;
    gl_ClipDistance[0] = dot(cut.xyz, position) + cut.w;
}
