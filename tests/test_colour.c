/* Tests of src/model/colour.c. SPDX-License-Identifier: MIT */
#include "model/colour.h"
#include "oklab.h"

#include <lcms2.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.12g, want %.12g", got, want);
}

/* Sharma, Wu & Dalal, Color Res. Appl. 30 (2005) 21-30, table 1: printed to four decimals. */
static void ciede2000_gives_the_34_published_pairs_in_both_orders(void **state) {
    (void)state;
    FILE *file = fopen("tests/ciede2000-sharma-2005.csv", "r");
    assert_non_null(file);
    char line[256];
    int pairs = 0;
    assert_non_null(fgets(line, sizeof line, file));
    while (fgets(line, sizeof line, file)) {
        Lab p, q;
        double want;
        assert_int_equal(
            sscanf(line, "%lf,%lf,%lf,%lf,%lf,%lf,%lf", &p.l, &p.a, &p.b, &q.l, &q.a, &q.b, &want), 7);
        near(delta_e00(p, q), want, 1e-4);
        near(delta_e00(q, p), want, 1e-4);
        pairs++;
    }
    fclose(file);
    assert_int_equal(pairs, 34);
}

static Rgb8 lattice(int i, int step) {
    int side = 255 / step + 1;
    return (Rgb8){(uint8_t)(i % side * step), (uint8_t)(i / side % side * step),
                  (uint8_t)(i / side / side * step)};
}

static void ciede2000_agrees_with_lcms_on_a_lattice(void **state) {
    (void)state;
    for (int i = 0; i < 6 * 6 * 6; i++)
        for (int j = 0; j < 6 * 6 * 6; j += 5) {
            Lab p = rgb8_lab(lattice(i, 51)), q = rgb8_lab(lattice(j, 51));
            cmsCIELab cp = {p.l, p.a, p.b}, cq = {q.l, q.a, q.b};
            near(delta_e00(p, q), cmsCIE2000DeltaE(&cp, &cq, 1, 1, 1), 1e-6);
            if (delta_e00(p, q) != delta_e00(q, p)) fail_msg("not symmetric: %d %d", i, j);
        }
    near(delta_e00(rgb8_lab((Rgb8){1, 200, 3}), rgb8_lab((Rgb8){1, 200, 3})), 0, 0);
}

/* Both sides compute the matrix from the same primaries and white; ours is written with ten decimals, theirs
 * passes through single precision: the worst difference found is 2e-5, at the dark end, where the curve of
 * Lab is steepest. */
