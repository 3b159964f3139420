#include "light.glsl"

uniform sampler2D reflectanceTable;
#ifdef LAYERS
uniform vec3 brightReflectance, brightDip, darkReflectance, darkDip;
vec3 reflectance, edgeDip;  // of the layer that shows
#else
uniform vec3 reflectance;  // at normal incidence
uniform vec3 edgeDip;      // see edgeDip() in fresnel.hpp
#endif
uniform float finishLevel;  // of the studio, for the roughness of the metal
uniform float finishRoughness;
#ifdef SKIN
uniform sampler2D source;   // one row: the skin's reflectance at cosines from 0 to 1
#endif

vec3 metalFresnel(float cosine) {
#ifdef SKIN
    return textureLod(source, vec2(cosine, 0.5), 0.0).rgb;
#endif
    float away = 1.0 - cosine, away2 = away * away, away5 = away2 * away2 * away;
    return clamp(reflectance + (1.0 - reflectance) * away5 - edgeDip * (cosine * away5 * away), 0.0, 1.0);
}

// The share a rough metal returns of light that comes evenly from everywhere, including all bounces between facets.
vec3 metalAlbedo(float cosine, float roughness) {
    vec3 shares = textureLod(reflectanceTable, vec2(cosine, roughness), 0.0).rgb;
#ifdef SKIN
    vec3 straight = textureLod(source, vec2(1.0, 0.5), 0.0).rgb, first = metalFresnel(cosine) * (shares.x + shares.y);
#else
    vec3 straight = reflectance, first = clamp(reflectance * shares.x + shares.y - edgeDip * shares.z, 0.0, 1.0);
#endif
    return first * (1.0 + straight * (1.0 / (shares.x + shares.y) - 1.0));
}

const float BOUNCE_BLUR = 0.35;

// v turned by the angle whose cosine and sine these are.
vec2 turned(vec2 v, vec2 angle) { return vec2(v.x * angle.x - v.y * angle.y, v.x * angle.y + v.y * angle.x); }

// Light that comes into the bore goes round it by equal chords and equal steps along the axis, so its way out is known
// without following it. Moves the ray to its last bounce and returns what is left of the light.
vec3 leaveBore(inout vec3 p, inout vec3 d) {
    float across = dot(d.xy, d.xy), inward = -dot(p.xy, d.xy);
    if (across < 1e-6 || inward <= 0.0) return vec3(1.0);
    float chord = 2.0 * inward / across;
    float room = d.z > 0.0 ? extent.y - p.z : extent.y + p.z;
    // Where the number of bounces jumps, the passes of a still picture soften the step as the metal's roughness does.
    float bounces = max(room, 0.0) / max(abs(d.z) * chord, 1e-4) + BOUNCE_BLUR * (fract(picture.w * 0.618 + 0.5) - 0.5);
    bounces = clamp(floor(bounces), 0.0, 7.0);
    if (bounces < 1.0) return vec3(1.0);
    vec2 next = p.xy + chord * d.xy;
    vec2 step1 = vec2(dot(p.xy, next), p.x * next.y - p.y * next.x) / dot(p.xy, p.xy), step2 = turned(step1, step1);
    vec2 step4 = turned(step2, step2);
    vec3 left1 = metalFresnel(inward * inversesqrt(dot(p.xy, p.xy))), left2 = left1 * left1, left4 = left2 * left2;
    // The turn and the light left after 1, 2, 4 bounces, combined by the binary digits of the count.
    vec2 turn = vec2(1.0, 0.0);
    vec3 left = vec3(1.0);
    int count = int(bounces);
    if ((count & 1) != 0) { turn = step1; left = left1; }
    if ((count & 2) != 0) { turn = turned(turn, step2); left *= left2; }
    if ((count & 4) != 0) { turn = turned(turn, step4); left *= left4; }
    p = vec3(turned(p.xy, turn), p.z + bounces * chord * d.z);
    d.xy = turned(d.xy, turn);
    return left;
}

// `across` lies in the surface across the lines that the tool left; `spread` is how far those tilt it, in radians.
vec3 metalLight(vec3 p, vec3 n, vec3 toEye, vec3 across, float spread, float level, float roughness, float openness) {
    float cosine = clamp(dot(n, toEye), 0.02, 1.0);
    vec3 from = p, d = reflect(-toEye, n), left = vec3(1.0);
#ifdef BORE
    left = leaveBore(from, d);
#endif
    vec3 light = studioLight(from, d, level);
#ifdef LINES
    // The lines spread the reflection in the plane across them, which a bounce in the bore does not change.
    vec3 fan = 2.0 * spread * across;
    light = 0.4 * light + 0.3 * (studioLight(from, d + fan, level) + studioLight(from, d - fan, level));
#endif
    // Between the walls of an opening, light that does not come straight in is reflected by the metal.
    vec3 seen = openness / (1.0 - reflectance * (1.0 - openness));
    return light * floorShadow(from, d) * left * metalAlbedo(cosine, roughness) * seen;
}
