/* A small job filled by hand: what the tests of the writers print. SPDX-License-Identifier: MIT
 *
 * The numbers are plausible, not worked out: writers print what they are given. */
#ifndef LOGOCANE_SAMPLE_JOB_H
#define LOGOCANE_SAMPLE_JOB_H

#include "model/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct Sample {
    Picture picture;
    InkMap inks;
    Shop shop;
    Rope rope[3];
    RopeRow row[2];
    Pull pull[1];
    Block block[2];
    Item item[4];
    Warmth warmth[2];
    BlockUse use[3];
    Job job;
} Sample;

static inline void sample_lists(Sample *s) {
    s->rope[0] = (Rope){{0, 0, 40, 8}, 0, SHAPE_STRIP, CORNER_TL, 250.5, true, false, 0, 1, false};
    s->rope[1] = (Rope){{0, 8, 40, 32}, 1, SHAPE_WEDGE, CORNER_BR, 640, false, false, 1, 1, false};
    s->rope[2] = (Rope){{0, 8, 40, 32}, 0, SHAPE_WEDGE, CORNER_TL, 1.25, true, true, 0, 1, false};
    s->row[0] = (RopeRow){0, SHAPE_STRIP, 12, 60, true, 1, 1, 305, 0.3062, 310.27};
    s->row[1] = (RopeRow){1, SHAPE_WEDGE, 60, 48, false, 12, 12, 305, 3.66, 1250.5};
    s->pull[0] = (Pull){1, 1.25, 75, 60, 2, 6, 305, 1830, 620, 60, 132.5, 13.8};
    s->rope[2].type = -1;
    s->job.layup = (LayUp){.ropes = 3, .rope = s->rope, .laid = 2};
    s->job.bill = (Bill){.rope_types = 2,
                         .rope = s->row,
                         .pulls = 1,
                         .pull = s->pull,
                         .wraps = 2,
                         .materials = 2,
                         .log_mass_g = 4630,
                         .piece_mass_g = 4.2,
                         .ropes_made = 13,
                         .minutes = 9.5,
                         .quote = {0, 238.1, 4200, 2, 0, 0}};
    s->job.bill.wrap[0] = (WrapRow){WRAP_RING, s->job.palette.candy[1], 1, 3, 160.5, 305, 190};
    s->job.bill.wrap[1] = (WrapRow){WRAP_STRIPE, s->job.palette.jacket[0], 6, 5.8, 28.78, 305, 66.5};
    s->job.bill.material[0] = (MaterialRow){s->job.palette.candy[0], 0.6, 2000, 2600, 2730, 0};
    s->job.bill.material[1] = (MaterialRow){s->job.palette.candy[1], 0.4, 1300, 1690, 1774.5, 42.5};
}

/* Two wedges are a pair, built once and used twice; a strip on them is the log. */
static inline void sample_blocks(Sample *s) {
    s->item[0] = (Item){false, 1, {0, 8, 40, 32}, {false, 0}};
    s->item[1] = (Item){false, 2, {0, 8, 40, 32}, {false, 0}};
    s->item[2] = (Item){false, 0, {0, 0, 40, 8}, {false, 0}};
    s->item[3] = (Item){true, 0, {0, 8, 40, 32}, {false, 0}};
    s->block[0] = (Block){BLOCK_PAIR, {0, 8, 40, 32}, 0, 2, 2, .mirrored_risk = true};
    s->block[1] = (Block){BLOCK_STACK, {0, 0, 40, 40}, 2, 2, 1, .mirrored_risk = false};
    s->use[0] = (BlockUse){0, {0, 8, 40, 32}, {false, 0}};
    s->use[1] = (BlockUse){0, {8, 0, 32, 40}, {true, 3}};
    s->use[2] = (BlockUse){1, {0, 0, 40, 40}, {false, 0}};
    s->job.blocks =
        (Blocks){.blocks = 2, .block = s->block, .items = 4, .item = s->item, .uses = 3, .use = s->use};
}

