// Play of colour: the lattice of silica spheres in opal mirrors only the wavelength that fits its spacing (Bragg), so
// the hue shifts to blue as it is turned away.
const float OPAL_INDEX = 1.45;

// Eye's response to one wavelength, nm, as linear sRGB without its negative part; bell curves fitted by eye to the CIE 1931
// observer.
vec3 spectral(float wavelength) {
    vec3 d = (vec3(wavelength) - vec3(605.0, 540.0, 455.0)) / vec3(42.0, 38.0, 28.0);
    vec3 rgb = exp(-0.5 * d * d);
    float violet = (wavelength - 425.0) / 18.0;
    rgb.r += 0.18 * exp(-0.5 * violet * violet);
    return rgb;
}

// `into`: the ray to the eye, turned round, inside the stone; `lattice`: the normal of its layers; spacing in nm.
vec3 braggHue(vec3 into, vec3 lattice, float spacing) {
    return spectral(2.0 * OPAL_INDEX * spacing * max(dot(-into, lattice), 0.0));
}
