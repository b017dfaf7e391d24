/* Tests of src/draw/draw_size.c. SPDX-License-Identifier: MIT */
#include "draw/draw.h"

#include "face_job.h"

/* Yellow, as the jacket of face_job. */
static bool is_jacket(const uint8_t *p) {
    return p[0] > 150 && p[2] < 140 && p[1] > 100;
}

static Image draw(const Job *job) {
    Image image = {0};
    Err err = {0};
    if (!draw_size(job, &image, &err)) fail_msg("%s", err.msg);
    return image;
}

/* The columns and rows that the jacket takes between two columns. */
static Box jacket_box(const Image *image, int from, int to) {
    int left = to, right = from, top = image->height, bottom = 0;
    for (int y = 0; y < image->height; y++)
        for (int x = from; x < to; x++) {
            if (!is_jacket(pixel_of(image, x, y))) continue;
            left = x < left ? x : left;
            right = x + 1 > right ? x + 1 : right;
            top = y < top ? y : top;
            bottom = y + 1 > bottom ? y + 1 : bottom;
        }
    return (Box){left, top, right - left, bottom - top};
}

static void the_resolution_is_600_px_an_inch(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image image = draw(&job);
    near(image.px_per_mm, 600 / 25.4, 1e-9);
    image_free(&image);
    face_free(&job.face);
}

/* The issue's own limit: pixels / pHYs = the diameter to 0.1 mm. */
static void both_ends_have_the_pieces_diameter(void **state) {
    (void)state;
    static const double diameter[] = {5, 12.7, 15.875, 16, 22.3, 60};
    for (int i = 0; i < 6; i++) {
        Job job = face_job(motifs);
        job.order.piece_diameter_mm = diameter[i];
        Image image = draw(&job);
        for (int half = 0; half < 2; half++) {
            Box box = jacket_box(&image, half * image.width / 2, (half + 1) * image.width / 2);
            near(box.w / image.px_per_mm, diameter[i], 0.1);
            near(box.h / image.px_per_mm, diameter[i], 0.1);
        }
        image_free(&image);
        face_free(&job.face);
    }
}

static void the_other_end_is_the_mirror_image(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image image = draw(&job);
    Box a = jacket_box(&image, 0, image.width / 2), b = jacket_box(&image, image.width / 2, image.width);
    assert_int_equal(a.w, b.w);
    assert_int_equal(a.y, b.y);
    bool differs = false;
    for (int y = 0; y < a.h; y++)
        for (int x = 0; x < a.w; x++) {
            assert_memory_equal(pixel_of(&image, a.x + x, a.y + y),
                                pixel_of(&image, b.x + b.w - 1 - x, b.y + y), 4);
            differs = differs ||
                      memcmp(pixel_of(&image, a.x + x, a.y + y), pixel_of(&image, b.x + x, b.y + y), 4) != 0;
        }
    assert_true(differs);
    image_free(&image);
    face_free(&job.face);
}

/* The longest dark run of a row, in mm: a rule's line. */
static double longest_run(const Image *image, int from, int to) {
    int best = 0;
    for (int y = 0; y < image->height; y++)
        for (int x = from, run = 0; x < to; x++) {
            run = pixel_of(image, x, y)[0] < 100 && pixel_of(image, x, y)[1] < 100 ? run + 1 : 0;
            best = run > best ? run : best;
        }
    return best / image->px_per_mm;
}

/* Each with half the end ticks' thickness beyond it on either side. */
static void the_rules_are_20_mm_and_half_an_inch(void **state) {
    (void)state;
    Job job = face_job(motifs);
    job.palette.candy[2] = job.palette.candy[1]; /* nothing dark but the rules and the type */
    Image image = draw(&job);
    int middle = (int)(32 * image.px_per_mm);
    near(longest_run(&image, 0, middle), 20 + 0.13, 0.1);
    near(longest_run(&image, middle, image.width), 12.7 + 0.13, 0.1);
    image_free(&image);
    face_free(&job.face);
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image a = draw(&job), b = draw(&job);
    assert_int_equal(a.width * a.height, b.width * b.height);
    assert_memory_equal(a.rgba, b.rgba, (size_t)a.width * (size_t)a.height * 4);
    image_free(&a);
    image_free(&b);
    face_free(&job.face);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_resolution_is_600_px_an_inch),
                                       cmocka_unit_test(both_ends_have_the_pieces_diameter),
                                       cmocka_unit_test(the_other_end_is_the_mirror_image),
                                       cmocka_unit_test(the_rules_are_20_mm_and_half_an_inch),
                                       cmocka_unit_test(the_same_job_gives_the_same_bytes)};
    return cmocka_run_group_tests_name("draw_size", tests, NULL, NULL);
}
