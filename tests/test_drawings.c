/* All drawings of whole jobs, worked out from small pictures, with thick ropes so that it does not take long.
 * SPDX-License-Identifier: MIT */
#include "draw/draw.h"
#include "inks/inks.h"

#include "face_job.h"
#include "run/run.h"

/* The colour of a letter. */
static Rgb8 letter_colour(char c) {
    static const char letters[] = "WKRGBYOVPS";
    static const Rgb8 colour[] = {{255, 255, 255}, {0, 0, 0},      {200, 32, 44},  {46, 142, 68},
                                  {32, 76, 168},   {250, 210, 48}, {240, 124, 32}, {112, 56, 142},
                                  {238, 140, 168}, {96, 176, 224}};
    return colour[strchr(letters, c) - letters];
}

/* Rows of letters, each `scale` px; '.' is transparent. */
static Picture make_picture(const char *const *rows, int scale) {
    int height = 0, width = (int)strlen(rows[0]);
    while (rows[height]) height++;
    Picture p = {width * scale, height * scale, 1, width * scale, height * scale, NULL};
    p.rgba = calloc((size_t)p.width * (size_t)p.height, 4);
    assert_non_null(p.rgba);
    for (int i = 0; i < p.width * p.height; i++) {
        char c = rows[i / p.width / scale][i % p.width / scale];
        if (c == '.') continue;
        Rgb8 colour = letter_colour(c);
        const uint8_t pixel[4] = {colour.r, colour.g, colour.b, 255};
        memcpy(p.rgba + 4 * i, pixel, 4);
    }
    return p;
}

/* A whole job; it must stay where it is. */
typedef struct Whole {
    Picture picture;
    InkMap inks;
    Shop shop;
    Job job;
} Whole;

static void work_out(Whole *w, const char *const *rows, int scale, Order order) {
    Err err = {0};
    *w = (Whole){.picture = make_picture(rows, scale), .shop = shop_default()};
    w->shop.least_strip_mm = 12;
    if (!find_inks(&w->picture, &w->inks, &err)) fail_msg("%s", err.msg);
    w->job = (Job){.picture = &w->picture, .inks = &w->inks, .shop = &w->shop, .order = order};
    strcpy(w->job.order.name, "Crêpes & café – Ω");
    if (!job_run(&w->job, &err)) fail_msg("%s", err.msg);
}

static void whole_free(Whole *w) {
    job_free(&w->job);
    inkmap_free(&w->inks);
    picture_free(&w->picture);
}

typedef bool Draw(const Job *job, Image *out, Err *err);

static bool draw_small_face(const Job *job, Image *out, Err *err) {
    return draw_face(job, 300, out, err);
}

static bool draw_small_mockup(const Job *job, Image *out, Err *err) {
    return draw_mockup(job, 400, out, err);
}

static Draw *const drawings[] = {draw_small_face, draw_size, draw_check, draw_small_mockup};

static Image drawn(const Job *job, Draw *draw) {
    Image image = {0};
    Err err = {0};
    if (!draw(job, &image, &err)) fail_msg("%s", err.msg);
    assert_true(image.width >= 300 && image.height >= 300);
    return image;
}

static void all_draw(const char *const *rows, int scale, Order order) {
    Whole w;
    work_out(&w, rows, scale, order);
    for (int i = 0; i < 4; i++) {
        Image image = drawn(&w.job, drawings[i]);
        int seen[256] = {0}, levels = 0;
        for (int k = 0; k < image.width * image.height; k++) levels += seen[image.rgba[4 * k + 1]]++ == 0;
        assert_true(levels > 20); /* something is on it */
        image_free(&image);
    }
    whole_free(&w);
}

static const char *const cup[] = {"WWWWWWWW", "WRWRWWWW", "WKKKKKWW", "WKKKKKKW",
                                  "WKKKKKWW", "WWWWWWWW", NULL};

static void a_picture_of_one_pixel_draws(void **state) {
    (void)state;
    static const char *const rows[] = {"R", NULL};
    all_draw(rows, 1, order_default());
}

static void a_picture_of_one_candy_draws(void **state) {
    (void)state;
    static const char *const rows[] = {"BB", "BB", NULL};
    all_draw(rows, 20, order_default());
}

static void eight_candies_draw(void **state) {
    (void)state;
    static const char *const rows[] = {"WWWWWW", "WKRGBW", "WKRGBW", "WYOVSW", "WYOVSW", "WWWWWW", NULL};
    Order order = order_default();
    order.colours = 8;
    all_draw(rows, 24, order);
}

static void a_striped_jacket_of_six_draws(void **state) {
    (void)state;
    Order order = order_default();
    static const char *const jacket[] = {"red", "white", "navy", "clear amber", "pink", "clear red"};
    order.jackets = 6;
    order.stripes = 12;
    for (int i = 0; i < 6; i++) strcpy(order.jacket[i], jacket[i]);
    all_draw(cup, 20, order);
}

