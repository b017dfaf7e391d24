/* What is told of candies, ropes, trims and the jacket. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double alike_mm = 1; /* hands hardly tell less apart */

enum { NAME_COLUMNS = 20 }; /* of a candy's name in a list of several */

static const double DYE_MISSES = 2; /* CIEDE2000; hardly seen (rule of thumb) */

void candy_words(const Candy *candy, char out[ROPE_LINE]) {
    const char *how = candy->dyed ? ", dyed" : candy_is_blend(candy) ? ", folded" : "";
    (void)snprintf(out, ROPE_LINE, "%s, %s%s", candy->name, finish_name(candy->finish), how);
}

bool blend_told(const BlendRow *row) {
    return row->whole.mass_g >= MATERIAL_LEAST_G;
}

void blend_words(const Job *job, const BlendRow *row, Form form, char out[ROPE_LINE]) {
    const Candy *blend = &row->whole.candy;
    char mass[BLEND][32];
    for (int i = 0; i < BLEND; i++) mass_print(mass[i], sizeof mass[i], row->part_g[i], job->order.units);
    if (form == FORM_TEXT)
        (void)snprintf(out, ROPE_LINE, "%s: fold %s %s and %s %s together%s, %d times (habit)", blend->name,
                       mass[0], blend->blend[0].name, mass[1], blend->blend[1].name,
                       job->cane.logs > 1 ? " for each log" : "", job->shop->blend_folds);
    else
        (void)snprintf(out, ROPE_LINE,
                       "Fold %s %s and %s %s to %s%s: side by side, drawn out and folded %d times (habit).",
                       mass[0], blend->blend[0].name, mass[1], blend->blend[1].name, blend->name,
                       job->cane.logs > 1 ? ", for each log" : "", job->shop->blend_folds);
}

/* CIEDE2000 from the candy to the nearest of the inks that became it. */
static double dye_misses(const Job *job, const Candy *candy) {
    double least = HUGE_VAL;
    for (int i = 0; i < job->inks->count; i++)
        if (!job->inks->ink[i].transparent &&
            strcmp(job->palette.candy[job->palette.of_ink[i]].name, candy->name) == 0)
            least = fmin(least, job->palette.delta_e[i]);
    return least < HUGE_VAL ? least : 0;
}

bool dyed_candy_words(const Job *job, const MaterialRow *row, Form form, char out[ROPE_LINE]) {
    char code[RGB8_CODE];
    rgb8_code(row->candy.srgb, code);
    out[0] = 0;
    if (!row->candy.dyed || row->mass_g < MATERIAL_LEAST_G) return false;
    (void)snprintf(out, ROPE_LINE, "%s%s%s%s", row->candy.name, form == FORM_SHEET ? " " : "",
                   form == FORM_SHEET ? code : "",
                   dye_misses(job, &row->candy) > DYE_MISSES ? " (as near as candy comes)" : "");
    return true;
}

void dyed_words(const Job *job, Form form, char out[ROPE_LINE]) {
    char one[ROPE_LINE], names[ROPE_LINE] = "";
    int dyed = 0;
    for (int i = 0; i < job->bill.materials; i++)
        if (dyed_candy_words(job, &job->bill.material[i], form, one))
            text_append(names, ROPE_LINE - 80, "%s%s", dyed++ > 0 ? ", " : "", one);
    out[0] = 0;
    if (dyed == 0) return;
    if (form == FORM_TEXT)
        text_append(out, ROPE_LINE,
                    "dyed to order: %s; aim at the patch on the bench sheets; pull a sample first", names);
    else
        text_append(out, ROPE_LINE, "Dyed to order: aim at %s patch%s; pull a sample first",
                    dyed > 1 ? "these" : "this", dyed > 1 ? "es" : "");
}

static bool has_candy(const Palette *palette, const Candy *candy) {
    for (int i = 0; i < palette->count; i++)
        if (strcmp(palette->candy[i].name, candy->name) == 0) return true;
    return false;
}

