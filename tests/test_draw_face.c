/* Tests of draw_face and of the cut it draws, src/draw/cut_end.c. SPDX-License-Identifier: MIT */
#include "draw/draw.h"

#include "face_job.h"

static int plain(double x, double y) {
    (void)x;
    (void)y;
    return 0;
}

static Image draw(const Job *job, int side) {
    Image image = {0};
    Err err = {0};
    if (!draw_face(job, side, &image, &err)) fail_msg("%s", err.msg);
    assert_int_equal(image.width, side);
    assert_int_equal(image.height, side);
    return image;
}

/* The candy of the picture that a colour is nearest to. */
static int nearest_candy(const Job *job, const uint8_t *rgba) {
    int best = 0;
    double least = HUGE_VAL;
    for (int i = 0; i < job->palette.count; i++) {
        double off =
            delta_e00(rgb8_lab((Rgb8){rgba[0], rgba[1], rgba[2]}), rgb8_lab(job->palette.candy[i].srgb));
        if (off < least) {
            least = off;
            best = i;
        }
    }
    return best;
}

/* The mean, in linear light, of all whole pixels where `motif` is `candy` (-1: the jacket), against what is
 * stated. */
static void mean_is_stated(const Job *job, const Image *image, Motif *motif, int candy, Rgb8 stated) {
    double sum[3] = {0}, count = 0, half = image->width / 2.0, scale = RASTER / (0.9 * image->width);
    for (int i = 0; i < image->width * image->height; i++) {
        double x = i % image->width + 0.5 - half, y = (int)(i / image->width) + 0.5 - half,
               r = hypot(x, y) / half;
        int here = r < 0.897 ? motif(x * scale, y * scale) : r > 0.903 && r < 0.997 ? -1 : -2;
        if (here != candy) continue;
        for (int c = 0; c < 3; c++) sum[c] += srgb_to_linear(image->rgba[4 * i + c] / 255.0);
        count++;
    }
    assert_true(count > 0);
    double off =
        delta_e00(linear_lab((Linear){sum[0] / count, sum[1] / count, sum[2] / count}), rgb8_lab(stated));
    if (off > 6)
        fail_msg("%s: off by %.2f", candy < 0 ? job->palette.jacket[0].name : job->palette.candy[candy].name,
                 off);
}

/* Design: within CIEDE2000 6 of what is stated, whatever the gloss. */
static void the_mean_of_each_candy_is_what_is_stated(void **state) {
    (void)state;
    const Shop shop = shop_default();
    for (int i = 0; i < shop.stock.count; i++) {
        Job job = face_job(motifs);
        for (int k = 0; k < 3; k++) job.palette.candy[k] = shop.stock.candy[(i + 5 * k) % shop.stock.count];
        job.palette.jacket[0] = shop.stock.candy[(i + 2) % shop.stock.count];
        Image image = draw(&job, 300);
        for (int k = 0; k < 3; k++) mean_is_stated(&job, &image, motifs, k, job.palette.candy[k].srgb);
        mean_is_stated(&job, &image, motifs, -1, job.palette.jacket[0].srgb);
        image_free(&image);
        face_free(&job.face);
    }
}

/* A border may be a pixel and a half off: nothing more is gloss or streaks. */
static void shapes_are_those_of_the_face(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image image = draw(&job, 600);
    double scale = RASTER / (0.9 * 600);
    int compared = 0;
    for (int i = 0; i < 600 * 600; i++) {
        double x = (i % 600 + 0.5 - 300) * scale, y = ((int)(i / 600) + 0.5 - 300) * scale;
        bool border = hypot(x, y) > RASTER / 2.0 - 2;
        for (int k = 0; k < 8; k++)
            border = border || motifs(x + 1.5 * cos(k * PI / 4), y + 1.5 * sin(k * PI / 4)) != motifs(x, y);
        if (border) continue;
        assert_int_equal(nearest_candy(&job, image.rgba + 4 * i), motifs(x, y));
        compared++;
    }
    assert_true(compared > 200000);
    image_free(&image);
    face_free(&job.face);
}

