/* Tests of src/write/write_json.c: what it prints is read back with cJSON. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "bench_job.h"
#include "sample_job.h"
#include "base/text.h"

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

static void the_keys_are_those_of_format_1(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    cJSON *root = read_back(&s.job);
    keys(root, "format name logo field jacket frame order cane quote layup judgement materials cook heat ");
    keys(at(root, "quote"), "pieces spare_pieces piece_mass_g pieces_mass_g pieces_per_kg batches ");
    keys(at(root, "logo"), "file width height shaded inks ");
    keys(at(root, "logo.inks.0"), "srgb share candy delta_e field ");
    keys(at(root, "jacket"), "candies stripes ");
    keys(at(root, "frame"), "centre_px px_per_step full_bleed roundel ");
    keys(at(root, "cane"), "logs log_diameter_mm log_length_mm core_diameter_mm reduction cane_length_m ");
    keys(at(root, "layup"),
         "step_mm steps least_steps ropes ropes_made rope_types blocks ropes_list blocks_list pulls rings ");
    keys(at(root, "layup.ropes_list.0"), "id type number candy shape x y w h area_mm2 rim trim fine ");
    keys(at(root, "layup.ropes_list.1"), "id type number candy shape corner x y w h area_mm2 rim trim fine ");
    keys(at(root, "layup.blocks_list.0"),
         "id kind x y w h turn mirrored children made uses build builds pieces scale length_mm mirrored_risk "
         "turned_risk looks_the_same fine ");
    keys(at(root, "layup.blocks_list.0.children.0"), "rope x y w h turn mirrored ");
    keys(at(root, "layup.blocks_list.2.children.1"), "block x y w h turn mirrored ");
    keys(at(root, "layup.pulls.0"),
         "type scale width_mm height_mm times count length_each_mm total_length_mm mass_g "
         "lump_side_mm lump_length_mm draw ");
    keys(at(root, "layup.rings.0"), "candy outer inner ");
    keys(at(root, "judgement"), "verdict likeness weakest checks sentence ");
    keys(at(root, "judgement.checks.0"), "name value limit unit verdict advice source ");
    keys(at(root, "cook"),
         "candies all boilings boiling moisture altitude_m water_boils_c cook_c cook_least_c source ");
    keys(at(root, "cook.candies.0"), "candy candy_g sugar_g syrup_g water_g ");
    keys(at(root, "cook.all"), "candy_g sugar_g syrup_g water_g ");
    keys(at(root, "heat"),
         "joining_c working_c room_c rope_types pulls blocks log uneven_c uneven_viscosity_ratio source ");
    keys(at(root, "heat.rope_types.0"), "round_diameter_mm seconds ");
    keys(at(root, "materials.0"), "candy finish share_of_log volume_ml mass_g with_spare_g block_ends_g ");
    cJSON_Delete(root);
}

static void logo_frame_and_cane_are_read_back(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.job.cane.reduction = 22.0 / 3;
    cJSON *root = read_back(&s.job);
    number(root, "format", 1);
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
    string(root, "layup.ropes_list.1.corner", "br");
    string(root, "layup.ropes_list.2.corner", "tl");
    number(root, "layup.ropes_list.1.y", 8);
    number(root, "layup.ropes_list.1.h", 32);
    number(root, "layup.ropes_list.1.area_mm2", 640 * 1.5 * 1.5);
    truth(root, "layup.ropes_list.2.trim", true);
    truth(root, "layup.ropes_list.0.rim", true);
    number(root, "layup.blocks", 2);
    assert_int_equal(cJSON_GetArraySize(at(root, "layup.blocks_list")), 3); /* copies are listed */
    string(root, "layup.ropes_list.1.number", "2.1");
    string(root, "layup.ropes_list.2.number", "t1");
    string(root, "layup.blocks_list.1.uses", "x2, one end for end, then a quarter turn left");
    number(root, "layup.blocks_list.2.children.1.y", 8);
    number(root, "layup.pulls.0.type", 2);
    number(root, "layup.pulls.0.scale", 1.25);
    number(root, "layup.pulls.0.lump_length_mm", 132.5);
    number(root, "layup.blocks_list.1.id", 1);
    string(root, "layup.blocks_list.1.kind", "pair");
    number(root, "layup.blocks_list.1.turn", 3);
    truth(root, "layup.blocks_list.1.mirrored", true);
    number(root, "layup.blocks_list.1.h", 40);
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

/* --- the log built from what job.json says of the blocks, and nothing else --- */

enum { SIDE = STEPS_MAX };

typedef struct Log {
    cJSON *ropes, *blocks;
    int n;
    char cell[SIDE][SIDE]
             [40]; /* candies in the cell: "red", or of two wedges "red tl white br", sorted by corner */
} Log;

