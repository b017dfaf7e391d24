/* Tests of src/write_json.c: what it prints is read back with cJSON. SPDX-License-Identifier: MIT */
#include "write_json.h"

#include "sample_job.h"
#include "text.h"

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
    keys(root, "format name logo field jacket frame order cane layup judgement materials ");
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
    keys(at(root, "layup.pulls.0"), "type scale width_mm height_mm times count length_each_mm total_length_mm mass_g "
                                    "lump_side_mm lump_length_mm draw ");
    keys(at(root, "layup.rings.0"), "candy outer inner ");
    keys(at(root, "judgement"), "verdict likeness weakest checks sentence ");
    keys(at(root, "judgement.checks.0"), "name value limit unit verdict advice source ");
    keys(at(root, "materials.0"), "candy finish share_of_log volume_ml mass_g with_spare_g ");
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
    string(root, "judgement.checks.1.advice", "make the piece 18 mm across");
    string(root, "judgement.checks.2.unit", "kg");
    string(root, "judgement.checks.2.verdict", "go");
    number(root, "materials.1.with_spare_g", 1774.5);
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
                                       cmocka_unit_test(hostile_names_stay_in_their_string),
                                       cmocka_unit_test(one_allocation_that_fails_is_told_wherever_it_is)};
    return cmocka_run_group_tests_name("write_json", tests, NULL, NULL);
}
