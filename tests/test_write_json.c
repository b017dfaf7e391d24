/* Tests of src/write/write_json.c: what it prints is read back with cJSON. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "bench_job.h"
#include "built_blocks.h"
#include "sample_job.h"
#include "base/text.h"
#include "say/bench_words.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static cJSON *read_back(const Job *job) {
    char *text = sample_print(job, write_json);
    assert_non_null(text);
    assert_int_equal(text[strlen(text) - 1], '\n');
    for (char *c = text; *c; c++)
        if (*c == '\n' || *c == '\t') *c = ' ';
    assert_true(text_valid(text));
    cJSON *root = cJSON_Parse(text);
    free(text);
    assert_non_null(root);
    return root;
}

/* The item at "key.key.3.key". */
static cJSON *at(cJSON *item, const char *path) {
    char key[64];
    for (const char *rest = path; item && *rest;) {
        size_t length = strcspn(rest, ".");
        (void)snprintf(key, sizeof key, "%.*s", (int)length, rest);
        item = cJSON_IsArray(item) ? cJSON_GetArrayItem(item, atoi(key))
                                   : cJSON_GetObjectItemCaseSensitive(item, key);
        rest += length + (rest[length] == '.');
    }
    if (!item) fail_msg("no %s", path);
    return item;
}

static void number(cJSON *root, const char *path, double want) {
    cJSON *item = at(root, path);
    double off = fabs(item->valuedouble - want); /* cJSON prints to one part in 2^52 */
    if (!cJSON_IsNumber(item) || off > 2.3e-16 * fabs(want)) fail_msg("%s is not %.17g", path, want);
}

static void string(cJSON *root, const char *path, const char *want) {
    cJSON *item = at(root, path);
    if (!cJSON_IsString(item)) fail_msg("%s is no string", path);
    assert_string_equal(item->valuestring, want);
}

static void truth(cJSON *root, const char *path, bool want) {
    cJSON *item = at(root, path);
    if (!cJSON_IsBool(item) || cJSON_IsTrue(item) != want) fail_msg("%s is not %d", path, want);
}

static void keys(cJSON *item, const char *want) {
    char got[512] = "";
    for (cJSON *child = item->child; child; child = child->next)
        (void)snprintf(got + strlen(got), sizeof got - strlen(got), "%s ", child->string);
    assert_string_equal(got, want);
}

static void the_keys_are_those_of_format_2(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON *root = read_back(&s.job);
    keys(root, "format name logo field palettes_tried jacket frame redrawn order cane quote layup judgement "
               "measures "
               "materials blends cook heat work ");
    keys(at(root, "quote"),
         "pieces spare_pieces piece_mass_g pieces_mass_g pieces_per_kg batches batches_dyed ");
    keys(at(root, "logo"), "file width height shaded inks ");
    keys(at(root, "logo.inks.0"), "srgb share candy delta_e field ");
    keys(at(root, "jacket"), "candies stripes ");
    keys(at(root, "order"), "pieces piece_diameter_mm piece_length_mm colors field map jacket stripes fit "
                            "ropes detail no_fine edits ");
    keys(at(root, "frame"), "centre_px px_per_step full_bleed roundel cropped ");
    keys(at(root, "cane"), "logs log_diameter_mm log_length_mm core_diameter_mm reduction cane_length_m ");
    keys(at(root, "layup"), "step_mm steps least_steps ropes ropes_made rope_types blocks ropes_list "
                            "types_list blocks_list wraps_list pulls "
                            "rings ");
    keys(at(root, "layup.ropes_list.0"),
         "id type number candy shape outline area_mm2 rim trim round rest fine ");
    keys(at(root, "layup.ropes_list.1"),
         "id type number candy shape outline area_mm2 rim trim round rest fine ");
    keys(at(root, "layup.types_list.0"), "candy shape width_mm height_mm section rim count made mass_g ");
    keys(at(root, "layup.blocks_list.0"), "id kind outline round turn mirrored shift children cuts wraps "
                                          "made uses build builds pieces scale length_mm "
                                          "mirrored_risk turned_risk looks_the_same fine ");
    keys(at(root, "layup.blocks_list.0.children.0"), "rope outline turn mirrored shift ");
    keys(at(root, "layup.blocks_list.2.children.1"), "block outline turn mirrored shift ");
    keys(at(root, "layup.pulls.0"),
         "type scale width_mm height_mm section times count length_each_mm total_length_mm mass_g "
         "lump_side_mm lump_length_mm draw ");
    keys(at(root, "layup.rings.0"), "candy outer inner ");
    keys(at(root, "judgement"), "verdict likeness weakest checks sentence ");
    keys(at(root, "judgement.checks.0"), "name value limit unit verdict own advice source ");
    keys(at(root, "measures"), "features features_kept kept_share lost difference ");
    keys(at(root, "measures.lost.1"), "kind candy share left run_together middle_mm ");
    keys(at(root, "measures.difference"), "across_mm times_seen thick_mm of_thickness middle_mm wanted got ");
    keys(at(root, "cook"),
         "candies all boilings boiling moisture altitude_m water_boils_c cook_c cook_least_c source ");
    keys(at(root, "cook.candies.0"), "candy candy_g sugar_g syrup_g water_g ");
    keys(at(root, "cook.all"), "candy_g sugar_g syrup_g water_g ");
    keys(at(root, "heat"),
         "joining_c working_c room_c rope_types pulls blocks log uneven_c uneven_viscosity_ratio source ");
    keys(at(root, "heat.rope_types.0"), "round_diameter_mm seconds ");
    keys(at(root, "materials.0"),
         "candy finish srgb dyed_to_order share_of_log volume_ml mass_g with_spare_g block_ends_g ");
    cJSON_Delete(root);
}

