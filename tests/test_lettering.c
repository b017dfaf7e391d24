/* Lettering is told from drawings, left out, and advised to be. SPDX-License-Identifier: MIT
 *
 * The letters are those of fonts, set by Pango: nothing here drew them. What a picture without its lettering
 * should be is known from outside as well: the same picture drawn without any. */
#include "inks/inks.h"
#include "run/run.h"
#include "run/trial.h"
#include "say/bench_words.h"
#include "say/letter_facts.h"
#include "say/verdict_words.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 600, DRAWINGS = 8 };

/* --- pictures --- */

typedef void Draw(cairo_t *c);

static void set_ink(cairo_t *c, unsigned rgb) {
    cairo_set_source_rgb(c, (rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
}

static void draw_disc(cairo_t *c, double x, double y, double r, unsigned rgb) {
    set_ink(c, rgb);
    cairo_new_path(c);
    cairo_arc(c, x, y, r, 0, 2 * G_PI);
    cairo_fill(c);
}

static void draw_bar(cairo_t *c, double x, double y, double w, double h, unsigned rgb) {
    set_ink(c, rgb);
    cairo_rectangle(c, x, y, w, h);
    cairo_fill(c);
}

/* Its middle at x, its foot on y, capitals about `high` px. */
static void draw_words(cairo_t *c, const char *words, const char *font, double x, double y, double high,
                       unsigned rgb) {
    PangoLayout *layout = pango_cairo_create_layout(c);
    PangoFontDescription *description = pango_font_description_from_string(font);
    PangoRectangle ink;
    pango_font_description_set_absolute_size(description, high / 0.72 * PANGO_SCALE);
    pango_layout_set_font_description(layout, description);
    pango_layout_set_text(layout, words, -1);
    pango_layout_get_extents(layout, &ink, NULL);
    set_ink(c, rgb);
    cairo_move_to(c, x - (ink.x + ink.width / 2.0) / PANGO_SCALE,
                  y - (double)pango_layout_get_baseline(layout) / PANGO_SCALE);
    pango_cairo_show_layout(c, layout);
    pango_font_description_free(description);
    g_object_unref(layout);
}

/* Round the middle of the picture, evenly, from one angle to another, clockwise from the top. */
static void draw_round(cairo_t *c, const char *words, const char *font, double r, double from, double to,
                       double high, unsigned rgb) {
    const int letters = (int)strlen(words);
    for (int i = 0; i < letters; i++) {
        cairo_save(c);
        cairo_translate(c, SIDE / 2.0, SIDE / 2.0);
        cairo_rotate(c, (from + (to - from) * i / (letters - 1)) * G_PI / 180);
        draw_words(c, (char[]){words[i], 0}, font, 0, -r, high, rgb);
        cairo_restore(c);
    }
}

static void draw_cup(cairo_t *c) {
    draw_bar(c, 150, 120, 240, 150, 0x1B2A5A);
    draw_disc(c, 270, 270, 120, 0x1B2A5A);
    draw_bar(c, 390, 150, 70, 40, 0x1B2A5A);
    draw_bar(c, 240, 40, 40, 60, 0xC03028);
}

static void draw_named_cup(cairo_t *c) {
    draw_cup(c);
    draw_words(c, "CAFE LUMO", "DejaVu Sans Bold", 290, 540, 60, 0x1B2A5A);
}

/* Small letters, some of which go below the line, a dot, an accent. */
static void draw_cup_in_two_lines(cairo_t *c) {
    draw_cup(c);
    draw_words(c, "Marlow's café", "DejaVu Serif Bold", 300, 480, 45, 0x6A4020);
    draw_words(c, "No. 12 Tinker Lane", "DejaVu Sans", 300, 560, 36, 0x6A4020);
}

/* The plate carries nothing else, and goes, too. */
static void draw_cup_over_plate(cairo_t *c) {
    draw_cup(c);
    draw_bar(c, 60, 460, 480, 100, 0x2E7A3C);
    draw_words(c, "THE COD SHOP", "DejaVu Sans Bold", 300, 528, 38, 0xFFFFFF);
}

static void draw_tree(cairo_t *c) {
    draw_disc(c, 300, 260, 80, 0x2E7A3C);
    draw_bar(c, 280, 330, 40, 90, 0x6A4020);
}

static void draw_ring(cairo_t *c, double inner) {
    draw_disc(c, 300, 300, 290, 0x1F5A48);
    draw_disc(c, 300, 300, inner, 0xFFFFFF);
}

static void draw_badge(cairo_t *c) {
    draw_ring(c, 190);
    draw_tree(c);
    draw_round(c, "HOLLOW LANE", "DejaVu Sans Bold", 216, -70, 70, 50, 0xFFFFFF);
}

static void draw_windows(cairo_t *c) {
    draw_bar(c, 60, 200, 480, 300, 0x24507A);
    for (int k = 0; k < 5; k++) draw_bar(c, 90 + 90 * k, 260, 50 + k % 2 * 10, 70, 0xFFFFFF);
}

static void draw_rays(cairo_t *c) {
    draw_disc(c, 300, 300, 130, 0xE0A010);
    for (int k = 0; k < 12; k++) {
        cairo_save(c);
        cairo_translate(c, 300, 300);
        cairo_rotate(c, k * G_PI / 6);
        draw_bar(c, -12 - 4 * (k % 2), -280, 24 + 8 * (k % 2), 90, 0xE0A010);
        cairo_restore(c);
    }
}

/* Slanted, and all the same shape: open ones, of strokes. */
static void draw_arrows(cairo_t *c) {
    draw_disc(c, 300, 200, 120, 0x2E7A3C);
    for (int k = 0; k < 8; k++) {
        cairo_save(c);
        cairo_translate(c, 60 + 65 * k, 480 + 5 * k);
        draw_bar(c, 0, 0, 40, 10, 0x2E7A3C);
        draw_bar(c, 0, 0, 10, 60, 0x2E7A3C);
        cairo_restore(c);
    }
}

/* Waves of steam: strokes, side by side, on one line. */
static void draw_steam(cairo_t *c) {
    draw_bar(c, 150, 330, 300, 200, 0x1B2A5A);
    set_ink(c, 0x1B2A5A);
    cairo_set_line_width(c, 22);
    for (int k = 0; k < 4; k++) {
        const double x = 180 + 80 * k, s = k % 2 ? -1 : 1;
        cairo_move_to(c, x, 280);
        cairo_curve_to(c, x + 60 * s, 220, x - 60 * s, 180, x, 100);
        cairo_stroke(c);
    }
}

/* Bars of a code, thick and thin. */
static void draw_code(cairo_t *c) {
    static const int wide[] = {12, 30, 12, 20, 30, 12, 20, 12, 30, 20};
    draw_disc(c, 300, 150, 110, 0xC03028);
    for (int k = 0, x = 70; k < 10; x += wide[k++] + 24) draw_bar(c, x, 340, wide[k], 180, 0x202020);
}

/* Solid, each of another shape. */
static void draw_huts(cairo_t *c) {
    for (int k = 0; k < 5; k++) {
        draw_bar(c, 50 + 105 * k, 300 - 20 * (k % 3), 70 + 5 * k, 200 + 20 * (k % 3), 0xB03A2E);
        draw_disc(c, 85 + 107 * k, 300 - 20 * (k % 3), 30 + 3 * k, 0xB03A2E);
    }
}

/* Rings on a chain. */
static void draw_chain(cairo_t *c) {
    draw_disc(c, 300, 420, 120, 0x24507A);
    for (int k = 0; k < 7; k++) {
        draw_disc(c, 75 + 75 * k, 150, 34, 0x24507A);
        draw_disc(c, 75 + 75 * k, 150, 22, 0xFFFFFF);
    }
}

static void find_drawn(Draw *draw, Picture *picture, InkMap *inks) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, SIDE, SIDE);
    cairo_t *c = cairo_create(surface);
    Err err = {0};
    set_ink(c, 0xFFFFFF);
    cairo_paint(c);
    draw(c);
    cairo_destroy(c);
    cairo_surface_flush(surface);
    *picture = (Picture){SIDE, SIDE, 1, SIDE, SIDE, calloc((size_t)SIDE * SIDE, 4)};
    assert_non_null(picture->rgba);
    const unsigned char *from = cairo_image_surface_get_data(surface);
    for (int i = 0; i < SIDE * SIDE; i++) {
        uint32_t pixel;
        memcpy(&pixel, from + i / SIDE * cairo_image_surface_get_stride(surface) + i % SIDE * 4, 4);
        uint8_t *to = picture->rgba + 4 * (size_t)i;
        to[0] = (uint8_t)(pixel >> 16), to[1] = (uint8_t)(pixel >> 8), to[2] = (uint8_t)pixel, to[3] = 255;
    }
    cairo_surface_destroy(surface);
    assert_true(find_inks(picture, inks, &err));
}

