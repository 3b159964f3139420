// Lays one picture over another, where it covers that.
uniform sampler2D source;
in vec2 place;
out vec4 colour;

void main() { colour = texture(source, place); }