static void logo_frame_and_cane_are_read_back(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.job.cane.reduction = 22.0 / 3;
    cJSON *root = read_back(&s.job);
    number(root, "format", 2);
    string(root, "name", "ferry");
    string(root, "logo.file", "ferry.png");
    number(root, "logo.width", 1201);
    assert_true(cJSON_IsNull(at(root, "logo.inks.0.srgb")));
    truth(root, "logo.inks.0.field", true);
    truth(root, "logo.inks.2.field", false);
    string(root, "logo.inks.2.srgb", "#BE2432");
    string(root, "logo.inks.2.candy", "red");
    number(root, "logo.inks.2.delta_e", 6.5);
    string(root, "field", "white");
    string(root, "jacket.candies.0", "red");
    number(root, "jacket.stripes", 6);
    number(root, "frame.centre_px.0", 601); /* in pixels of the file: two to one here */
    number(root, "frame.centre_px.1", 400.5);
    number(root, "frame.px_per_step", 20.25);
    truth(root, "frame.roundel", true);
    truth(root, "frame.full_bleed", false);
    truth(root, "frame.cropped", false);
    number(root, "cane.reduction", 22.0 / 3); /* unrounded */
    number(root, "cane.log_length_mm", 305);
    number(root, "order.pieces", 1000);
    cJSON_Delete(root);
}