static void the_disc_is_cut_exactly(void **state) {
    (void)state;
    Job job = face_job(plain);
    Image image = draw(&job, 301);
    double alpha = 0;
    for (int i = 0; i < 301 * 301; i++) {
        double d = hypot(i % 301 - 150, (int)(i / 301) - 150);
        alpha += image.rgba[4 * i + 3] / 255.0;
        if (d > 150.5 + 0.75) assert_int_equal(image.rgba[4 * i + 3], 0);
        if (d < 150.5 - 0.75) assert_int_equal(image.rgba[4 * i + 3], 255);
    }
    near(alpha, PI * 150.5 * 150.5, 2);
    near(image.px_per_mm, 301 / 16.0, 1e-12);
    image_free(&image);
    face_free(&job.face);
}

/* Satin: pulled candy is no flat colour, nor does one rope look like the next. */
static void pulled_candy_has_streaks_of_each_ropes_own(void **state) {
    (void)state;
    Job job = face_job(plain);
    Rope rope[2] = {{.outline = outline_of_box(0, 0, 40, 20), .area = 1, .rim = true, .serial = 1},
                    {.outline = outline_of_box(0, 20, 40, 20), .area = 1, .rim = true, .serial = 2}};
    job.layup = (LayUp){.ropes = 2, .rope = rope, .laid = 2};
    job.palette.candy[0].srgb = (Rgb8){142, 142, 140};
    Image image = draw(&job, 600);
    int alike = 0;
    double contrast = 0; /* mean over runs of 30 px across the streaks */
    for (int x = 200; x < 400; x++)
        for (int run = 0; run < 6; run++) {
            int low = 255, high = 0;
            for (int y = 100 + run * 30; y < 130 + run * 30; y++) {
                int a = pixel_of(&image, x, y)[0], b = pixel_of(&image, x, y + 260)[0];
                alike += abs(a - b) < 2;
                low = a < low ? a : low;
                high = a > high ? a : high;
            }
            contrast += (high - low) / 1200.0;
        }
    if (contrast < 5 || contrast > 14) fail_msg("contrast %.2f", contrast);
    assert_true(alike < 180 * 200 / 2);
    image_free(&image);
    face_free(&job.face);
}

/* How much neighbours differ, two pixels apart each way, in the middle of the picture. */
static double contrast_along(const Image *image, int dx, int dy) {
    double sum = 0;
    for (int y = 250; y < 350; y++)
        for (int x = 250; x < 350; x++)
            sum += abs(pixel_of(image, x, y)[0] - pixel_of(image, x + 2 * dx, y + 2 * dy)[0]);
    return sum;
}

/* A strip from the upper left to the lower right. */
static void streaks_run_along_a_slanted_rope(void **state) {
    (void)state;
    Job job = face_job(plain);
    Rope rope[2] = {{.outline = {4, {{8, 0}, {40, 32}, {32, 40}, {0, 8}}}, .area = 1},
                    {.outline = {3, {{0, 8}, {32, 40}, {0, 40}}}, .area = 1}};
    job.layup = (LayUp){.ropes = 2, .rope = rope, .laid = 2};
    job.palette.candy[0].srgb = (Rgb8){142, 142, 140};
    Image image = draw(&job, 600);
    double along = contrast_along(&image, 1, 1), across = contrast_along(&image, 1, -1);
    if (across < 2 * along) fail_msg("%.0f along, %.0f across", along, across);
    image_free(&image);
    face_free(&job.face);
}

static void stripes_start_at_12_o_clock_and_go_clockwise(void **state) {
    (void)state;
    const Rgb8 colour[3] = {{255, 0, 0}, {0, 255, 0}, {0, 0, 255}};
    Job job = face_job(plain);
    job.palette.jackets = job.palette.count = 3;
    job.palette.stripes = 6;
    for (int k = 0; k < 3; k++) job.palette.candy[k].srgb = job.palette.jacket[k].srgb = colour[k];
    Image image = draw(&job, 600);
    for (int k = 0; k < 6; k++)
        for (int part = 1; part < 10; part++)
            for (int out = 0; out < 3; out++) {
                double a = 2 * PI * (k + part / 10.0) / 6, r = 273 + 12 * out;
                assert_int_equal(nearest_candy(&job, pixel_of(&image, 300 + r * sin(a), 300 - r * cos(a))),
                                 k % 3);
            }
    image_free(&image);
    face_free(&job.face);
}

