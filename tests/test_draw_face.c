/* Tests of src/draw_face.c. SPDX-License-Identifier: MIT */
#include "draw_face.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 40, RASTER = STEPS * SAMPLES };

/* What is at a point of the core, in samples from its middle. */
typedef int Motif(double x, double y);

static int plain(double x, double y) {
    (void)x;
    (void)y;
    return 0;
}

static int halves(double x, double y) {
    (void)y;
    return x > 0;
}

static int slanting(double x, double y) {
    return y > 0.09 * x + 3.3;
}

/* A disc of 60 samples, one of 16 and a bar of 24 with round ends. */
static int motifs(double x, double y) {
    if (hypot(x + 60, y) < 60) return 1;
    if (hypot(x - 60, y + 40) < 16) return 2;
    return hypot(x - fmin(fmax(x, 20), 80), y - 60) < 12 ? 2 : 0;
}

static int motifs_mirrored(double x, double y) {
    return motifs(-x, y);
}

static Job make_job(Motif *motif) {
    Job job = {.order = order_default()};
    job.palette = (Palette){.count = 3, .jackets = 1, .stripes = 1};
    job.palette.candy[0].srgb = (Rgb8){255, 255, 255};
    job.palette.candy[2].srgb = (Rgb8){255, 0, 0};
    job.palette.jacket[0].srgb = (Rgb8){0, 0, 255};
    job.cane = (Cane){.core_diameter_mm = 90, .log_diameter_mm = 100, .steps = STEPS};
    job.face.side = RASTER;
    job.face.candy = malloc((size_t)RASTER * RASTER);
    assert_non_null(job.face.candy);
    for (int y = 0; y < RASTER; y++)
        for (int x = 0; x < RASTER; x++) {
            double dx = x + 0.5 - RASTER / 2.0, dy = y + 0.5 - RASTER / 2.0;
            bool in = hypot(dx, dy) <= RASTER / 2.0;
            job.face.candy[y * RASTER + x] = in ? (uint8_t)motif(dx, dy) : OUTSIDE;
        }
    return job;
}

static Image draw(const Job *job, int side) {
    Image image = {0};
    Err err = {0};
    if (!draw_face(job, side, &image, &err)) fail_msg("%s", err.msg);
    assert_int_equal(image.width, side);
    assert_int_equal(image.height, side);
    return image;
}

static const uint8_t *pixel(const Image *image, double x, double y) {
    return image->rgba + 4 * ((size_t)y * image->width + (size_t)x);
}

static void is_colour(const uint8_t *rgba, int r, int g, int b) {
    if (rgba[0] != r || rgba[1] != g || rgba[2] != b || rgba[3] != 255)
        fail_msg("got %d %d %d %d, want %d %d %d 255", rgba[0], rgba[1], rgba[2], rgba[3], r, g, b);
}

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.8g, want %.8g", got, want);
}

/* The light of one channel, in px of full light. */
static double channel_area(const Image *image, int channel) {
    double sum = 0;
    for (int i = 0; i < image->width * image->height; i++)
        sum += srgb_to_linear(image->rgba[4 * i + channel] / 255.0) * image->rgba[4 * i + 3] / 255;
    return sum;
}

static void a_job_of_one_candy_is_a_disc_in_its_jacket(void **state) {
    (void)state;
    Job job = make_job(plain);
    job.palette.count = 1;
    Image image = draw(&job, 301);
    double alpha = 0;
    for (int i = 0; i < 301 * 301; i++) {
        const uint8_t *p = image.rgba + 4 * i;
        int x = i % 301, y = i / 301;
        double d = hypot(x - 150, y - 150);
        alpha += p[3] / 255.0;
        if (d > 150.5 + 0.75) assert_int_equal(p[3], 0);
        if (d < 0.9 * 150.5 - 0.75) is_colour(p, 255, 255, 255);
        if (d > 0.9 * 150.5 + 0.75 && d < 150.5 - 0.75) is_colour(p, 0, 0, 255);
    }
    near(alpha, PI * 150.5 * 150.5, 1);
    near(channel_area(&image, 0), PI * 150.5 * 150.5 * 0.81, 3); /* the core: 0.9 of the radius */
    near(image.px_per_mm, 301 / 16.0, 1e-12);
    image_free(&image);
    face_free(&job.face);
}

static void areas_stay_as_in_the_raster(void **state) {
    (void)state;
    Job job = make_job(motifs);
    job.palette.candy[0].srgb = (Rgb8){0, 0, 0};
    job.palette.candy[1].srgb = (Rgb8){0, 255, 0};
    double want[3] = {0};
    for (int i = 0; i < RASTER * RASTER; i++)
        if (job.face.candy[i] != OUTSIDE) want[job.face.candy[i]]++;
    for (int side = 250; side <= 900; side += 325) {
        Image image = draw(&job, side);
        double scale = 0.9 * side / RASTER;
        near(channel_area(&image, 1) / (scale * scale), want[1], 0.005 * want[1]);
        near(channel_area(&image, 0) / (scale * scale), want[2], 0.01 * want[2]);
        image_free(&image);
    }
    face_free(&job.face);
}