static void lay_up_and_judgement_are_read_back(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON *root = read_back(&s.job);
    number(root, "layup.ropes", 2);
    number(root, "layup.ropes_made", 13);
    assert_int_equal(cJSON_GetArraySize(at(root, "layup.ropes_list")), 3); /* trims are listed */
    number(root, "layup.ropes_list.1.id", 2);
    number(root, "layup.ropes_list.1.type", 2);
    string(root, "layup.ropes_list.1.shape", "wedge");
    assert_int_equal(cJSON_GetArraySize(at(root, "layup.ropes_list.1.outline")), 3);
    number(root, "layup.ropes_list.1.outline.0.0", 40);
    number(root, "layup.ropes_list.1.outline.0.1", 8);
    number(root, "layup.ropes_list.1.outline.2.1", 40);
    number(root, "layup.types_list.1.section.1.0", 0);
    number(root, "layup.types_list.1.section.2.0", 60);
    number(root, "layup.pulls.0.section.2.0", 75); /* 1.25 times */
    number(root, "layup.ropes_list.1.area_mm2", 640 * 1.5 * 1.5);
    truth(root, "layup.ropes_list.2.trim", true);
    truth(root, "layup.ropes_list.0.rim", true);
    number(root, "layup.blocks", 2);
    assert_int_equal(cJSON_GetArraySize(at(root, "layup.blocks_list")), 3); /* copies are listed */
    string(root, "layup.ropes_list.1.number", "2.1");
    string(root, "layup.ropes_list.2.number", "t1");
    string(root, "layup.blocks_list.1.uses", "x2, one end for end, then a quarter turn left");
    number(root, "layup.blocks_list.2.children.1.outline.0.1", 8);
    number(root, "layup.blocks_list.2.cuts.0.1.0", 40);
    number(root, "layup.blocks_list.2.cuts.0.1.1", 8);
    number(root, "layup.pulls.0.type", 2);
    number(root, "layup.pulls.0.scale", 1.25);
    number(root, "layup.pulls.0.lump_length_mm", 132.5);
    number(root, "layup.blocks_list.1.id", 1);
    string(root, "layup.blocks_list.1.kind", "stack");
    number(root, "layup.blocks_list.1.turn", 3);
    truth(root, "layup.blocks_list.1.mirrored", true);
    number(root, "layup.blocks_list.1.shift.1", 0);
    number(root, "layup.blocks_list.1.outline.0.0", 40); /* what was at 0, 40 */
    number(root, "layup.blocks_list.1.outline.0.1", 0);
    assert_false(signbit(at(root, "layup.blocks_list.1.outline.0.1")->valuedouble)); /* no "-0" */
    number(root, "layup.blocks_list.1.made", 2);
    number(root, "layup.blocks_list.1.children.1.rope", 3);
    number(root, "layup.blocks_list.2.children.0.rope", 1);
    number(root, "layup.blocks_list.2.children.1.block", 1);
    string(root, "layup.blocks_list.2.kind", "stack");
    number(root, "layup.rings.0.inner", 18);
    string(root, "judgement.verdict", "change");
    number(root, "judgement.likeness", 0.7999);
    string(root, "judgement.checks.1.advice", "in pieces of 18 mm across: then this line is go");
    string(root, "judgement.checks.2.unit", "kg");
    string(root, "judgement.checks.2.verdict", "go");
    number(root, "materials.1.with_spare_g", 1774.5);
    cJSON_Delete(root);
}

static void cook_and_heat_are_read_back_and_doses_only_if_given(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON *root = read_back(&s.job);
    string(root, "cook.candies.1.candy", "red");
    number(root, "cook.candies.1.sugar_g", 1211);
    number(root, "cook.all.syrup_g", 1640);
    number(root, "cook.boilings", 1);
    number(root, "cook.moisture", 0.025);
    number(root, "cook.water_boils_c", 99.97);
    number(root, "heat.rope_types.1.seconds", 48.2);
    number(root, "heat.pulls.0.seconds", 48.2);
    number(root, "heat.pulls.0.round_diameter_mm", 6);
    number(root, "heat.log.seconds", 5040);
    number(root, "heat.uneven_viscosity_ratio", 3.44);
    cJSON_Delete(root);
    s.job.recipe.row[1].colour_g = 0.45045;
    s.job.recipe.whole.colour_g = 0.45045;
    s.job.recipe.whole.acid_g = 45;
    root = read_back(&s.job);
    keys(at(root, "cook.candies.1"),
         "candy candy_g sugar_g syrup_g water_g colour_g colour_mg_per_kg_of_piece ");
    keys(at(root, "cook.all"), "candy_g sugar_g syrup_g water_g acid_g colour_g ");
    assert_true(fabs(at(root, "cook.candies.1.colour_mg_per_kg_of_piece")->valuedouble - 100) < 1e-9);
    cJSON_Delete(root);
}

static void hostile_names_stay_in_their_string(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    strcpy(s.job.file, "a\"},{\n\xFF\x1B[2J.png");
    strcpy(s.job.order.name, "caf\xC3\xA9 \\u0000 \xE2\x80\xAE");
    cJSON *root = read_back(&s.job);
    string(root, "logo.file", "a\"},{???[2J.png");
    string(root, "name", "caf\xC3\xA9 \\u0000 ?");
    cJSON_Delete(root);
}

