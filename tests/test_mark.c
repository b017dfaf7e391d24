/* Tests of src/judge/find_flaws.c and src/plan/mark_fine.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"
#include "say/verdict_words.h"
#include "judge/judge.h"

#include "face_job.h"

/* Least strip 6 mm, drawn out 6.25 times: 0.96 mm at the piece; a sheet 0.48 mm. */
static Job judged_job(const Shop *shop, Part *part, int parts) {
    Job job = face_job(motifs);
    job.shop = shop;
    job.grid.wanted.side = RASTER;
    job.judgement = (Judgement){.parts = parts, .part = part};
    for (int i = 0; i < parts; i++)
        if (part[i].box.w == 0) part[i].box = (Box){10 * i, 20, 30, 40};
    return job;
}

static const char *flaw_words_of(const Job *job, const Flaw *flaw) {
    static char words[FLAW_TEXT];
    flaw_print(job, flaw, words);
    return words;
}

static void the_gravest_main_part_comes_first(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[7] = {
        {.candy = 1, .samples = 50, .kept = true, .stroke_mm = 0.5},                  /* a fine crumb */
        {.candy = 1, .samples = 900, .main = true, .kept = true, .stroke_mm = 2},     /* nothing wrong */
        {.candy = 1, .samples = 800, .main = true, .kept = true, .stroke_mm = 0.4},   /* fine */
        {.candy = 1, .samples = 60, .stroke_mm = 2},                                  /* a lost crumb */
        {.candy = 1, .samples = 700, .main = true, .run_into = true, .stroke_mm = 2}, /* run into */
        {.candy = 1, .samples = 500, .main = true, .stroke_mm = 2},                   /* lost */
        {.candy = 1, .samples = 5, .speck = true},                                    /* a speck */
    };
    Job job = judged_job(&shop, part, 7);
    Flaws flaws;
    find_flaws(&job, &flaws);
    static const int want[] = {5, 4, 2, 3, 0};
    static const FlawKind kind[] = {FLAW_LOST, FLAW_RUN, FLAW_FINE, FLAW_LOST, FLAW_FINE};
    assert_int_equal(flaws.count, 5);
    assert_int_equal(flaws.more, 0);
    for (int i = 0; i < 5; i++) {
        assert_int_equal(flaws.flaw[i].part, want[i]);
        assert_int_equal(flaws.flaw[i].kind, kind[i]);
        assert_memory_equal(&flaws.flaw[i].box, &part[want[i]].box, sizeof(Box));
    }
    face_free(&job.face);
}

static void the_rest_beyond_eight_is_counted(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[20];
    for (int i = 0; i < 20; i++) part[i] = (Part){.candy = 1, .samples = 100 + (i * 7) % 20, .stroke_mm = 1};
    Job job = judged_job(&shop, part, 20);
    Flaws flaws;
    find_flaws(&job, &flaws);
    assert_int_equal(flaws.count, FLAWS_MAX);
    assert_int_equal(flaws.more, 12);
    for (int i = 0; i < FLAWS_MAX; i++)
        assert_int_equal(part[flaws.flaw[i].part].samples, 119 - i); /* the largest */
    face_free(&job.face);
}

static void the_words_say_what_where_and_how(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[4] = {
        {.candy = 1, .samples = 9, .main = true, .middle = {60, 60}},
        {.candy = 0, .samples = 8, .hole = true, .main = true, .run_into = true, .middle = {160, 160}},
        {.candy = 2, .samples = 7, .main = true, .kept = true, .stroke_mm = 0.4, .middle = {160, 300}},
        {.candy = 2,
         .samples = 6,
         .main = true,
         .kept = true,
         .ring = true,
         .stroke_mm = 0.3,
         .middle = {300, 160}},
    };
    Job job = judged_job(&shop, part, 4);
    Flaws flaws;
    find_flaws(&job, &flaws);
    assert_int_equal(flaws.count, 4);
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[0]), "red part, upper left: lost");
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[1]), "white hole, middle: opens to what is round it");
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[2]),
                        "navy part, bottom: too fine (0.4 mm, hands need 0.96 mm)");
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[3]),
                        "navy ring, right: too fine (0.3 mm, hands need 0.48 mm)");
    face_free(&job.face);
}

static void what_the_face_shows_some_of_is_not_lost(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[2] = {
        {.candy = 0, .samples = 9, .hole = true, .iou = 0.24, .middle = {160, 300}},
        {.candy = 0, .samples = 8, .hole = true, .iou = 0.15, .middle = {160, 300}},
    };
    Job job = judged_job(&shop, part, 2);
    Flaws flaws;
    find_flaws(&job, &flaws);
    assert_int_equal(flaws.count, 2);
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[0]), "white hole, bottom: lost");
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[1]), "white hole, bottom: out of shape");
    face_free(&job.face);
}