static void a_border_is_mixed_in_linear_light(void **state) {
    (void)state;
    Job job = make_job(halves);
    Image image = draw(&job, 301); /* odd: the border runs through the middle of column 150 */
    is_colour(pixel(&image, 150, 150), 188, 188,
              188); /* half the light of white: sRGB 187.5 (IEC 61966-2-1) */
    is_colour(pixel(&image, 148, 150), 255, 255, 255);
    is_colour(pixel(&image, 152, 150), 0, 0, 0);
    image_free(&image);
    face_free(&job.face);
}

/* The raster's own stairs are one sample high, 2.5 px here: off the line by up to 1.25. */
static void a_slanting_border_has_no_stairs(void **state) {
    (void)state;
    Job job = make_job(slanting);
    job.palette.jacket[0].srgb = (Rgb8){0, 0, 0};
    int side = 900;
    double scale = 0.9 * side / RASTER, mean = 0, worst = 0, off[400];
    Image image = draw(&job, side);
    for (int i = 0; i < 400; i++) {
        int x = 250 + i;
        double light = 0; /* from the middle's height up: white above the border */
        for (int y = 300; y < 600; y++) light += srgb_to_linear(pixel(&image, x, y)[0] / 255.0);
        off[i] = 300 + light - (side / 2.0 + 3.3 * scale + 0.09 * (x + 0.5 - side / 2.0));
        mean += off[i] / 400;
    }
    for (int i = 0; i < 400; i++) worst = fmax(worst, fabs(off[i] - mean));
    near(mean, 0, 0.1);
    near(worst, 0, 0.75);
    image_free(&image);
    face_free(&job.face);
}

static void a_mirrored_raster_gives_the_mirrored_image(void **state) {
    (void)state;
    Job job = make_job(motifs), other = make_job(motifs_mirrored);
    Image a = draw(&job, 400), b = draw(&other, 400);
    for (int y = 0; y < 400; y++)
        for (int x = 0; x < 400; x++)
            for (int c = 0; c < 4; c++) /* a rounding of one unit may fall the other way */
                if (abs(pixel(&a, x, y)[c] - pixel(&b, 399 - x, y)[c]) > 1)
                    fail_msg("differs at %d, %d", x, y);
    image_free(&a);
    image_free(&b);
    face_free(&job.face);
    face_free(&other.face);
}

static void stripes_start_at_12_o_clock_and_go_clockwise(void **state) {
    (void)state;
    Job job = make_job(plain);
    job.palette.jackets = 3;
    job.palette.stripes = 6;
    job.palette.jacket[0].srgb = (Rgb8){255, 0, 0};
    job.palette.jacket[1].srgb = (Rgb8){0, 255, 0};
    job.palette.jacket[2].srgb = (Rgb8){0, 0, 255};
    Image image = draw(&job, 600);
    for (int k = 0; k < 6; k++)
        for (int part = 1; part < 10; part++) {
            double a = 2 * PI * (k + part / 10.0) / 6;
            const uint8_t *p = pixel(&image, 300 + 285 * sin(a), 300 - 285 * cos(a));
            is_colour(p, k % 3 == 0 ? 255 : 0, k % 3 == 1 ? 255 : 0, k % 3 == 2 ? 255 : 0);
        }
    double ring = PI * 300 * 300 * 0.19, core = PI * 300 * 300 * 0.81;
    for (int c = 0; c < 3; c++) near(channel_area(&image, c), core + ring / 3, 10);
    image_free(&image);
    face_free(&job.face);
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    Job job = make_job(motifs);
    Image a = draw(&job, 333), b = draw(&job, 333);
    assert_memory_equal(a.rgba, b.rgba, (size_t)333 * 333 * 4);
    image_free(&a);
    image_free(&b);
    face_free(&job.face);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_job_of_one_candy_is_a_disc_in_its_jacket),
                                       cmocka_unit_test(areas_stay_as_in_the_raster),
                                       cmocka_unit_test(a_border_is_mixed_in_linear_light),
                                       cmocka_unit_test(a_slanting_border_has_no_stairs),
                                       cmocka_unit_test(a_mirrored_raster_gives_the_mirrored_image),
                                       cmocka_unit_test(stripes_start_at_12_o_clock_and_go_clockwise),
                                       cmocka_unit_test(the_same_job_gives_the_same_bytes)};
    return cmocka_run_group_tests_name("draw_face", tests, NULL, NULL);
}
