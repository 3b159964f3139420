in vec4 tint;
out vec4 colour;

void main() { colour = vec4(tint.rgb * tint.a, tint.a); }