static inline void sample_cook(Sample *s) {
    s->job.recipe = (Recipe){.rows = 2,
                             .row = {{2730, 1863, 994, 559, 0, 0, 0}, {1774.5, 1211, 646, 363, 0, 0, 0}},
                             .whole = {4504.5, 3074, 1640, 922, 0, 0, 0},
                             .boilings = 1,
                             .boiling = {4504.5, 3074, 1640, 922, 0, 0, 0},
                             .water_boils_c = 99.97,
                             .cook_c = 149,
                             .cook_least_c = 149};
    s->warmth[0] = (Warmth){20, 60, 12, 290};
    s->warmth[1] = (Warmth){6, 6, 6, 48.2};
    s->job.heat = (Heat){.ropes = 2,
                         .rope = s->warmth,
                         .pulls = 1,
                         .pull = &s->warmth[1],
                         .log = {115.5, 115.5, 115.5, 5040},
                         .first = {-1, 1, 0},
                         .uneven_c = 5,
                         .uneven_ratio = 3.44};
}

static inline void sample_checks(Sample *s) {
    s->job.judgement =
        (Judgement){.verdict = VERDICT_CHANGE, .likeness = 0.7999, .weakest = 0.71, .checks = 3};
    s->job.judgement.check[0] = (Check){CHECK_CANDIES, 3, 4, false, VERDICT_GO, .standing = STANDING_OURS};
    s->job.judgement.check[1] = (Check){CHECK_LIKENESS, 0.7999, 0.8, true, VERDICT_CHANGE, .ways = 1};
    s->job.judgement.check[1].way[0] =
        (Way){.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_CHANGE};
    s->job.judgement.check[2] = (Check){CHECK_MASS, 4.63, 12, false, VERDICT_GO, .standing = STANDING_HABIT};
}

/* s must stay where it is: the job points into it. */
static inline void sample_fill(Sample *s) {
    memset(s, 0, sizeof *s);
    s->shop = shop_default();
    s->picture = (Picture){.width = 600, .height = 400, .shrink = 2, .file_width = 1201, .file_height = 801};
    s->inks = (InkMap){.width = 600, .height = 400, .count = 3, .field = 0, .shaded = 0.01};
    s->inks.ink[0] = (Ink){{0, 0, 0}, true, 0.6};
    s->inks.ink[1] = (Ink){{200, 30, 43}, false, 0.3};
    s->inks.ink[2] = (Ink){{190, 36, 50}, false, 0.1};
    s->job = (Job){.picture = &s->picture, .inks = &s->inks, .shop = &s->shop, .file = "ferry.png"};
    s->job.order = order_default();
    strcpy(s->job.order.name, "ferry");
    Palette *palette = &s->job.palette;
    *palette = (Palette){.count = 2,
                         .inks = 3,
                         .of_ink = {0, 1, 1},
                         .delta_e = {0, 3.25, 6.5},
                         .wanted = 3,
                         .jackets = 1,
                         .stripes = 6};
    palette->candy[0] = s->shop.stock.candy[0]; /* white */
    palette->candy[1] = s->shop.stock.candy[4]; /* red */
    palette->jacket[0] = s->shop.stock.candy[4];
    s->job.cane = (Cane){.logs = 1,
                         .pieces = 1000,
                         .log_diameter_mm = 115.5,
                         .log_length_mm = 305,
                         .core_diameter_mm = 104,
                         .volume_ml = 3200,
                         .reduction = 7.22,
                         .cane_length_m = 15.91,
                         .step_mm = 1.5,
                         .key = {.steps = 40, .least_steps = 4}};
    s->job.grid.frame = (Frame){{300.5, 200.25}, 10.125, false, true};
    s->job.grid.rings = 1;
    s->job.grid.ring[0] = (Ring){1, 20, 18};
    sample_lists(s);
    sample_blocks(s);
    sample_checks(s);
    sample_cook(s);
}

/* What `write` prints for the job, to be freed; NULL if it failed. */
static inline char *sample_print(const Job *job, bool (*write)(const Job *, FILE *, Err *)) {
    char *text = NULL;
    size_t size = 0;
    Err err = {0};
    FILE *file = open_memstream(&text, &size);
    bool good = file && write(job, file, &err);
    if (file) fclose(file);
    if (good) return text;
    free(text);
    return NULL;
}

#endif