/* In place of its red candy a blend. */
static void blends_are_told_beside_the_materials(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    const Stock *stock = &s.shop.stock;
    const Candy *of[] = {&stock->candy[4], &stock->candy[0]};
    BlendRow *row = &s.job.bill.blend[0];
    Err err = {0};
    assert_true(blend_make(of, (const int[]){1, 2}, "", "", &row->whole.candy, &err));
    row->whole.share_of_log = 0.25;
    row->whole.mass_g = 300;
    row->whole.with_spare_g = 315;
    row->part_g[0] = 105;
    row->part_g[1] = 210;
    s.job.bill.blends = 1;
    cJSON *root = read_back(&s.job);
    assert_int_equal(cJSON_GetArraySize(at(root, "blends")), 1);
    keys(at(root, "blends.0"), "candy srgb density_g_ml folds share_of_log mass_g with_spare_g of ");
    string(root, "blends.0.candy", "red+2white");
    number(root, "blends.0.density_g_ml", 1.30);
    number(root, "blends.0.folds", 3);
    number(root, "blends.0.share_of_log", 0.25);
    number(root, "blends.0.mass_g", 300);
    number(root, "blends.0.with_spare_g", 315);
    string(root, "blends.0.of.0.candy", "red");
    string(root, "blends.0.of.1.candy", "white");
    number(root, "blends.0.of.1.parts", 2);
    number(root, "blends.0.of.0.fold_for_a_log_g", 105);
    number(root, "blends.0.of.1.fold_for_a_log_g", 210);
    cJSON_Delete(root);
}

/* --- the log built from what job.json says of the blocks, and nothing else --- */

/* What lies in a log: outlines and candies. */
typedef struct Log {
    cJSON *ropes, *blocks;
    Outline *outline;
    const char **candy;
    int laid, room;
} Log;

static int whole(cJSON *item, const char *key) {
    return (int)at(item, key)->valuedouble;
}

static Point point_of(cJSON *item) {
    assert_int_equal(cJSON_GetArraySize(item), 2);
    return (Point){cJSON_GetArrayItem(item, 0)->valuedouble, cJSON_GetArrayItem(item, 1)->valuedouble};
}

static Outline outline_read(cJSON *corners) {
    Outline out = {0};
    cJSON *corner = NULL;
    cJSON_ArrayForEach(corner, corners) {
        assert_true(out.corners < OUTLINE_MAX);
        out.corner[out.corners++] = point_of(corner);
    }
    return out;
}

static Motion motion_of(cJSON *item) {
    return (Motion){{cJSON_IsTrue(at(item, "mirrored")), whole(item, "turn")}, point_of(at(item, "shift"))};
}

static void lay_rope(Log *log, cJSON *rope, Motion motion) {
    Outline own = outline_read(at(rope, "outline"));
    assert_true(log->laid < log->room);
    log->outline[log->laid] = outline_moved(&own, motion);
    log->candy[log->laid++] = at(rope, "candy")->valuestring;
}

/* A block is built where its first use lies: that is where its children's places are told. */
static void lay_block(Log *log, int id, Motion motion) { /* NOLINT(misc-no-recursion) */
    cJSON *block = NULL, *child = NULL;
    cJSON_ArrayForEach(block, log->blocks) if (whole(block, "id") == id) break;
    assert_non_null(block);
    cJSON_ArrayForEach(child, at(block, "children")) {
        cJSON *rope = cJSON_GetObjectItem(child, "rope"), *inner = cJSON_GetObjectItem(child, "block");
        Motion to = motion_after(motion_of(child), motion);
        if (inner)
            lay_block(log, (int)inner->valuedouble, to);
        else
            lay_rope(log, cJSON_GetArrayItem(log->ropes, (int)rope->valuedouble - 1), to);
    }
}