/* The border of white and red, both equally lit: half the light of each, not half the bytes. */
static int halves(double x, double y) {
    (void)y;
    return x > 0;
}

static void a_border_is_mixed_in_linear_light(void **state) {
    (void)state;
    Job job = face_job(halves);
    job.palette.candy[1].srgb = (Rgb8){0, 0, 0};
    Image image = draw(&job, 301); /* odd: the border runs through the middle of column 150 */
    double sum = 0;
    for (int y = 120; y < 180; y++) sum += srgb_to_linear(pixel_of(&image, 150, y)[1] / 255.0) / 60;
    near(sum, 0.46, 0.06); /* white is 0.92; bytes mixed would give 0.21 */
    image_free(&image);
    face_free(&job.face);
}

/* No pixel of a clear jacket, not even one that only just touches it, is of another hue. */
static void a_clear_jacket_is_clear_to_its_edges(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Job job = face_job(plain);
    job.palette.candy[0] = job.palette.jacket[0] = shop.stock.candy[14]; /* clear amber */
    Image image = draw(&job, 392);
    for (int i = 0; i < 392 * 392; i++) {
        const uint8_t *p = image.rgba + 4 * i;
        if (p[3] > 8 && (p[0] < 120 || p[1] >= p[0] || p[2] > p[1]))
            fail_msg("%d, %d: %d %d %d", i % 392, i / 392, p[0], p[1], p[2]);
    }
    image_free(&image);
    face_free(&job.face);
}

/* White on white: all round, the outermost line is darker than the page and than the candy inside it. */
static void a_white_piece_shows_its_edge_on_a_white_page(void **state) {
    (void)state;
    static const int sides[] = {378, 720, 1200};
    Job job = face_job(plain);
    job.palette.jacket[0] = job.palette.candy[0];
    for (int s = 0; s < 3; s++) {
        Image image = draw(&job, sides[s]);
        double half = sides[s] / 2.0;
        for (int degree = 0; degree < 360; degree++) {
            int darkest = 255;
            for (double r = half - 0.7; r > half - 4; r -= 0.5) {
                double x = half + r * sin(degree * PI / 180), y = half - r * cos(degree * PI / 180);
                const uint8_t *p = pixel_of(&image, x, y);
                int g = 255 + (p[1] - 255) * p[3] / 255; /* on the page */
                darkest = g < darkest ? g : darkest;
            }
            if (darkest > 238) fail_msg("%d px, %d degrees: %d", sides[s], degree, darkest);
        }
        image_free(&image);
    }
    face_free(&job.face);
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image a = draw(&job, 333), b = draw(&job, 333);
    assert_memory_equal(a.rgba, b.rgba, (size_t)333 * 333 * 4);
    image_free(&a);
    image_free(&b);
    face_free(&job.face);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_mean_of_each_candy_is_what_is_stated),
                                       cmocka_unit_test(shapes_are_those_of_the_face),
                                       cmocka_unit_test(the_disc_is_cut_exactly),
                                       cmocka_unit_test(pulled_candy_has_streaks_of_each_ropes_own),
                                       cmocka_unit_test(streaks_run_along_a_slanted_rope),
                                       cmocka_unit_test(stripes_start_at_12_o_clock_and_go_clockwise),
                                       cmocka_unit_test(a_clear_jacket_is_clear_to_its_edges),
                                       cmocka_unit_test(a_white_piece_shows_its_edge_on_a_white_page),
                                       cmocka_unit_test(a_border_is_mixed_in_linear_light),
                                       cmocka_unit_test(the_same_job_gives_the_same_bytes)};
    return cmocka_run_group_tests_name("draw_face", tests, NULL, NULL);
}