/* The logo's ink 0 is its field, ink 1 is drawn in the same candy. */
static void a_stem_in_the_candy_of_the_field_is_a_line_and_no_gap(void **state) {
    (void)state;
    Job job = face_job(motifs);
    uint8_t label[2] = {0, 1};
    InkMap inks = {.width = 2, .height = 1, .count = 2, .label = label};
    job.inks = &inks;
    job.grid.wanted.side = RASTER;
    job.grid.frame = (Frame){.centre_px = {1, 0.5}, .px_per_step = 2.0 * SAMPLES / RASTER};
    RedrawnLine line = {.candy = job.grid.field, .middle = {RASTER / 4.0, RASTER / 2.0}};
    assert_string_equal(line_noun(&job, &line), "gap");
    line.middle.x = 3 * RASTER / 4.0;
    assert_string_equal(line_noun(&job, &line), "line");
    line.middle.x = RASTER / 4.0;
    inks.full_bleed = true; /* no background at all */
    assert_string_equal(line_noun(&job, &line), "line");
    face_free(&job.face);
}

/* A bar of 8 samples, one of 48, and a gap of 12 between the second and a third: least strip 32. */
static int bars(double x, double y) {
    if (fabs(x) > 100) return 0;
    return fabs(y + 90) < 4 || fabs(y) < 24 || fabs(y - 66) < 30;
}

static Grid grid_of(Motif *motif) {
    Grid grid = {
        .steps = STEPS, .least_steps = 4, .candies = 3, .core = {STEPS / 2.0, STEPS / 2.0, STEPS / 2.0}};
    fill_face(motif, &grid.wanted);
    return grid;
}

static const LayUp none = {.ropes = 0};

static int fine_at(const FineMap *map, double x, double y) {
    return map->fine[(size_t)((y + RASTER / 2.0) / 2) * map->side + (size_t)((x + RASTER / 2.0) / 2)];
}

static void thin_strokes_and_gaps_are_marked_and_corners_are_not(void **state) {
    (void)state;
    Grid grid = grid_of(bars);
    FineMap map;
    Err err = {0};
    assert_true(mark_fine(&grid, &none, &map, &err));
    assert_int_equal(map.side, RASTER / 2);
    for (int x = -90; x <= 90; x += 10) {
        assert_int_equal(fine_at(&map, x, -90), FINE_STROKE);
        assert_int_equal(fine_at(&map, x, 0), FINE_NOT);
        assert_int_equal(fine_at(&map, x, 66), FINE_NOT);
        if (abs(x) <= 80)
            assert_int_equal(fine_at(&map, x, 30), FINE_GAP); /* its mouths are no worse than corners */
        assert_int_equal(fine_at(&map, x, -55), FINE_NOT);    /* a gap of 62 */
    }
    for (int x = -99; x <= 99; x += 198) { /* corners */
        assert_int_equal(fine_at(&map, x, -23), FINE_NOT);
        assert_int_equal(fine_at(&map, x, 23), FINE_NOT);
    }
    fine_map_free(&map);
    grid_free(&grid);
}

/* A bar of 20 samples, over half a least strip: its right half is laid in a fine block. */
static int one_bar(double x, double y) {
    return fabs(x) < 140 && fabs(y) < 10;
}

static void in_a_fine_block_half_a_least_strip_counts(void **state) {
    (void)state;
    Grid grid = grid_of(one_bar);
    Rope rope[2] = {{.outline = outline_of_box(0, 18, 20, 4), .fine = false},
                    {.outline = outline_of_box(20, 18, 20, 4), .fine = true}};
    const LayUp layup = {.ropes = 2, .rope = rope};
    FineMap map;
    Err err = {0};
    assert_true(mark_fine(&grid, &layup, &map, &err));
    for (int x = 10; x <= 120; x += 10) {
        assert_int_equal(fine_at(&map, -x, 0), FINE_STROKE);
        assert_int_equal(fine_at(&map, x, 0), FINE_NOT);
    }
    fine_map_free(&map);
    grid_free(&grid);
}

/* The fine block begins at a line that falls by one in three. What lies nearer to it than a quarter of a
 * least strip counts as a corner. */
static void in_a_slanted_fine_rope_half_a_least_strip_counts(void **state) {
    (void)state;
    Grid grid = grid_of(one_bar);
    Rope rope = {.outline = {4, {{14, 18}, {40, 18}, {40, 22}, {26, 22}}}, .fine = true};
    const LayUp layup = {.ropes = 1, .rope = &rope};
    FineMap map;
    Err err = {0};
    assert_true(mark_fine(&grid, &layup, &map, &err));
    for (int y = -8; y <= 8; y += 4)
        for (int x = 6; x < 100; x += 10) {
            assert_int_equal(fine_at(&map, 3 * y + x, y), FINE_NOT);
            if (x > 30) assert_int_equal(fine_at(&map, 3 * y - x, y), FINE_STROKE);
        }
    fine_map_free(&map);
    grid_free(&grid);
}