/* What one palette has and the other has not. */
static void list_difference(const Palette *of, const Palette *from, char out[ROPE_LINE]) {
    char name[CANDY_NAME * 2];
    int listed = 0;
    for (int i = 0; i < of->count; i++) {
        if (has_candy(from, &of->candy[i])) continue;
        text_fit(name, sizeof name, of->candy[i].name, NAME_COLUMNS);
        text_append(out, ROPE_LINE, "%s%s", listed++ > 0 ? ", " : "", name);
    }
}

void runner_up_words(const Job *job, char out[ROPE_LINE]) {
    const Choice *choice = &job->choice;
    char other[ROPE_LINE] = "", own[ROPE_LINE] = "";
    out[0] = 0;
    if (choice->count == 0 || choice->runner_up < 0) return;
    const Palette *runner_up = &choice->tried[choice->runner_up].palette;
    list_difference(runner_up, &job->palette, other);
    list_difference(&job->palette, runner_up, own);
    text_append(out, ROPE_LINE, "nearly as good: ");
    if (!*own) text_append(out, ROPE_LINE, "with %s besides", other);
    if (*own && !*other) text_append(out, ROPE_LINE, "without %s", own);
    if (*own && *other) text_append(out, ROPE_LINE, "%s in place of %s", other, own);
}

void jacket_words(const Job *job, char out[ROPE_LINE]) {
    const Palette *palette = &job->palette;
    char name[CANDY_NAME * 2];
    out[0] = 0;
    for (int i = 0; i < palette->jackets; i++) {
        text_fit(name, sizeof name, palette->jacket[i].name, NAME_COLUMNS);
        text_append(out, ROPE_LINE, "%s%s", i > 0 ? ", " : "", name);
    }
    if (palette->stripes > 1) text_append(out, ROPE_LINE, "; %d stripes", palette->stripes);
}

static int count_trims(const LayUp *layup) {
    int trims = 0;
    for (int i = 0; i < layup->ropes; i++) trims += layup->rope[i].trim && !layup->rope[i].rest;
    return trims;
}

/* Sheets round blocks, as often as they are rolled. */
static int count_wraps(const Bill *bill) {
    int count = 0;
    for (int i = 0; i < bill->wraps; i++) count += bill->wrap[i].kind == WRAP_BLOCK ? bill->wrap[i].count : 0;
    return count;
}

/* ", 3 rings"; nothing of none. */
static void append_count(char out[ROPE_LINE], int count, const char *what) {
    if (count > 0) text_append(out, ROPE_LINE, ", %d %s%s", count, what, count == 1 ? "" : "s");
}

void ropes_words(const Job *job, char out[ROPE_LINE]) {
    int types = job->bill.rope_types;
    (void)snprintf(out, ROPE_LINE, "%d laid%s, of %d type%s, %d made", job->layup.laid,
                   job->cane.logs > 1 ? " a log" : "", types, types == 1 ? "" : "s", job->bill.ropes_made);
    append_count(out, count_trims(&job->layup), "trim");
    append_count(out, count_wraps(&job->bill), "wrap");
    append_count(out, job->grid.rings, "ring");
    append_count(out, job->blocks.blocks, "block");
}

void trims_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]) {
    char number[32], mass[32];
    const char *before = "";
    mass_print(mass, sizeof mass, row->mass_g, job->order.units);
    (void)snprintf(out, ROPE_LINE, "trims ");
    for (int i = 0; i < job->layup.ropes; i++) {
        const Rope *rope = &job->layup.rope[i];
        if (!rope->trim || rope->rest || strcmp(job->palette.candy[rope->candy].name, row->candy.name) != 0)
            continue;
        rope_number(rope, number);
        if (strlen(out) < ROPE_LINE - 100) text_append(out, ROPE_LINE, "%s%s", before, number);
        before = ", ";
    }
    text_append(out, ROPE_LINE, ": %s together, pressed into the rim by hand", mass);
}

bool row_is_of(const Job *job, const WrapRow *row, int block) {
    const Block *b = &job->blocks.block[block];
    if (row->kind == WRAP_REST) return b->kind == BLOCK_ROUND && b->rest == row->rest;
    if (row->kind != WRAP_BLOCK) return false;
    for (int k = 0; k < b->wraps; k++)
        if (job->layup.wrap[b->wrap[k]].row == row - job->bill.wrap) return true;
    return false;
}

