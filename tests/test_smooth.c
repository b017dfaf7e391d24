/* Tests of src/draw/smooth.c. SPDX-License-Identifier: MIT */
#include "draw/cut_end.h"

#include "face_job.h"

static int plain(double x, double y) {
    (void)x;
    (void)y;
    return 0;
}

static int slanting(double x, double y) {
    return y > 0.09 * x + 3.3;
}

static int motifs_mirrored(double x, double y) {
    return motifs(-x, y);
}

static Smooth make(Motif *motif, Face *face) {
    Smooth smooth;
    Err err = {0};
    fill_face(motif, face);
    if (!smooth_make(face, 3, &smooth, &err)) fail_msg("%s", err.msg);
    return smooth;
}

static void areas_stay_as_in_the_raster(void **state) {
    (void)state;
    Face face;
    Smooth smooth = make(motifs, &face);
    double want[3] = {0}, got[3] = {0};
    for (int i = 0; i < RASTER * RASTER; i++) {
        if (face.candy[i] == OUTSIDE) continue;
        want[face.candy[i]]++;
        for (int k = 0; k < 16; k++)
            got[smooth_candy(&smooth, i % RASTER + (k % 4 + 0.5) / 4,
                             (int)(i / RASTER) + ((int)(k / 4) + 0.5) / 4)] += 1.0 / 16;
    }
    near(got[1], want[1], 0.005 * want[1]);
    near(got[2], want[2], 0.01 * want[2]);
    smooth_free(&smooth);
    face_free(&face);
}

/* The raster's own stairs are one sample high, so half a sample off the line. */
static void a_slanting_border_has_no_stairs(void **state) {
    (void)state;
    Face face;
    Smooth smooth = make(slanting, &face);
    double mean = 0, off[160];
    for (int i = 0; i < 160; i++) {
        double x = 80.25 + i, low = 100, high = 220;
        for (int k = 0; k < 30; k++) {
            double y = (low + high) / 2;
            if (smooth_candy(&smooth, x, y) == 1)
                high = y;
            else
                low = y;
        }
        off[i] = low - (RASTER / 2.0 + 3.3 + 0.09 * (x - RASTER / 2.0));
        mean += off[i] / 160;
    }
    near(mean, 0, 0.06);
    for (int i = 0; i < 160; i++) near(off[i] - mean, 0, 0.3);
    smooth_free(&smooth);
    face_free(&face);
}

static void a_mirrored_raster_gives_mirrored_shapes(void **state) {
    (void)state;
    Face face, other;
    Smooth a = make(motifs, &face), b = make(motifs_mirrored, &other);
    for (int i = 0; i < 20000; i++) {
        double x = i % 200 * RASTER / 200.0 + 0.3, y = (int)(i / 200) * RASTER / 100.0 + 0.2;
        if (smooth_read(a.margin, RASTER, x, y) < 1e-4) continue; /* on a border either may win */
        assert_int_equal(smooth_candy(&a, x, y), smooth_candy(&b, RASTER - x, y));
    }
    smooth_free(&a);
    smooth_free(&b);
    face_free(&face);
    face_free(&other);
}

static void a_square_called_flat_has_one_candy(void **state) {
    (void)state;
    Face face;
    Smooth smooth = make(motifs, &face);
    int flats = 0;
    for (int i = 0; i < 4000; i++) {
        double x = i % 80 * 4 + 0.35, y = (int)(i / 80) * 6 + 0.15;
        int flat = smooth_flat(&smooth, x, y, 0.7);
        flats += flat >= 0;
        for (int k = 0; flat >= 0 && k < 25; k++)
            assert_int_equal(smooth_candy(&smooth, x + k % 5 * 0.175, y + (int)(k / 5) * 0.175), flat);
    }
    assert_in_range(flats, 3000, 3999);
    smooth_free(&smooth);
    face_free(&face);
}

static void one_candy_is_one_candy_beyond_the_core_too(void **state) {
    (void)state;
    Face face;
    Smooth smooth = make(plain, &face);
    assert_int_equal(smooth_candy(&smooth, 0, 0), 0);
    assert_int_equal(smooth_flat(&smooth, 0, 0, RASTER), 0);
    near(smooth_read(smooth.margin, RASTER, 3, 300), 1, 1e-5);
    smooth_free(&smooth);
    face_free(&face);
}

static void a_wide_blur_keeps_the_sum_and_has_its_width(void **state) {
    (void)state;
    enum { SIDE = 201 };
    float *plane = calloc((size_t)SIDE * SIDE, sizeof *plane), scratch[SIDE];
    assert_non_null(plane);
    plane[100 * SIDE + 100] = 1;
    smooth_blur(plane, SIDE, 9, scratch);
    double sum = 0, square = 0;
    for (int i = 0; i < SIDE * SIDE; i++) {
        sum += (double)plane[i];
        square += (double)plane[i] * (i % SIDE - 100) * (i % SIDE - 100);
    }
    near(sum, 1, 1e-5);
    near(sqrt(square), 9, 0.5);
    free(plane);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(areas_stay_as_in_the_raster),
                                       cmocka_unit_test(a_slanting_border_has_no_stairs),
                                       cmocka_unit_test(a_mirrored_raster_gives_mirrored_shapes),
                                       cmocka_unit_test(a_square_called_flat_has_one_candy),
                                       cmocka_unit_test(one_candy_is_one_candy_beyond_the_core_too),
                                       cmocka_unit_test(a_wide_blur_keeps_the_sum_and_has_its_width)};
    return cmocka_run_group_tests_name("smooth", tests, NULL, NULL);
}