static void a_part_in_fine_blocks_is_fine_from_half_a_least_strip_on(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[3] = {
        {.candy = 1, .samples = 60, .main = true, .kept = true, .fine = true, .stroke_mm = 0.6},
        {.candy = 1, .samples = 50, .main = true, .kept = true, .fine = true, .stroke_mm = 0.3},
        {.candy = 1, .samples = 40, .main = true, .kept = true, .fine = false, .stroke_mm = 0.6},
    };
    Job job = judged_job(&shop, part, 3);
    Flaws flaws;
    find_flaws(&job, &flaws);
    assert_int_equal(flaws.count, 2);
    assert_int_equal(flaws.flaw[0].part, 1);
    assert_non_null(strstr(flaw_words_of(&job, &flaws.flaw[0]), "(0.3 mm, hands need 0.48 mm)"));
    assert_int_equal(flaws.flaw[1].part, 2);
    assert_non_null(strstr(flaw_words_of(&job, &flaws.flaw[1]), "(0.6 mm, hands need 0.96 mm)"));
    face_free(&job.face);
}

/* A frame of 8 samples round everything, thick in its lower right corner. */
static int frame_of_lines(double x, double y) {
    bool in = fabs(x) < 90 && fabs(y) < 90, hollow = fabs(x) < 82 && fabs(y) < 82;
    bool thick = x > 20 && y > 20;
    return in && (!hollow || thick);
}

static void of_a_large_part_the_spot_with_most_at_fault_is_ringed(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Part part[1] = {
        {.candy = 1, .samples = 900, .main = true, .box = {70, 70, 180, 180}, .middle = {160, 160}}};
    Job job = judged_job(&shop, part, 1);
    face_free(&job.face);
    fill_face(frame_of_lines, &job.grid.wanted);
    fill_face(frame_of_lines, &job.face);
    for (int y = 220; y < RASTER; y++) /* the face has lost what lies at the lower left */
        for (int x = 0; x < 130; x++)
            if (job.face.candy[y * RASTER + x] == 1) job.face.candy[y * RASTER + x] = 0;
    Flaws flaws;
    find_flaws(&job, &flaws);
    assert_int_equal(flaws.count, 1);
    Box box = flaws.flaw[0].box;
    assert_in_range(box.w, 30, 0.4 * RASTER);
    assert_in_range(box.h, 30, 0.4 * RASTER);
    assert_true(box.x < 130 && box.y + box.h > 230);
    assert_true(box.x >= 70 && box.y + box.h <= 250);
    assert_string_equal(flaw_words_of(&job, &flaws.flaw[0]), "red part, lower left: lost");
    face_free(&job.face);
    face_free(&job.grid.wanted);
}

/* Along the rim the field goes on: a narrow strip of it is no gap. */
static int near_the_rim(double x, double y) {
    return hypot(x, y) < RASTER / 2.0 - 6;
}

static void the_field_goes_on_beyond_the_core(void **state) {
    (void)state;
    Grid grid = grid_of(near_the_rim);
    FineMap map;
    Err err = {0};
    assert_true(mark_fine(&grid, &none, &map, &err));
    int marked = 0;
    for (int i = 0; i < map.side * map.side; i++) marked += map.fine[i] != FINE_NOT;
    assert_int_equal(marked, 0);
    fine_map_free(&map);
    grid_free(&grid);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_gravest_main_part_comes_first),
        cmocka_unit_test(the_rest_beyond_eight_is_counted),
        cmocka_unit_test(the_words_say_what_where_and_how),
        cmocka_unit_test(what_the_face_shows_some_of_is_not_lost),
        cmocka_unit_test(a_stem_in_the_candy_of_the_field_is_a_line_and_no_gap),
        cmocka_unit_test(thin_strokes_and_gaps_are_marked_and_corners_are_not),
        cmocka_unit_test(in_a_fine_block_half_a_least_strip_counts),
        cmocka_unit_test(in_a_slanted_fine_rope_half_a_least_strip_counts),
        cmocka_unit_test(a_part_in_fine_blocks_is_fine_from_half_a_least_strip_on),
        cmocka_unit_test(of_a_large_part_the_spot_with_most_at_fault_is_ringed),
        cmocka_unit_test(the_field_goes_on_beyond_the_core)};
    return cmocka_run_group_tests_name("mark", tests, NULL, NULL);
}