static void pieces_like_sticks_and_coins_draw(void **state) {
    (void)state;
    static const double size[2][2] = {{5, 100}, {60, 2}};
    for (int i = 0; i < 2; i++) {
        Order order = order_default();
        order.piece_diameter_mm = size[i][0];
        order.piece_length_mm = size[i][1];
        order.pieces = 20000;
        order.units = UNITS_IN;
        all_draw(cup, 20, order);
    }
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    Whole a, b;
    work_out(&a, cup, 20, order_default());
    work_out(&b, cup, 20, order_default());
    for (int i = 0; i < 4; i++) {
        Image p = drawn(&a.job, drawings[i]), q = drawn(&b.job, drawings[i]);
        assert_memory_equal(p.rgba, q.rgba, (size_t)p.width * (size_t)p.height * 4);
        image_free(&p);
        image_free(&q);
    }
    whole_free(&a);
    whole_free(&b);
}

/* A name that is no UTF-8, or controls a terminal, must not stop a drawing. */
static void any_name_draws(void **state) {
    (void)state;
    static const char *const name[] = {"", "\xff\xfe\xc0", "caf\xc3\xa9 \xe8\x8c\xb6 \xf0\x9f\x8d\xac",
                                       "\x1b[31m", "a\nb"};
    Whole w;
    work_out(&w, cup, 20, order_default());
    for (int i = 0; i < 5; i++) {
        strcpy(w.job.order.name, name[i]);
        strcpy(w.job.palette.candy[0].name, i == 1 ? "\xff" : "blanc cassé");
        for (int k = 1; k < (i == 1 ? 4 : 3); k++) {
            Image image = drawn(&w.job, drawings[k]);
            image_free(&image);
        }
    }
    memset(w.job.order.name, 'W', sizeof w.job.order.name - 1);
    for (int k = 1; k < 4; k++) {
        Image image = drawn(&w.job, drawings[k]);
        image_free(&image);
    }
    whole_free(&w);
}

static int count_colour(const Image *image, int from, int to, Rgb8 c) {
    int count = 0;
    for (int y = 0; y < image->height; y++)
        for (int x = from; x < to; x++) {
            const uint8_t *p = pixel_of(image, x, y);
            count += abs(p[0] - c.r) < 40 && abs(p[1] - c.g) < 40 && abs(p[2] - c.b) < 40;
        }
    return count;
}

/* Hairlines: tinted on the logo, ringed on both pictures; a bold logo has neither. */
static void the_check_marks_what_is_too_fine(void **state) {
    (void)state;
    static const char *const hairs[] = {
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "WWWKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKWWW",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", "WWWKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKKWWW",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", NULL};
    static const char *const bold[] = {"WWWWWW", "WWKKWW", "WWKKWW", "WWWWWW", NULL};
    static const Rgb8 tints[] = {{232, 0, 150}, {0, 190, 230}, {120, 205, 0}, {255, 130, 0}, {130, 60, 255}};
    for (int fine = 0; fine < 2; fine++) {
        Whole w;
        work_out(&w, fine ? hairs : bold, 16, order_default());
        Image image = drawn(&w.job, draw_check);
        int tinted = 0, half = image.width / 2, on_the_face = 0;
        for (int i = 0; i < 5; i++) {
            tinted += count_colour(&image, 0, half, tints[i]);
            on_the_face += count_colour(&image, half, image.width, tints[i]);
        }
        if (fine) {
            assert_in_range(w.job.flaws.count, 1, FLAWS_MAX);
            assert_true(tinted > 2000);
            assert_true(count_colour(&image, half, image.width, (Rgb8){24, 24, 28}) >
                        1500); /* rings and numbers */
        } else {
            assert_int_equal(w.job.flaws.count, 0);
            assert_int_equal(tinted, 0);
        }
        assert_true(on_the_face < 600); /* the key below at most */
        image_free(&image);
        whole_free(&w);
    }
}

/* Pixels of the band's red on the card's side; no candy of the cup is like it. */
static int banded(Job *job, Verdict verdict, Verdict best) {
    job->judgement.verdict = verdict;
    job->judgement.advised = true;
    job->judgement.best.whole = best;
    Image image = drawn(job, draw_small_mockup);
    int count = 0;
    for (int k = 0; k < image.width * image.height; k++) {
        const uint8_t *at = image.rgba + 4 * k;
        count += at[0] == 176 && at[1] == 42 && at[2] == 30;
    }
    image_free(&image);
    return count;
}

static void the_mock_up_of_what_is_not_proposed_says_so(void **state) {
    (void)state;
    Whole w;
    work_out(&w, cup, 30, order_default());
    assert_true(banded(&w.job, VERDICT_NO, VERDICT_NO) > 500);
    assert_true(banded(&w.job, VERDICT_CHANGE, VERDICT_GO) > 500);
    assert_int_equal(banded(&w.job, VERDICT_CHANGE, VERDICT_CHANGE), 0);
    assert_int_equal(banded(&w.job, VERDICT_GO, VERDICT_GO), 0);
    whole_free(&w);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_mock_up_of_what_is_not_proposed_says_so),
                                       cmocka_unit_test(a_picture_of_one_pixel_draws),
                                       cmocka_unit_test(a_picture_of_one_candy_draws),
                                       cmocka_unit_test(eight_candies_draw),
                                       cmocka_unit_test(a_striped_jacket_of_six_draws),
                                       cmocka_unit_test(pieces_like_sticks_and_coins_draw),
                                       cmocka_unit_test(the_same_job_gives_the_same_bytes),
                                       cmocka_unit_test(any_name_draws),
                                       cmocka_unit_test(the_check_marks_what_is_too_fine)};
    return cmocka_run_group_tests_name("drawings", tests, NULL, NULL);
}