static int whole(cJSON *item, const char *key) {
    return (int)at(item, key)->valuedouble;
}

static Box box_of(cJSON *item) {
    return (Box){whole(item, "x"), whole(item, "y"), whole(item, "w"), whole(item, "h")};
}

static Placement way_of(cJSON *item) {
    return (Placement){cJSON_IsTrue(at(item, "mirrored")), whole(item, "turn")};
}

static void lay_rope(Log *log, cJSON *rope, Box to, Placement way) {
    static const char *const name[] = {"tl", "tr", "bl", "br"};
    const char *candy = at(rope, "candy")->valuestring;
    char text[40];
    int corner = 0;
    bool wedge = strcmp(at(rope, "shape")->valuestring, "wedge") == 0;
    while (wedge && strcmp(at(rope, "corner")->valuestring, name[corner]) != 0) corner++;
    if (wedge) corner = (int)corner_placed((Corner)corner, way);
    (void)snprintf(text, sizeof text, wedge ? "%s %s" : "%s", candy, name[corner]);
    assert_true(to.x >= 0 && to.y >= 0 && to.x + to.w <= log->n && to.y + to.h <= log->n);
    for (int y = to.y; y < to.y + to.h; y++)
        for (int x = to.x; x < to.x + to.w; x++) {
            char *cell = log->cell[y][x], both[40];
            bool before = cell[0] && strcmp(text, cell) < 0;
            (void)snprintf(both, sizeof both, cell[0] ? "%.18s %.18s" : "%.18s%.18s", before ? text : cell,
                           before ? cell : text);
            strcpy(cell, both);
        }
}

/* The children's places are counted from the block's own corner, as it is built. */
static void lay_block(Log *log, int id, Box to, Placement way) { /* NOLINT(misc-no-recursion) */
    cJSON *block = NULL, *child = NULL;
    cJSON_ArrayForEach(block, log->blocks) if (whole(block, "id") == id) break;
    assert_non_null(block);
    bool upright = way.turn % 2 == 0;
    Box own = {0, 0, upright ? to.w : to.h, upright ? to.h : to.w};
    cJSON_ArrayForEach(child, at(block, "children")) {
        Box slot = box_placed(box_of(child), own, way);
        slot.x += to.x;
        slot.y += to.y;
        cJSON *rope = cJSON_GetObjectItem(child, "rope"), *inner = cJSON_GetObjectItem(child, "block");
        if (inner)
            lay_block(log, (int)inner->valuedouble, slot, placement_after(way_of(child), way));
        else
            lay_rope(log, cJSON_GetArrayItem(log->ropes, (int)rope->valuedouble - 1), slot, way);
    }
}

static void the_log_can_be_built_from_the_blocks_of_job_json(void **state) {
    (void)state;
    static Log built, wanted;
    Motif *const motifs[] = {motif_blob, motif_table, motif_squares};
    int copies = 0;
    for (int m = 0; m < 3; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 56, 8, motifs[m], DETAIL_FINE, NULL));
        cJSON *root = read_back(&b.job), *rope = NULL, *use = NULL;
        memset(&built, 0, sizeof built);
        memset(&wanted, 0, sizeof wanted);
        built.n = wanted.n = 56;
        built.ropes = at(root, "layup.ropes_list");
        built.blocks = at(root, "layup.blocks_list");
        cJSON *last = cJSON_GetArrayItem(built.blocks, cJSON_GetArraySize(built.blocks) - 1);
        lay_block(&built, whole(last, "id"), box_of(last), way_of(last));
        cJSON_ArrayForEach(rope, built.ropes) lay_rope(&wanted, rope, box_of(rope), (Placement){0});
        for (int y = 0; y < 56; y++)
            for (int x = 0; x < 56; x++) assert_string_equal(built.cell[y][x], wanted.cell[y][x]);
        cJSON_ArrayForEach(use, built.blocks) copies +=
            cJSON_IsTrue(at(use, "mirrored")) || whole(use, "turn");
        cJSON_Delete(root);
        bench_free(&b);
    }
    assert_true(copies > 0);
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
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_keys_are_those_of_format_1),
                                       cmocka_unit_test(logo_frame_and_cane_are_read_back),
                                       cmocka_unit_test(lay_up_and_judgement_are_read_back),
                                       cmocka_unit_test(the_log_can_be_built_from_the_blocks_of_job_json),
                                       cmocka_unit_test(cook_and_heat_are_read_back_and_doses_only_if_given),
                                       cmocka_unit_test(hostile_names_stay_in_their_string),
                                       cmocka_unit_test(one_allocation_that_fails_is_told_wherever_it_is)};
    return cmocka_run_group_tests_name("write_json", tests, NULL, NULL);
}