/* Every rope of the list was laid once, and nothing else. */
static void log_is_that_of_the_list(const Log *log) {
    cJSON *rope = NULL;
    int found = 0;
    cJSON_ArrayForEach(rope, log->ropes) {
        Outline own = outline_read(at(rope, "outline"));
        for (int i = 0; i < log->laid; i++)
            found += outline_same(&log->outline[i], &own, 1e-9) &&
                     strcmp(log->candy[i], at(rope, "candy")->valuestring) == 0;
    }
    assert_int_equal(log->laid, cJSON_GetArraySize(log->ropes));
    assert_int_equal(found, log->laid);
}

/* The use's own outline is that of its children, and of the area of all of them that are inside the core. */
static void uses_lie_where_they_say(Log *log, Circle core) {
    cJSON *use = NULL;
    cJSON_ArrayForEach(use, log->blocks) {
        double inside = 0;
        log->laid = 0;
        lay_block(log, whole(use, "id"), motion_of(use));
        Outline outline = outline_read(at(use, "outline"));
        for (int i = 0; i < log->laid; i++) inside += outline_disc_area(&log->outline[i], core);
        assert_true(fabs(inside - outline_disc_area(&outline, core)) < 1e-6);
    }
}

/* Builds the log anew from the text alone; adds the uses that are turned or mirrored to *copies. */
static void builds_the_log(const Job *job, int *copies) {
    static Outline outline[STEPS_MAX * STEPS_MAX];
    static const char *candy[STEPS_MAX * STEPS_MAX];
    cJSON *root = read_back(job), *use = NULL;
    Log log = {at(root, "layup.ropes_list"), at(root, "layup.blocks_list"), outline, candy, 0,
               STEPS_MAX * STEPS_MAX};
    cJSON *last = cJSON_GetArrayItem(log.blocks, cJSON_GetArraySize(log.blocks) - 1);
    lay_block(&log, whole(last, "id"), motion_of(last));
    log_is_that_of_the_list(&log);
    uses_lie_where_they_say(&log, job->grid.core);
    cJSON_ArrayForEach(use, log.blocks) *copies += cJSON_IsTrue(at(use, "mirrored")) || whole(use, "turn");
    cJSON_Delete(root);
}

static void the_log_can_be_built_from_the_blocks_of_job_json(void **state) {
    (void)state;
    Motif *const motifs[] = {motif_blob, motif_table, motif_squares};
    int copies = 0;
    for (int m = 0; m < 3; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 56, 8, motifs[m], DETAIL_FINE, NULL));
        builds_the_log(&b.job, &copies);
        bench_free(&b);
    }
    assert_true(copies > 0);
}

/* A random half of the square and its mirror image beside it. */
static LayUp mirrored_halves(int n, int leaves, Circle core, uint64_t seed) {
    RandomTree half = {.out = tree_new(2 * leaves), .core = core, .candies = 3, .least = 4, .seed = seed};
    const Outline left = outline_of_box(0, 0, n / 2, n), whole_square = outline_of_box(0, 0, n, n);
    Motion mirror = motion_in_place((Placement){true, 0}, (Point){0, 0}, (Point){n, n});
    int one = random_node(&half, left, leaves), other = tree_moved(&half.out, &half.out, one, mirror, core);
    tree_join(&half.out, &whole_square, (Point){n / 2, 0}, (Point){n / 2, n}, one, other);
    return half.out;
}

static void a_log_of_slanted_blocks_can_be_built_from_job_json(void **state) {
    (void)state;
    int copies = 0;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        BenchJob b;
        bench_start(&b, 48, 3, motif_plain, NULL);
        b.job.layup = mirrored_halves(48, 25, b.job.grid.core, seed);
        assert_true(bench_finish(&b));
        builds_the_log(&b.job, &copies);
        bench_free(&b);
    }
    assert_true(copies >= 20);
}

