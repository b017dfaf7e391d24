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
    WrapRow wrap[2];
    Block block[2];
    Item item[4];
    Warmth warmth[2];
    BlockUse use[3];
    Part part[1];
    Feature feature[3];
    Job job;
} Sample;

static inline void sample_lists(Sample *s) {
    s->rope[0] = (Rope){.outline = outline_of_box(0, 0, 40, 8), .candy = 0, .area = 250.5};
    s->rope[1] = (Rope){.outline = {3, {{40, 8}, {40, 40}, {0, 40}}}, .candy = 1, .area = 640};
    s->rope[2] = (Rope){.outline = {3, {{0, 8}, {40, 8}, {0, 40}}}, .candy = 0, .area = 1.25};
    s->rope[0].rim = s->rope[2].rim = s->rope[2].trim = true;
    s->rope[1].type = 1;
    for (int i = 0; i < 3; i++) s->rope[i].serial = 1;
    s->row[0] = (RopeRow){.candy = 0,
                          .shape = SHAPE_STRIP,
                          .width_mm = 12,
                          .height_mm = 60,
                          .section = {4, {{0, 60}, {0, 0}, {12, 0}, {12, 60}}},
                          .rim = true,
                          .count = 1,
                          .made = 1,
                          .length_each_mm = 305,
                          .total_length_m = 0.3062,
                          .mass_g = 310.27};
    s->row[1] = (RopeRow){.candy = 1,
                          .shape = SHAPE_WEDGE,
                          .width_mm = 60,
                          .height_mm = 48,
                          .section = {3, {{0, 48}, {0, 0}, {60, 48}}},
                          .count = 12,
                          .made = 12,
                          .length_each_mm = 305,
                          .total_length_m = 3.66,
                          .mass_g = 1250.5};
    s->pull[0] = (Pull){1, 1.25, 75, 60, 2, 6, 305, 1830, 620, 60, 132.5, 13.8};
    s->rope[2].type = -1;
    s->job.layup = (LayUp){.ropes = 3, .rope = s->rope, .laid = 2};
    s->job.bill = (Bill){.rope_types = 2,
                         .rope = s->row,
                         .pulls = 1,
                         .pull = s->pull,
                         .wraps = 2,
                         .wrap = s->wrap,
                         .materials = 2,
                         .log_mass_g = 4630,
                         .piece_mass_g = 4.2,
                         .ropes_made = 13,
                         .quote = {.pieces_per_kg = 238.1, .pieces_mass_g = 4200, .batches = 2}};
    s->wrap[0] = (WrapRow){WRAP_RING, s->job.palette.candy[1], 1, 3, 160.5, 305, 190, 190, 0};
    s->wrap[1] = (WrapRow){WRAP_STRIPE, s->job.palette.jacket[0], 6, 5.8, 28.78, 305, 66.5, 66.5, 0};
    s->job.bill.material[0] = (MaterialRow){s->job.palette.candy[0], 0.6, 2000, 2600, 2730, 0};
    s->job.bill.material[1] = (MaterialRow){s->job.palette.candy[1], 0.4, 1300, 1690, 1774.5, 42.5};
}

/* Two wedges are joined, built once and used twice; a strip on them is the log. */
static inline void sample_blocks(Sample *s) {
    const Outline low = outline_of_box(0, 8, 40, 32), all = outline_of_box(0, 0, 40, 40);
    s->item[0] = (Item){.index = 1, .outline = s->rope[1].outline};
    s->item[1] = (Item){.index = 2, .outline = s->rope[2].outline, .cut = {{0, 40}, {40, 8}}};
    s->item[2] = (Item){.index = 0, .outline = s->rope[0].outline};
    s->item[3] = (Item){.is_block = true, .index = 0, .outline = low, .cut = {{0, 8}, {40, 8}}};
    s->block[0] = (Block){.kind = BLOCK_STACK, .outline = low, .items = 2, .made = 2, .mirrored_risk = true};
    s->block[1] = (Block){.kind = BLOCK_STACK, .outline = all, .first_item = 2, .items = 2, .made = 1};
    s->use[0] = (BlockUse){.block = 0};
    s->use[1] = (BlockUse){.block = 0, .motion = {{true, 3}, {0, 0}}};
    s->use[2] = (BlockUse){.block = 1};
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
    s->job.work = (WorkPlan){.people = 2, .laying = 9.5, .begins = -39, .ends = 51, .hands = 98, .chain = 40};
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

static inline void sample_measures(Sample *s) {
    s->part[0] = (Part){.candy = 1, .samples = 900, .iou = 0.9, .kept = true, .stroke_mm = 2, .main = true};
    s->job.judgement.part = s->part;
    s->job.judgement.parts = 1;
    s->feature[0] = (Feature){FEATURE_COUNTER, 0, false, 0.25, 0.9, false, true, {1, -2}};
    s->feature[1] = (Feature){FEATURE_COUNTER, 0, false, 0.125, 0.75, true, false, {1, 2.5}};
    s->feature[2] = (Feature){FEATURE_ARM, 0, false, 0.125, 0.25, false, false, {-3, 0}};
    s->job.measures.features = (Features){3, s->feature, 1, 0.5};
    s->job.measures.difference = (Difference){0.25, 2.5, 0.5, 0.5, {-1.5, 2}, 1, 0};
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
    s->job.grid.frame = (Frame){{300.5, 200.25}, 10.125, false, true, false};
    s->job.grid.rings = 1;
    s->job.grid.ring[0] = (Ring){1, 20, 18};
    sample_lists(s);
    sample_blocks(s);
    sample_checks(s);
    sample_measures(s);
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