static void lab_agrees_with_lcms_on_a_lattice(void **state) {
    (void)state;
    cmsHPROFILE srgb = cmsCreate_sRGBProfile(), lab = cmsCreateLab4Profile(NULL);
    cmsHTRANSFORM transform = cmsCreateTransform(srgb, TYPE_RGB_DBL, lab, TYPE_Lab_DBL,
                                                 INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
    assert_non_null(transform);
    double worst = 0;
    for (int i = 0; i < 18 * 18 * 18; i++) {
        Rgb8 c = lattice(i, 15);
        double in[3] = {c.r / 255.0, c.g / 255.0, c.b / 255.0};
        cmsCIELab want;
        cmsDoTransform(transform, in, &want, 1);
        Lab got = rgb8_lab(c);
        worst = fmax(worst, fmax(fabs(got.l - want.L), fmax(fabs(got.a - want.a), fabs(got.b - want.b))));
    }
    cmsDeleteTransform(transform);
    cmsCloseProfile(srgb);
    cmsCloseProfile(lab);
    near(worst, 0, 1e-4);
}

/* Ottosson, "A perceptual color space for image processing" (2020): table of XYZ and OKLab pairs. */
static void oklab_gives_the_published_pairs(void **state) {
    (void)state;
    static const struct {
        Xyz xyz;
        Oklab lab;
    } row[4] = {{{0.950, 1.000, 1.089}, {1.000, 0.000, 0.000}},
                {{1, 0, 0}, {0.450, 1.236, -0.019}},
                {{0, 1, 0}, {0.922, -0.671, 0.263}},
                {{0, 0, 1}, {0.153, -1.415, -0.449}}};
    for (int i = 0; i < 4; i++) {
        Oklab got = xyz_oklab(row[i].xyz);
        near(got.l, row[i].lab.l, 0.0005);
        near(got.a, row[i].lab.a, 0.0005);
        near(got.b, row[i].lab.b, 0.0005);
    }
}

/* sRGB to XYZ (D65): IEC 61966-2-1, the four-decimal matrix. */
static void oklab_from_srgb_and_from_xyz_agree(void **state) {
    (void)state;
    for (int i = 0; i < 6 * 6 * 6; i++) {
        Linear c = rgb8_linear(lattice(i, 51));
        Xyz xyz = {0.4124 * c.r + 0.3576 * c.g + 0.1805 * c.b, 0.2126 * c.r + 0.7152 * c.g + 0.0722 * c.b,
                   0.0193 * c.r + 0.1192 * c.g + 0.9505 * c.b};
        Oklab p = linear_oklab(c), q = xyz_oklab(xyz);
        near(p.l, q.l, 0.001);
        near(p.a, q.a, 0.001);
        near(p.b, q.b, 0.001);
    }
    Oklab white = linear_oklab((Linear){1, 1, 1});
    near(white.l, 1, 1e-6);
    near(hypot(white.a, white.b), 0, 1e-6);
}

/* The transfer function: IEC 61966-2-1. */
static void every_byte_survives_linear_light(void **state) {
    (void)state;
    for (int v = 0; v < 256; v++) {
        Linear c = rgb8_linear((Rgb8){(uint8_t)v, (uint8_t)(255 - v), 0});
        near(c.r, srgb_to_linear(v / 255.0), 1e-16);
        near(linear_to_srgb(c.r), v / 255.0, 1e-5); /* the two pieces meet to 1e-5 only, as published */
        Rgb8 back = linear_rgb8(c);
        assert_int_equal(back.r, v);
        assert_int_equal(back.g, 255 - v);
    }
    near(srgb_to_linear(0.5), 0.21404114048223255, 1e-15);
    Rgb8 clamped = linear_rgb8((Linear){-0.5, 1.5, (double)NAN});
    assert_int_equal(clamped.r, 0);
    assert_int_equal(clamped.g, 255);
    assert_int_equal(clamped.b, 0);
}

static void a_colour_is_read_with_and_without_its_mark(void **state) {
    (void)state;
    Rgb8 c = {0};
    assert_true(rgb8_parse("#20aBFf", &c));
    assert_int_equal(c.r << 16 | c.g << 8 | c.b, 0x20ABFF);
    assert_true(rgb8_parse("010203", &c));
    assert_int_equal(c.r << 16 | c.g << 8 | c.b, 0x010203);
    static const char *const bad[] = {"",        "#",        "#12345",   "1234567",
                                      "#12345g", "##123456", "#123456 ", " 123456"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        if (rgb8_parse(bad[i], &c)) fail_msg("taken: '%s'", bad[i]);
        assert_int_equal(c.r << 16 | c.g << 8 | c.b, 0x010203);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ciede2000_gives_the_34_published_pairs_in_both_orders),
        cmocka_unit_test(ciede2000_agrees_with_lcms_on_a_lattice),
        cmocka_unit_test(lab_agrees_with_lcms_on_a_lattice),
        cmocka_unit_test(oklab_gives_the_published_pairs),
        cmocka_unit_test(oklab_from_srgb_and_from_xyz_agree),
        cmocka_unit_test(every_byte_survives_linear_light),
        cmocka_unit_test(a_colour_is_read_with_and_without_its_mark)};
    return cmocka_run_group_tests_name("colour", tests, NULL, NULL);
}
