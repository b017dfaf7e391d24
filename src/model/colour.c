/* Colour: sRGB, linear light, CIELAB (D50), CIEDE2000. SPDX-License-Identifier: MIT */
#include "model/colour.h"

#include "base/geom.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* IEC 61966-2-1. */
double srgb_to_linear(double v) {
    return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
}

double linear_to_srgb(double v) {
    return v <= 0.0031308 ? v * 12.92 : 1.055 * pow(v, 1 / 2.4) - 0.055;
}

Linear rgb8_linear(Rgb8 c) {
    return (Linear){srgb_to_linear(c.r / 255.0), srgb_to_linear(c.g / 255.0), srgb_to_linear(c.b / 255.0)};
}

static uint8_t to_byte(double linear) {
    if (!(linear > 0)) return 0;
    if (linear >= 1) return 255;
    return (uint8_t)(linear_to_srgb(linear) * 255 + 0.5);
}

Rgb8 linear_rgb8(Linear c) {
    return (Rgb8){to_byte(c.r), to_byte(c.g), to_byte(c.b)};
}

/* The f of CIELAB (CIE 15), with the exact rational bounds. */
static double lab_f(double t) {
    return t > 216.0 / 24389 ? cbrt(t) : (24389.0 / 27 * t + 16) / 116;
}

/* sRGB primaries and D65 (0.3127, 0.3290) to XYZ, times Bradford to the ICC's D50 (0.9642, 1, 0.8249):
 * computed from those numbers; the rows add up to D50, so that a grey has a = b = 0. */
Lab linear_lab(Linear c) {
    double x = 0.4360412516 * c.r + 0.3851129108 * c.g + 0.1430458376 * c.b;
    double y = 0.2224845402 * c.r + 0.7169050786 * c.g + 0.0606103812 * c.b;
    double z = 0.0139201875 * c.r + 0.0970672387 * c.g + 0.7139125738 * c.b;
    double fx = lab_f(x / 0.9642), fy = lab_f(y), fz = lab_f(z / 0.8249);
    return (Lab){116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

Lab rgb8_lab(Rgb8 c) {
    return linear_lab(rgb8_linear(c));
}

double rgb8_chroma(Rgb8 c) {
    Lab lab = rgb8_lab(c);
    return sqrt(lab.a * lab.a + lab.b * lab.b);
}

static double cos_degrees(double degrees) {
    return cos(degrees * (PI / 180));
}

static double hue_degrees(double a, double b) {
    if (a == 0 && b == 0) return 0;
    double h = atan2(b, a) * (180 / PI);
    return h < 0 ? h + 360 : h;
}

static double seventh_root_term(double chroma) {
    double c2 = chroma * chroma, c7 = c2 * c2 * c2 * chroma;
    return sqrt(c7 / (c7 + 6103515625.0)); /* 25^7 */
}

/* Sharma, Wu & Dalal 2005: difference of hue, eq. 10, and mean hue, eq. 14. Both hues in 0..360. */
static double hue_difference(double h1, double h2) {
    double d = h2 - h1;
    return d > 180 ? d - 360 : d < -180 ? d + 360 : d;
}

static double hue_mean(double h1, double h2) {
    double sum = h1 + h2;
    if (fabs(h1 - h2) <= 180) return sum / 2;
    return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
}

/* Sharma, Wu & Dalal 2005, equations 2 to 22. */
double delta_e00(Lab p, Lab q) {
    double c_mean = (hypot(p.a, p.b) + hypot(q.a, q.b)) / 2;
    double stretch = 1.5 - 0.5 * seventh_root_term(c_mean);
    double a1 = p.a * stretch, a2 = q.a * stretch;
    double c1 = hypot(a1, p.b), c2 = hypot(a2, q.b);
    double h1 = hue_degrees(a1, p.b), h2 = hue_degrees(a2, q.b);
    bool grey = c1 * c2 == 0;
    double dl = q.l - p.l, dc = c2 - c1;
    double dh = grey ? 0 : 2 * sqrt(c1 * c2) * sin(hue_difference(h1, h2) * (PI / 360));
    double l = (p.l + q.l) / 2, c = (c1 + c2) / 2, h = grey ? h1 + h2 : hue_mean(h1, h2);
    double t = 1 - 0.17 * cos_degrees(h - 30) + 0.24 * cos_degrees(2 * h) + 0.32 * cos_degrees(3 * h + 6) -
               0.20 * cos_degrees(4 * h - 63);
    double l50 = (l - 50) * (l - 50), turn = (h - 275) / 25;
    double sl = 1 + 0.015 * l50 / sqrt(20 + l50), sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;
    double rt = -2 * seventh_root_term(c) * sin(60 * exp(-turn * turn) * (PI / 180));
    double u = dl / sl, v = dc / sc, w = dh / sh;
    return sqrt(fmax(0, u * u + v * v + w * w + rt * v * w));
}

bool rgb8_parse(const char *text, Rgb8 *out) {
    if (*text == '#') text++;
    if (strlen(text) != 6 || strspn(text, "0123456789abcdefABCDEF") != 6) return false;
    unsigned long code = strtoul(text, NULL, 16);
    *out = (Rgb8){(uint8_t)(code >> 16), (uint8_t)(code >> 8), (uint8_t)code};
    return true;
}

void rgb8_code(Rgb8 c, char out[RGB8_CODE]) {
    (void)snprintf(out, RGB8_CODE, "#%02X%02X%02X", c.r, c.g, c.b);
}
