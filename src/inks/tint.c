/* Colours with alpha, mixed and compared. SPDX-License-Identifier: MIT
 *
 * Mixes: the point of the line (or triangle) nearest to the colour, by least squares in the space of the mix;
 * then CIEDE2000 between it and the colour. JPEG keeps lightness sharper than hue (chroma at half the
 * resolution), so near an edge the two may be at different places between a and b: parts up to JPEG_LAG apart
 * are taken as one mix. */
#include "inks/steps.h"

#include <math.h>
#include <string.h>

/* OKLab per CIEDE2000: nearer than this times the limit is within it. Measured on 6 million pairs: 0.0021 to
 * 0.0026 for limits 1 to 10. */
#define NEAR_WITHIN 0.002f
#define NEAR_BEYOND 0.16f /* OKLab: farther than this is over CIEDE2000 10 (measured likewise: 0.156) */
#define JPEG_LAG 0.6f     /* how far apart lightness and hue may be on their way; measured on our pictures */
#define PAPER_L 92.0      /* CIELAB; ours, as the next: what prints and JPEGs have for white paper */
#define PAPER_CHROMA 8.0
#define SAME_LIGHTNESS 0.04f /* encoded values nearer than this tell no place on the way */

/* ITU-R BT.601, as JPEG uses it: Y from red, green, blue; Cb from blue - Y, Cr from red - Y. */
#define Y_RED 0.299f
#define Y_GREEN 0.587f
#define Y_BLUE 0.114f
#define CB_BLUE 0.564f
#define CR_RED 0.713f

void tint_tables(TintTables *tables) {
    for (int v = 0; v < 256; v++) tables->linear[v] = (float)rgb8_linear((Rgb8){(uint8_t)v, 0, 0}).r;
    for (int i = 0; i <= 2048; i++) tables->root[i] = (float)cbrt(i / 2048.0);
}

static float root_of(const TintTables *tables, float v) {
    if (v < 16 / 2048.0f || v >= 1) return cbrtf(v);
    float at = v * 2048;
    int i = (int)at;
    return tables->root[i] + (at - (float)i) * (tables->root[i + 1] - tables->root[i]);
}

/* OKLab of the linear part, by Ottosson's matrices (tests/oklab.h has them in double). tables: NULL = exact
 * roots.
 */
static void fill_ok(const TintTables *tables, Tint *t) {
    float alpha = t->linear[3];
    if (alpha <= 0) return;
    float r = t->linear[0] / alpha, g = t->linear[1] / alpha, b = t->linear[2] / alpha;
    float l = 0.4122214708f * r + 0.5363325363f * g + 0.0514459929f * b;
    float m = 0.2119034982f * r + 0.6806995451f * g + 0.1073969566f * b;
    float s = 0.0883024619f * r + 0.2817188376f * g + 0.6299787005f * b;
    l = tables ? root_of(tables, l) : cbrtf(l);
    m = tables ? root_of(tables, m) : cbrtf(m);
    s = tables ? root_of(tables, s) : cbrtf(s);
    t->ok[0] = alpha * (0.2104542553f * l + 0.7936177850f * m - 0.0040720468f * s);
    t->ok[1] = alpha * (1.9779984951f * l - 2.4285922050f * m + 0.4505937099f * s);
    t->ok[2] = alpha * (0.0259040371f * l + 0.7827717662f * m - 0.8086757660f * s);
    t->ok[3] = alpha;
}

Tint tint_of_pixel(const TintTables *tables, const uint8_t rgba[4]) {
    float alpha = (float)rgba[3] / 255;
    Tint t = {.linear = {tables->linear[rgba[0]] * alpha, tables->linear[rgba[1]] * alpha,
                         tables->linear[rgba[2]] * alpha, alpha},
              .encoded = {(float)rgba[0] / 255 * alpha, (float)rgba[1] / 255 * alpha,
                          (float)rgba[2] / 255 * alpha, alpha}};
    fill_ok(tables, &t);
    return t;
}

