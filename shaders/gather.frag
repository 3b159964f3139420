// One more pass of a still picture, added to those before.
uniform sampler2D source;
in vec2 place;
out vec4 colour;

void main() { colour = texture(source, place); }
