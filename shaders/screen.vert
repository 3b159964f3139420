// One triangle that covers the picture.
out vec2 place;  // 0..1, from the lower left corner

void main() {
    place = vec2(gl_VertexID & 1, gl_VertexID >> 1) * 2.0;
    gl_Position = vec4(2.0 * place - 1.0, 1.0, 1.0);
}