static float clamp(float v, float low, float high) {
    return v < low ? low : v > high ? high : v;
}

Tint tint_of_linear(const float p[4]) {
    Tint t = {0};
    float alpha = t.linear[3] = t.encoded[3] = clamp(p[3], 0, 1);
    for (int i = 0; i < 3; i++) {
        t.linear[i] = clamp(p[i], 0, alpha);
        if (alpha > 0) t.encoded[i] = alpha * (float)linear_to_srgb((double)(t.linear[i] / alpha));
    }
    fill_ok(NULL, &t);
    return t;
}

Tint tint_of_encoded(const float p[4]) {
    Tint t = {0};
    float alpha = t.linear[3] = t.encoded[3] = clamp(p[3], 0, 1);
    for (int i = 0; i < 3; i++) {
        t.encoded[i] = clamp(p[i], 0, alpha);
        if (alpha > 0) t.linear[i] = alpha * (float)srgb_to_linear((double)(t.encoded[i] / alpha));
    }
    fill_ok(NULL, &t);
    return t;
}

/* As it looks over a grey ground of so much linear light. */
static Linear over(const Tint *t, float ground) {
    float rest = ground * (1 - t->linear[3]);
    return (Linear){(double)(t->linear[0] + rest), (double)(t->linear[1] + rest),
                    (double)(t->linear[2] + rest)};
}

Rgb8 tint_rgb8(const Tint *tint) {
    return linear_rgb8(over(tint, 1));
}

bool tint_transparent(const Tint *tint) {
    return tint->linear[3] < 0.5f;
}

bool is_paper(Rgb8 colour) {
    Lab lab = rgb8_lab(colour);
    return lab.l >= PAPER_L && lab.a * lab.a + lab.b * lab.b <= PAPER_CHROMA * PAPER_CHROMA;
}

float tint_near(const Tint *p, const Tint *q) {
    float sum = 0;
    for (int i = 0; i < 4; i++) sum += (p->ok[i] - q->ok[i]) * (p->ok[i] - q->ok[i]);
    return sum;
}

double tint_distance(const Tint *p, const Tint *q) {
    double white = delta_e00(linear_lab(over(p, 1)), linear_lab(over(q, 1)));
    if (p->linear[3] >= 1 && q->linear[3] >= 1) return white;
    return fmax(white, delta_e00(linear_lab(over(p, 0)), linear_lab(over(q, 0))));
}

bool tint_within(const Tint *p, const Tint *q, double limit) {
    if (p->linear[3] >= 1 && q->linear[3] >= 1) {
        float near = tint_near(p, q), sure = NEAR_WITHIN * (float)limit;
        if (near <= sure * sure) return true;
        if (near > NEAR_BEYOND * NEAR_BEYOND) return false;
    }
    return tint_distance(p, q) <= limit;
}

/* The place on the way from a to b nearest to p, 0..1. */
static float place(const float *p, const float *a, const float *b, int size) {
    float along = 0, length2 = 0;
    for (int i = 0; i < size; i++) {
        along += (p[i] - a[i]) * (b[i] - a[i]);
        length2 += (b[i] - a[i]) * (b[i] - a[i]);
    }
    return length2 > 0 ? clamp(along / length2, 0, 1) : 0;
}

static void between(const float *a, const float *b, float t, float out[4]) {
    for (int i = 0; i < 4; i++) out[i] = a[i] + t * (b[i] - a[i]);
}

/* Y, Cb, Cr of red, green, blue, and back. */
static void luma_chroma(const float *c, float out[3]) {
    out[0] = Y_RED * c[0] + Y_GREEN * c[1] + Y_BLUE * c[2];
    out[1] = CB_BLUE * (c[2] - out[0]);
    out[2] = CR_RED * (c[0] - out[0]);
}