static double share_of(Draw *draw) {
    Picture picture;
    InkMap inks;
    Err err = {0};
    double share;
    find_drawn(draw, &picture, &inks);
    assert_true(find_lettering(&inks, &share, &err));
    inkmap_free(&inks);
    picture_free(&picture);
    return share;
}

static const Edit lettering = {.kind = EDIT_LETTERING};

/* --- what is lettering --- */

static void assert_left_as_drawn_alone(Draw *lettered, Draw *alone) {
    Picture picture[2];
    InkMap inks[2], map;
    Err err = {0};
    int apart = 0;
    find_drawn(lettered, &picture[0], &inks[0]);
    find_drawn(alone, &picture[1], &inks[1]);
    if (!leave_out(&inks[0], &lettering, 1, &map, &err)) fail_msg("%s", err.msg);
    for (int i = 0; i < SIDE * SIDE; i++) {
        const Rgb8 a = map.ink[map.label[i]].srgb, b = inks[1].ink[inks[1].label[i]].srgb;
        apart += delta_e00(rgb8_lab(a), rgb8_lab(b)) > 3;
    }
    assert_in_range(apart, 0, SIDE * SIDE / 5000); /* soft edges that went to the other side */
    assert_true(fabs(map.circle.x - inks[1].circle.x) < 1 && fabs(map.circle.y - inks[1].circle.y) < 1 &&
                fabs(map.circle.r - inks[1].circle.r) < 1);
    assert_true(map.lettering > 0 && map.lettering < 0.6);
    inkmap_free(&map);
    for (int k = 0; k < 2; k++) {
        inkmap_free(&inks[k]);
        picture_free(&picture[k]);
    }
}