void row_blocks_print(const Job *job, const WrapRow *row, char out[ROPE_LINE]) {
    char numbers[ROPE_LINE] = "";
    int count = 0;
    for (int b = 0; b < job->blocks.blocks; b++)
        if (row_is_of(job, row, b)) text_append(numbers, ROPE_LINE, "%s%d", count++ > 0 ? ", " : "", b + 1);
    out[0] = 0;
    text_append(out, ROPE_LINE, count == 1 ? "block %s" : "blocks %s", numbers);
}

/* Is the rest that of a use of the row's block? */
static bool rest_is_of(const Job *job, const WrapRow *row, const Rope *rest) {
    static const double touching = 1e-3; /* steps */
    const Outline *built = &job->layup.rope[row->rest].outline;
    for (int u = 0; u < job->blocks.uses; u++) {
        const BlockUse *use = &job->blocks.use[u];
        const Outline outline = outline_moved(built, use->motion);
        if (row_is_of(job, row, use->block) && outline_same(&outline, &rest->outline, touching)) return true;
    }
    return false;
}

void rest_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]) {
    char number[32], mass[32], blocks[ROPE_LINE];
    const char *before = "rest ";
    mass_print(mass, sizeof mass, row->made_g / row->count, job->order.units);
    row_blocks_print(job, row, blocks);
    out[0] = 0;
    for (int i = 0; i < job->layup.ropes; i++) {
        const Rope *rope = &job->layup.rope[i];
        if (!rope->rest || !rest_is_of(job, row, rope)) continue;
        rope_number(rope, number);
        if (strlen(out) < ROPE_LINE / 2) text_append(out, ROPE_LINE, "%s%s", before, number);
        before = ", ";
    }
    text_append(out, ROPE_LINE, ": ");
    if (row->count > 1) text_append(out, ROPE_LINE, "%d x ", row->count);
    text_append(out, ROPE_LINE, "%s, pressed in soft for %s", mass, blocks);
}

/* "wrap 3 mm black, 214 mm round". */
static void append_wrap(const WrapRow *row, Units units, char out[ROPE_LINE]) {
    char thick[32], round[32];
    across_print(thick, sizeof thick, row->thickness_mm, units);
    hand_print(round, sizeof round, row->width_mm, units);
    text_append(out, ROPE_LINE, "wrap %s %s, %s round", thick, row->candy.name, round);
}

void wrap_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]) {
    char along[32], blocks[ROPE_LINE];
    hand_print(along, sizeof along, row->length_mm, job->order.units);
    row_blocks_print(job, row, blocks);
    out[0] = 0;
    if (row->count > 1) text_append(out, ROPE_LINE, "%d x ", row->count);
    append_wrap(row, job->order.units, out);
    text_append(out, ROPE_LINE, ", %s long: %s", along, blocks);
}

void block_wrap_words(const Job *job, const Block *block, int sheet, char out[ROPE_LINE]) {
    out[0] = 0;
    append_wrap(&job->bill.wrap[job->layup.wrap[block->wrap[sheet]].row], job->order.units, out);
}

void block_rest_words(const Job *job, const Block *block, char out[ROPE_SIZE]) {
    char mass[32] = "";
    for (int i = 0; i < job->bill.wraps; i++) {
        const WrapRow *row = &job->bill.wrap[i];
        if (row->kind == WRAP_REST && row->rest == block->rest)
            mass_print(mass, sizeof mass, row->made_g / row->count, job->order.units);
    }
    (void)snprintf(out, ROPE_SIZE, "%s, pressed in round it", mass);
}

static bool any_rope_round(const Bill *bill) {
    for (int i = 0; i < bill->rope_types; i++)
        if (rope_kind(&bill->rope[i]) == KIND_ROUND) return true;
    return false;
}

bool any_rope_slanted(const Bill *bill) {
    for (int i = 0; i < bill->rope_types; i++)
        if (rope_kind(&bill->rope[i]) == KIND_SLANTED) return true;
    return false;
}