/* A job of one lay-up with slanted cuts, without blocks. */
static void measures_are_read_back(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON *root = read_back(&s.job);
    number(root, "measures.features", 3);
    number(root, "measures.features_kept", 1);
    number(root, "measures.kept_share", 0.5);
    assert_int_equal(cJSON_GetArraySize(at(root, "measures.lost")), 2);
    assert_string_equal(at(root, "measures.lost.0.kind")->valuestring, "counter");
    assert_true(cJSON_IsTrue(at(root, "measures.lost.0.run_together")));
    assert_string_equal(at(root, "measures.lost.1.kind")->valuestring, "arm");
    assert_string_equal(at(root, "measures.lost.1.candy")->valuestring, s.job.palette.candy[1].name);
    number(root, "measures.lost.1.left", 0.25);
    number(root, "measures.lost.1.middle_mm.0", -3);
    number(root, "measures.difference.across_mm", 0.25);
    number(root, "measures.difference.middle_mm.1", 2);
    assert_string_equal(at(root, "measures.difference.got")->valuestring, s.job.palette.candy[0].name);
    cJSON_Delete(root);
    s.job.measures = (Measures){.features = {.kept_share = 1}}; /* a plain shape, as drawn */
    root = read_back(&s.job);
    keys(at(root, "measures.difference"), "across_mm ");
    assert_int_equal(cJSON_GetArraySize(at(root, "measures.lost")), 0);
    cJSON_Delete(root);
}

static void slanted_outlines_of_job_json_cover_the_core(void **state) {
    (void)state;
    int slanted = 0;
    for (uint64_t seed = 1; seed <= 30; seed++) {
        Sample s;
        sample_fill(&s);
        s.job.layup = random_tree(40, 40, 2, 4, seed);
        s.job.blocks = (Blocks){0};
        for (int i = 0; i < s.job.layup.ropes; i++) s.job.layup.rope[i].serial = i + 1;
        cJSON *root = read_back(&s.job), *rope = NULL;
        double inside = 0, told = 0;
        cJSON_ArrayForEach(rope, at(root, "layup.ropes_list")) {
            Outline own = outline_read(at(rope, "outline"));
            inside += outline_disc_area(&own, (Circle){20, 20, 20});
            told += at(rope, "area_mm2")->valuedouble / (1.5 * 1.5);
            assert_string_equal(at(rope, "shape")->valuestring, shape_name(outline_shape(&own)));
            slanted += outline_shape(&own) != SHAPE_STRIP;
        }
        assert_true(fabs(inside - PI * 400) < 1e-6 && fabs(told - PI * 400) < 1e-6);
        cJSON_Delete(root);
        layup_free(&s.job.layup);
    }
    assert_true(slanted > 300);
}

static int calls_left; /* before one allocation fails */

static void *scarce(size_t size) {
    return calls_left-- == 0 ? NULL : malloc(size);
}

static void one_allocation_that_fails_is_told_wherever_it_is(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON_Hooks hooks = {scarce, free};
    cJSON_InitHooks(&hooks);
    bool good = false;
    int failures = 0;
    for (int room = 0; !good; room++, failures++) {
        char *text = NULL;
        size_t size = 0;
        Err err = {0};
        FILE *file = open_memstream(&text, &size);
        assert_non_null(file);
        calls_left = room;
        good = write_json(&s.job, file, &err);
        fclose(file);
        if (!good && (err.code != ERR_MEMORY || size != 0))
            fail_msg("with %d allocations: code %d", room, err.code);
        free(text);
    }
    cJSON_InitHooks(NULL);
    assert_true(failures > 100);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(blends_are_told_beside_the_materials),
                                       cmocka_unit_test(the_keys_are_those_of_format_2),
                                       cmocka_unit_test(logo_frame_and_cane_are_read_back),
                                       cmocka_unit_test(lay_up_and_judgement_are_read_back),
                                       cmocka_unit_test(measures_are_read_back),
                                       cmocka_unit_test(slanted_outlines_of_job_json_cover_the_core),
                                       cmocka_unit_test(a_log_of_slanted_blocks_can_be_built_from_job_json),
                                       cmocka_unit_test(the_log_can_be_built_from_the_blocks_of_job_json),
                                       cmocka_unit_test(cook_and_heat_are_read_back_and_doses_only_if_given),
                                       cmocka_unit_test(hostile_names_stay_in_their_string),
                                       cmocka_unit_test(one_allocation_that_fails_is_told_wherever_it_is)};
    return cmocka_run_group_tests_name("write_json", tests, NULL, NULL);
}