static void without_its_lettering_a_logo_is_what_the_drawing_alone_would_be(void **state) {
    (void)state;
    Draw *const lettered[] = {draw_named_cup, draw_cup_in_two_lines, draw_cup_over_plate};
    for (size_t i = 0; i < sizeof lettered / sizeof *lettered; i++)
        assert_left_as_drawn_alone(lettered[i], draw_cup);
}

/* Of the ring 12 in 100 of the new radius are left; the tree is as it was. */
static void a_ring_that_carried_it_becomes_a_thin_one(void **state) {
    (void)state;
    Picture picture;
    InkMap inks, map;
    Err err = {0};
    find_drawn(draw_badge, &picture, &inks);
    if (!leave_out(&inks, &lettering, 1, &map, &err)) fail_msg("%s", err.msg);
    assert_true(map.roundel && fabs(map.circle.r - 190 / 0.88) < 2);
    const Rgb8 ring = map.ink[map.field].srgb, tree = map.ink[map.label[260 * SIDE + 300]].srgb;
    assert_true(delta_e00(rgb8_lab(ring), rgb8_lab((Rgb8){0x1F, 0x5A, 0x48})) < 3);
    assert_true(delta_e00(rgb8_lab(tree), rgb8_lab((Rgb8){0x2E, 0x7A, 0x3C})) < 3);
    assert_int_equal(map.label[(300 - 235) * SIDE + 300], map.field); /* where letters were */
    inkmap_free(&map);
    inkmap_free(&inks);
    picture_free(&picture);
}

