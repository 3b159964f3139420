// Mean of both polarisations for light that meets the boundary at cosine `c` on its own side; n: index beyond over index
// before. 1 when all is reflected.
float dielectric(float c, float n) {
    float g2 = n * n - 1.0 + c * c;
    if (g2 <= 0.0) return 1.0;
    float g = sqrt(g2), a = (g - c) / (g + c), b = (c * (g + c) - 1.0) / (c * (g - c) + 1.0);
    return 0.5 * a * a * (1.0 + b * b);
}