int rope_alike(const Bill *bill, int type) {
    const RopeRow *row = &bill->rope[type];
    for (int i = 0; i < bill->rope_types; i++) {
        const RopeRow *other = &bill->rope[i];
        bool may =
            i != type && other->candy == row->candy && other->rim == row->rim && other->shape == row->shape;
        if (may && section_fits(&other->section, &row->section, alike_mm)) return i;
    }
    return -1;
}

void pulling_words(const Job *job, char out[ROPE_LINE]) {
    char length[32];
    hand_print(length, sizeof length, job->shop->lump_length_min_mm, job->order.units);
    (void)snprintf(out, ROPE_LINE,
                   "Form the lump, draw it to its length, flatten it to the section, cut. Rope 7.2 is the "
                   "second of type 7. Masses leave out what a pull's own ends lose: that comes from the "
                   "spare. No lump is shorter than %s (habit). Flatten a rim rope as its drawing shows: "
                   "its round side lies on the core's edge. Warm for: so long its middle can be joined once "
                   "out of the warm box (computed).",
                   length);
    if (any_rope_slanted(&job->bill))
        text_append(out, ROPE_LINE,
                    " A slanted rope is told as it lies here: 12 over 24 x 9 is 12 on top, 24 below, 9 high; "
                    "9@3 is 9 high at 3 from left.");
    if (any_rope_round(&job->bill))
        text_append(out, ROPE_LINE, " A round rope is not flattened: roll it round, so wide across.");
}

void rolling_words(const Job *job, char out[ROPE_LINE]) {
    bool wraps = count_wraps(&job->bill) > 0;
    (void)snprintf(out, ROPE_LINE,
                   "Width: %s. Roll the sheet out, wrap it round, close the "
                   "seam by pinching. Stripes of the jacket lie along the log, side by side%s.%s",
                   wraps ? "once round, at the middle of its thickness"
                         : "pi x the diameter at mid thickness",
                   job->palette.stripes > 1 ? ", their candies by turns" : "",
                   wraps ? " A wrap goes round its block before that is drawn out or laid in: sized for the "
                           "block as its card builds it."
                         : "");
}

void sheet_words(const WrapRow *row, char out[ROPE_LINE]) {
    bool stripes = row->kind == WRAP_STRIPE && row->count > 1;
    (void)snprintf(out, ROPE_LINE, "%s, %s", stripes ? "stripes" : wrap_name(row->kind), row->candy.name);
}

bool row_is_rolled(const WrapRow *row) {
    return row->kind != WRAP_TRIM && row->kind != WRAP_REST;
}

const char *wrap_name(WrapKind kind) {
    static const char *const name[] = {[WRAP_RING] = "ring",
                                       [WRAP_STRIPE] = "jacket",
                                       [WRAP_TRIM] = "trim",
                                       [WRAP_BLOCK] = "wrap",
                                       [WRAP_REST] = "rest"};
    return name[kind];
}

const char *shape_name(Shape shape) {
    static const char *const name[] = {[SHAPE_STRIP] = "strip",
                                       [SHAPE_WEDGE] = "wedge",
                                       [SHAPE_TAPERED] = "tapered strip",
                                       [SHAPE_CORNER_CUT] = "corner-cut strip",
                                       [SHAPE_ROUND] = "round"};
    return name[shape];
}

void across_print(char *out, size_t size, double mm, Units units) {
    double part = MM_PER_IN / 32;
    length_print(out, size, units == UNITS_IN ? fmax(length_by_hand(mm, units), part) : mm, units);
}

void unit_drop(char *size) {
    char *unit = strrchr(size, ' ');
    if (unit) *unit = 0;
}

void lump_print(const Pull *pull, Units units, char out[ROPE_SIZE]) {
    char side[32], along[32];
    double coarse = units == UNITS_IN ? 2 : 1;
    length_print(side, sizeof side, length_by_hand(pull->lump_side_mm / coarse, units) * coarse, units);
    length_print(along, sizeof along, length_by_hand(pull->lump_length_mm / coarse, units) * coarse, units);
    unit_drop(side);
    unit_drop(along);
    if (units == UNITS_MM)
        (void)snprintf(out, ROPE_SIZE, "%s x %s x %s", side, side, along);
    else
        (void)snprintf(out, ROPE_SIZE, "%s x %s", side, along);
}