static void what_else_stands_in_rows_is_none(void **state) {
    (void)state;
    Draw *const drawings[DRAWINGS] = {draw_cup,   draw_windows, draw_rays, draw_arrows,
                                      draw_steam, draw_code,    draw_huts, draw_chain};
    for (int i = 0; i < DRAWINGS; i++) {
        const double share = share_of(drawings[i]);
        if (share > 0) fail_msg("drawing %d: %g of it is called lettering", i, share);
    }
}

/* A letter that has grown together with the drawing would stay behind. */
static void draw_grown_together(cairo_t *c) {
    draw_named_cup(c);
    draw_bar(c, 283, 380, 10, 150, 0x1B2A5A);
}

static void lettering_that_cannot_all_be_taken_is_left(void **state) {
    (void)state;
    assert_true(share_of(draw_named_cup) > 0.05);
    assert_true(share_of(draw_grown_together) <= 0);
}

/* A rim round each letter. */
static void draw_rimmed_cup(cairo_t *c) {
    draw_cup(c);
    for (int k = 0; k < 16; k++)
        draw_words(c, "CAFE LUMO", "DejaVu Sans Bold", 290 + 5 * cos(k * G_PI / 8),
                   530 + 5 * sin(k * G_PI / 8), 60, 0xD0A020);
    draw_words(c, "CAFE LUMO", "DejaVu Sans Bold", 290, 530, 60, 0x1B2A5A);
}

/* That of the M goes on as a string, up to the cup's handle. */
static void draw_cup_on_a_string(cairo_t *c) {
    draw_rimmed_cup(c);
    draw_bar(c, 440, 180, 8, 295, 0xD0A020);
}

static void what_lies_along_letters_goes_with_them_unless_it_leaves_their_row(void **state) {
    (void)state;
    const double rimmed = share_of(draw_rimmed_cup), on_a_string = share_of(draw_cup_on_a_string);
    assert_true(rimmed > 0.3);
    if (on_a_string < 0.2 || on_a_string > rimmed - 0.02)
        fail_msg("%g rimmed, %g on a string", rimmed, on_a_string);
}

static Draw *turned_over;

static void draw_turned_over(cairo_t *c) {
    cairo_translate(c, 0, SIDE);
    cairo_scale(c, 1, -1);
    turned_over(c);
}

/* Capitals have nothing above or below their row: upside down, plates and rims come before or after them. */
static void which_way_up_a_logo_stands_does_not_matter(void **state) {
    (void)state;
    Draw *const drawings[] = {draw_named_cup, draw_cup_over_plate, draw_rimmed_cup, draw_badge};
    for (size_t i = 0; i < sizeof drawings / sizeof *drawings; i++) {
        turned_over = drawings[i];
        const double share = share_of(drawings[i]), other = share_of(draw_turned_over);
        if (share <= 0 || fabs(share - other) > 0.005) fail_msg("drawing %zu: %g and %g", i, share, other);
    }
}

static void draw_word_alone(cairo_t *c) {
    draw_words(c, "LUMO", "DejaVu Sans Bold", 300, 340, 80, 0x1B2A5A);
}

