/* Tests of src/draw/scene.c, src/draw/piece_surface.c and src/draw/daylight.c. SPDX-License-Identifier: MIT
 */
#include "draw/scene.h"

#include "face_job.h"

static PieceSurface make_surface(const Job *job, int side) {
    PieceSurface surface;
    Err err = {0};
    if (!piece_surface_new(job, side, &surface, &err)) fail_msg("%s", err.msg);
    return surface;
}

static Image render(const Job *job, int threads) {
    const SceneFrame frame = {320, 240, 10, 10, 230, 230, threads};
    Scatter pieces;
    Image image;
    Err err = {0};
    PieceSurface surface = make_surface(job, 90);
    scatter(16, 14, scene_aspect(&frame), 7, &pieces);
    if (!scene_render(&pieces, &surface, &frame, &image, &err)) fail_msg("%s", err.msg);
    piece_surface_free(&surface);
    return image;
}

static void threads_change_no_byte(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image one = render(&job, 1);
    for (int threads = 0; threads < 8; threads = threads * 2 + 2) { /* 0: as many as there are */
        Image other = render(&job, threads);
        assert_memory_equal(one.rgba, other.rgba, (size_t)320 * 240 * 4);
        image_free(&other);
    }
    image_free(&one);
    face_free(&job.face);
}

/* Read at the same spot of the picture, both ends have the same colour: seen from its own side each, they are
 * mirror images. */
static void both_ends_read_one_picture(void **state) {
    (void)state;
    Job job = face_job(motifs);
    PieceSurface surface = make_surface(&job, 200);
    Piece piece = {.radius = 8, .length = 14, .number = 12345};
    bool differs = false;
    for (int i = 0; i < 400; i++) {
        double u = i % 20 / 14.0 - 0.68, v = (int)(i / 20) / 14.0 - 0.68;
        Hit picture = {.surface = SURFACE_PICTURE_END, .u = u, .v = v, .along = 1};
        Hit other = {.surface = SURFACE_OTHER_END, .u = u, .v = v, .along = -1};
        Hit mirrored = {.surface = SURFACE_PICTURE_END, .u = -u, .v = v, .along = 1};
        Linear a = piece_surface_colour(&surface, &piece, &picture, 1),
               b = piece_surface_colour(&surface, &piece, &other, 1);
        Linear c = piece_surface_colour(&surface, &piece, &mirrored, 1);
        assert_true(a.r == b.r && a.g == b.g && a.b == b.b);
        differs = differs || fabs(a.g - c.g) > 0.2;
    }
    assert_true(differs); /* the picture is no mirror image of itself */
    piece_surface_free(&surface);
    face_free(&job.face);
}

/* What of the cut is above is above: up is up, right is right. */
static void the_picture_is_the_right_way_up(void **state) {
    (void)state;
    Job job = face_job(motifs);
    PieceSurface surface = make_surface(&job, 200);
    Piece piece = {.radius = 8, .length = 14, .number = 5};
    double scale = 0.9 / (RASTER / 2.0);
    Hit red = {.surface = SURFACE_PICTURE_END, .u = -60 * scale, .v = 0};          /* left */
    Hit navy = {.surface = SURFACE_PICTURE_END, .u = 60 * scale, .v = 40 * scale}; /* upper right */
    Hit white = {.surface = SURFACE_PICTURE_END, .u = 60 * scale, .v = 10 * scale};
    Linear r = piece_surface_colour(&surface, &piece, &red, 1),
           n = piece_surface_colour(&surface, &piece, &navy, 1),
           w = piece_surface_colour(&surface, &piece, &white, 1);
    assert_true(r.r > 0.4 && r.g < 0.1);
    assert_true(n.r < 0.1 && n.b < 0.2);
    assert_true(w.r > 0.7 && w.g > 0.7);
    piece_surface_free(&surface);
    face_free(&job.face);
}

/* Where the cut's edge is red, so is the side below it. */
static void stripes_run_on_from_the_edge_along_the_side(void **state) {
    (void)state;
    Job job = face_job(motifs);
    job.palette.jackets = 2;
    job.palette.stripes = 12;
    job.palette.jacket[0].srgb = (Rgb8){255, 0, 0};
    job.palette.jacket[1].srgb = (Rgb8){0, 0, 255};
    PieceSurface surface = make_surface(&job, 400);
    Piece piece = {.radius = 8, .length = 14, .number = 99};
    for (int i = 0; i < 360; i++) {
        double turn = (i + 0.5) * PI / 180, u = sin(turn), v = cos(turn);
        if (fabs(fmod(turn * 6 / PI, 1) - 0.5) > 0.44) continue; /* on the border of two */
        Hit edge = {.surface = SURFACE_PICTURE_END, .u = 0.97 * u, .v = 0.97 * v};
        Hit side = {.surface = SURFACE_SIDE, .u = u, .v = v, .along = 0.3};
        Linear a = piece_surface_colour(&surface, &piece, &edge, 1),
               b = piece_surface_colour(&surface, &piece, &side, 1);
        assert_int_equal(a.r > a.b, b.r > b.b);
        assert_int_equal(a.r > a.b, i / 30 % 2 == 0);
    }
    piece_surface_free(&surface);
    face_free(&job.face);
}

static void pieces_throw_shade_beside_them_and_none_far_off(void **state) {
    (void)state;
    Scatter one = {.count = 1, .width = 100, .depth = 100};
    one.piece[0] = (Piece){.middle = {0, 0, 7},
                           .axis = {0, 0, 1},
                           .right = {1, 0, 0},
                           .up = {0, 1, 0},
                           .radius = 8,
                           .length = 14,
                           .standing = true};
    Daylight light;
    Err err = {0};
    assert_true(daylight_make(&one, 40, 0, &light, &err));
    Shade away = daylight_table(&light, 45, 45), foot = daylight_table(&light, 8.3, 0),
          lee = daylight_table(&light, 11, -10);
    Shade sunny = daylight_table(&light, -11, 10);
    assert_true(away.sky == 1 && away.window == 1);
    assert_true(foot.sky < 0.75F);  /* contact */
    assert_true(lee.window < 0.3F); /* away from the window */
    assert_true(sunny.window > 0.95F);
    near((double)daylight_table(&light, 0, 0).sky, 0, 1e-6); /* under it */
    daylight_free(&light);
}

static void the_ground_is_lighter_than_its_shade(void **state) {
    (void)state;
    Job job = face_job(motifs);
    Image image = render(&job, 0);
    int dark = 0, light = 0;
    for (int i = 0; i < 320 * 240; i++) {
        const uint8_t *p = image.rgba + 4 * i;
        bool grey = abs(p[0] - p[2]) < 24;
        dark += grey && p[1] < 150;
        light += grey && p[1] > 200;
        assert_int_equal(p[3], 255);
    }
    assert_true(light > 20000);
    assert_true(dark > 500 && dark < 20000);
    image_free(&image);
    face_free(&job.face);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(threads_change_no_byte),
                                       cmocka_unit_test(both_ends_read_one_picture),
                                       cmocka_unit_test(the_picture_is_the_right_way_up),
                                       cmocka_unit_test(stripes_run_on_from_the_edge_along_the_side),
                                       cmocka_unit_test(pieces_throw_shade_beside_them_and_none_far_off),
                                       cmocka_unit_test(the_ground_is_lighter_than_its_shade)};
    return cmocka_run_group_tests_name("scene", tests, NULL, NULL);
}