static void red_green_blue(const float y[3], float out[3]) {
    out[0] = y[0] + y[2] / CR_RED;
    out[2] = y[0] + y[1] / CB_BLUE;
    out[1] = (y[0] - Y_RED * out[0] - Y_BLUE * out[2]) / Y_GREEN;
}

/* Is p a mix of a and b whose lightness may be at another place on the way than its hue? */
static bool jpeg_mix(const Tint *p, const Tint *a, const Tint *b, double limit) {
    float yp[3], ya[3], yb[3];
    if (p->linear[3] < 1 || a->linear[3] < 1 || b->linear[3] < 1) return false;
    luma_chroma(p->encoded, yp);
    luma_chroma(a->encoded, ya);
    luma_chroma(b->encoded, yb);
    float light = place(yp, ya, yb, 1), hue = place(yp + 1, ya + 1, yb + 1, 2);
    if (fabsf(yb[0] - ya[0]) < SAME_LIGHTNESS) light = hue;
    if (hypotf(yb[1] - ya[1], yb[2] - ya[2]) < SAME_LIGHTNESS) hue = light;
    if (fabsf(light - hue) > JPEG_LAG) return false;
    float mixed[3], rgb[4] = {0, 0, 0, 1};
    mixed[0] = ya[0] + light * (yb[0] - ya[0]);
    for (int i = 1; i < 3; i++) mixed[i] = ya[i] + hue * (yb[i] - ya[i]);
    red_green_blue(mixed, rgb);
    Tint mix = tint_of_encoded(rgb);
    return tint_within(p, &mix, limit);
}

bool tint_mix(const Tint *p, const Tint *a, const Tint *b, double limit, bool linear, double *part) {
    float mixed[4], in_linear = place(p->linear, a->linear, b->linear, 4);
    float in_encoded = place(p->encoded, a->encoded, b->encoded, 4);
    between(a->linear, b->linear, in_linear, mixed);
    Tint mix = tint_of_linear(mixed);
    bool is_mix = tint_within(p, &mix, limit);
    if (!is_mix) {
        between(a->encoded, b->encoded, in_encoded, mixed);
        mix = tint_of_encoded(mixed);
        is_mix = tint_within(p, &mix, limit) || jpeg_mix(p, a, b, limit);
    }
    if (is_mix) *part = (double)(linear ? in_linear : in_encoded);
    return is_mix;
}

/* Least squares parts of three; false if the nearest point of the plane lies outside the triangle. */
static bool parts_of_three(const float *p, const float *a, const float *b, const float *c, float part[3]) {
    float uu = 0, uv = 0, vv = 0, up = 0, vp = 0;
    for (int i = 0; i < 4; i++) {
        float u = b[i] - a[i], v = c[i] - a[i], w = p[i] - a[i];
        uu += u * u, uv += u * v, vv += v * v, up += u * w, vp += v * w;
    }
    float det = uu * vv - uv * uv;
    if (det < 1e-6f) return false;
    part[1] = (up * vv - vp * uv) / det;
    part[2] = (vp * uu - up * uv) / det;
    part[0] = 1 - part[1] - part[2];
    return part[0] >= 0 && part[1] >= 0 && part[2] >= 0;
}

bool tint_mix3(const Tint *p, const Tint *const of[3], double limit, int *most) {
    for (int space = 0; space < 2; space++) {
        const float *from = space ? p->encoded : p->linear, *c[3];
        float part[3], mixed[4];
        for (int k = 0; k < 3; k++) c[k] = space ? of[k]->encoded : of[k]->linear;
        if (!parts_of_three(from, c[0], c[1], c[2], part)) continue;
        for (int i = 0; i < 4; i++) mixed[i] = part[0] * c[0][i] + part[1] * c[1][i] + part[2] * c[2][i];
        Tint mix = space ? tint_of_encoded(mixed) : tint_of_linear(mixed);
        if (!tint_within(p, &mix, limit)) continue;
        *most = part[0] >= part[1] && part[0] >= part[2] ? 0 : part[1] >= part[2] ? 1 : 2;
        return true;
    }
    return false;
}