static void what_cannot_be_left_out_is_told(void **state) {
    (void)state;
    static const struct {
        Draw *draw;
        const char *words;
    } cases[] = {{draw_rays, "no lettering is found"}, {draw_word_alone, "no drawing is found beside it"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Picture picture;
        InkMap inks, map = {.count = -1};
        Err err = {0};
        find_drawn(cases[i].draw, &picture, &inks);
        assert_false(leave_out(&inks, &lettering, 1, &map, &err));
        assert_int_equal(err.code, ERR_USAGE);
        if (!strstr(err.msg, cases[i].words)) fail_msg("no '%s' in: %s", cases[i].words, err.msg);
        assert_int_equal(map.count, -1);
        inkmap_free(&inks);
        picture_free(&picture);
    }
}

/* --- advice --- */

static const Way *way_without(const Judgement *j) {
    for (int i = 0; i < j->checks; i++)
        for (int k = 0; k < j->check[i].ways; k++)
            if (j->check[i].way[k].change.lettering > 0) return &j->check[i].way[k];
    return j->best.change.lettering > 0 ? &j->best : NULL;
}

/* The option gives the verdict that was promised; letter and sheets tell of it. */
static void assert_kept(const Job *named, const Job *job, const Way *way) {
    char options[OPTIONS_TEXT], words[LOG_LINE];
    Job other = *named;
    Ordered ordered;
    Err err = {0};
    assert_true(command_words(job, &way->change, options, sizeof options));
    assert_non_null(strstr(options, "--leave-out lettering"));
    change_print(words, sizeof words, job, way, true);
    assert_non_null(strstr(words, "without its lettering ("));
    assert_true(change_order(job, &way->change, &other.order));
    assert_true(ordered_new(&other, &ordered, &err) && job_run(&ordered.job, &err));
    assert_int_equal(ordered.job.judgement.verdict, way->whole);
    edits_words(&ordered.job, words);
    assert_non_null(strstr(words, "the drawing without its lettering, "));
    assert_true(letter_facts(&ordered.job) & FACT(ALONE));
    ordered_free(&ordered);
}

static void a_no_for_its_lettering_is_offered_the_drawing(void **state) {
    (void)state;
    Picture picture;
    InkMap inks;
    Ordered ordered;
    Shop shop = shop_default();
    Err err = {0};
    find_drawn(draw_cup_over_plate, &picture, &inks);
    Job named = {.picture = &picture, .inks = &inks, .shop = &shop, .order = order_default()};
    assert_true(ordered_new(&named, &ordered, &err) && job_run(&ordered.job, &err));
    assert_int_not_equal(ordered.job.judgement.verdict, VERDICT_GO);
    assert_true(advise(&ordered.job, ADVISE_BUDGET, NULL, &err));
    const Way *way = way_without(&ordered.job.judgement);
    assert_non_null(way);
    assert_true(way->whole < ordered.job.judgement.verdict);
    assert_true(letter_facts(&ordered.job) & FACT(UNLETTERED));
    assert_kept(&named, &ordered.job, way);
    ordered_free(&ordered);
    inkmap_free(&inks);
    picture_free(&picture);
}

/* --- words --- */

static void what_was_left_out_is_told_by_colour_size_and_place(void **state) {
    (void)state;
    Picture picture;
    InkMap inks;
    Ordered ordered;
    char words[LOG_LINE];
    Shop shop = shop_default();
    Err err = {0};
    find_drawn(draw_cup, &picture, &inks);
    Job named = {.picture = &picture, .inks = &inks, .shop = &shop, .order = order_default()};
    named.order.edit[named.order.edits++] =
        (Edit){.kind = EDIT_LEAVE_OUT, .x = 43 * POINT_UNIT, .y = 10 * POINT_UNIT};
    assert_true(ordered_new(&named, &ordered, &err) && job_run(&ordered.job, &err));
    edits_words(&ordered.job, words);
    double mm = 0; /* 60 px, where some 420 px and the background about them are 16 mm */
    char place[64] = "";
    assert_int_equal(sscanf(words, "left out: a brownish red part %lf mm across %63[a-z ]", &mm, place), 2);
    assert_true(mm > 1.9 && mm < 60.0 / 420 * 16 + 0.05);
    assert_string_equal(place, "at the top");
    ordered_free(&ordered);
    inkmap_free(&inks);
    picture_free(&picture);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_its_lettering_a_logo_is_what_the_drawing_alone_would_be),
        cmocka_unit_test(a_ring_that_carried_it_becomes_a_thin_one),
        cmocka_unit_test(what_else_stands_in_rows_is_none),
        cmocka_unit_test(lettering_that_cannot_all_be_taken_is_left),
        cmocka_unit_test(what_lies_along_letters_goes_with_them_unless_it_leaves_their_row),
        cmocka_unit_test(which_way_up_a_logo_stands_does_not_matter),
        cmocka_unit_test(what_cannot_be_left_out_is_told),
        cmocka_unit_test(a_no_for_its_lettering_is_offered_the_drawing),
        cmocka_unit_test(what_was_left_out_is_told_by_colour_size_and_place)};
    return cmocka_run_group_tests_name("lettering", tests, NULL, NULL);
}
