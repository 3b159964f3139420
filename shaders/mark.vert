layout(location = 0) in vec2 position;  // clip space
layout(location = 1) in vec4 shade;
out vec4 tint;

void main() {
    tint = shade;
    gl_Position = vec4(position, 0.0, 1.0);
}
