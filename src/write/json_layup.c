/* The lay-up in job.json. SPDX-License-Identifier: MIT */
#include "write/json_out.h"

#include "model/section.h"
#include "model/wrapped.h"
#include "say/bench_words.h"

static void append_rope(Out *out, cJSON *list, int i) {
    const Rope *rope = &out->job->layup.rope[i];
    double step = out->job->cane.step_mm;
    char number[32];
    cJSON *object = append_object(out, list);
    put_number(out, object, "id", i + 1);
    put_number(out, object, "type", rope->type + 1);
    rope_number(rope, number);
    put_text(out, object, "number", number);
    put_text(out, object, "candy", candy_name(out, rope->candy));
    put_text(out, object, "shape", shape_name(rope->round ? SHAPE_ROUND : outline_shape(&rope->outline)));
    put_section(out, object, "outline", &rope->outline, rope->round);
    put_number(out, object, "area_mm2", rope->area * step * step);
    put_bool(out, object, "rim", rope->rim);
    put_bool(out, object, "trim", rope->trim);
    put_bool(out, object, "round", rope->round);
    put_bool(out, object, "rest", rope->rest);
    put_bool(out, object, "fine", rope->fine);
}

/* Where it goes from where it was built. */
static void put_motion(Out *out, cJSON *to, Motion motion) {
    put_number(out, to, "turn", motion.way.turn);
    put_bool(out, to, "mirrored", motion.way.mirrored);
    cJSON *shift = put_array(out, to, "shift");
    append_number(out, shift, motion.shift.x + 0.0);
    append_number(out, shift, motion.shift.y + 0.0);
}

/* What a block is made of, where it is built, and the joins between them. */
static void put_children(Out *out, cJSON *to, const Block *block) {
    const Job *job = out->job;
    const Item *item = &job->blocks.item[block->first_item];
    cJSON *children = put_array(out, to, "children");
    for (int i = 0; i < block->items; i++) {
        cJSON *child = append_object(out, children);
        put_number(out, child, item[i].is_block ? "block" : "rope", item[i].index + 1);
        bool round = item[i].is_block ? block_is_round(&job->layup, &job->blocks.block[item[i].index])
                                      : job->layup.rope[item[i].index].round;
        put_section(out, child, "outline", &item[i].outline, round);
        put_motion(out, child, item[i].is_block ? item[i].motion : (Motion){0});
    }
    cJSON *cuts = put_array(out, to, "cuts");
    for (int i = 1; i < block->items; i++) {
        cJSON *cut = append(out, cuts, cJSON_CreateArray());
        append_point(out, cut, item[i].cut[0]);
        append_point(out, cut, item[i].cut[1]);
    }
    cJSON *wraps = put_array(out, to, "wraps");
    for (int k = 0; k < block->wraps; k++) append_number(out, wraps, block->wrap[k] + 1);
    if (block->kind == BLOCK_ROUND) put_number(out, to, "rest", block->rest + 1);
}

/* One use of a block in the log; copies bear the same id and name the children that the block was built from.
 */
static void append_use(Out *out, cJSON *list, const BlockUse *use) {
    const Block *block = &out->job->blocks.block[use->block];
    char uses[320];
    cJSON *object = append_object(out, list);
    put_number(out, object, "id", use->block + 1);
    put_text(out, object, "kind", block_kind_name(block->kind));
    const Outline outline = outline_moved(&block->outline, use->motion);
    bool round = block_is_round(&out->job->layup, block);
    put_section(out, object, "outline", &outline, round);
    put_bool(out, object, "round", round);
    put_motion(out, object, use->motion);
    put_children(out, object, block);
    put_number(out, object, "made", block->made);
    block_uses_print(&out->job->blocks, use->block, uses, sizeof uses);
    put_text(out, object, "uses", uses);
    put_text(out, object, "build", build_way_name(block->way));
    put_number(out, object, "builds", block->builds);
    put_number(out, object, "pieces", block->pieces);
    put_number(out, object, "scale", block->scale);
    put_number(out, object, "length_mm", block->length_mm);
    put_bool(out, object, "mirrored_risk", block->mirrored_risk);
    put_bool(out, object, "turned_risk", block->turned_risk);
    put_bool(out, object, "looks_the_same", block->looks_the_same);
    put_bool(out, object, "fine", block->fine);
}

static void append_wrap(Out *out, cJSON *list, int i) {
    const Wrap *wrap = &out->job->layup.wrap[i];
    cJSON *object = append_object(out, list);
    put_number(out, object, "id", i + 1);
    put_text(out, object, "candy", candy_name(out, wrap->candy));
    put_number(out, object, "thickness_mm", wrap->thickness * out->job->cane.step_mm);
    put_section(out, object, "outline", &wrap->outline, wrap->round);
    put_section(out, object, "inner", &wrap->inner, wrap->round);
    put_bool(out, object, "round", wrap->round);
    put_bool(out, object, "fine", wrap->fine);
    put_number(out, object, "block", wrap->block + 1);
}

static void append_pull(Out *out, cJSON *list, const Pull *pull) {
    cJSON *object = append_object(out, list);
    put_number(out, object, "type", pull->type + 1);
    put_number(out, object, "scale", pull->scale);
    put_number(out, object, "width_mm", pull->width_mm);
    put_number(out, object, "height_mm", pull->height_mm);
    const RopeRow *row = &out->job->bill.rope[pull->type];
    const Outline section = section_scaled(&row->section, pull->scale);
    put_section(out, object, "section", &section, row->shape == SHAPE_ROUND);
    put_number(out, object, "times", pull->times);
    put_number(out, object, "count", pull->count);
    put_number(out, object, "length_each_mm", pull->length_each_mm);
    put_number(out, object, "total_length_mm", pull->total_length_mm);
    put_number(out, object, "mass_g", pull->mass_g);
    put_number(out, object, "lump_side_mm", pull->lump_side_mm);
    put_number(out, object, "lump_length_mm", pull->lump_length_mm);
    put_number(out, object, "draw", pull->draw);
}

static void append_type(Out *out, cJSON *list, const RopeRow *row) {
    cJSON *object = append_object(out, list);
    put_text(out, object, "candy", candy_name(out, row->candy));
    put_text(out, object, "shape", shape_name(row->shape));
    put_number(out, object, "width_mm", row->width_mm);
    put_number(out, object, "height_mm", row->height_mm);
    put_section(out, object, "section", &row->section, row->shape == SHAPE_ROUND);
    put_bool(out, object, "rim", row->rim);
    put_number(out, object, "count", row->count);
    put_number(out, object, "made", row->made);
    put_number(out, object, "mass_g", row->mass_g);
}

void put_layup(Out *out, cJSON *to) {
    const Job *job = out->job;
    cJSON *object = put_object(out, to, "layup");
    put_number(out, object, "step_mm", job->cane.step_mm);
    put_number(out, object, "steps", job->cane.key.steps);
    put_number(out, object, "least_steps", job->cane.key.least_steps);
    put_number(out, object, "ropes", job->layup.laid);
    put_number(out, object, "ropes_made", job->bill.ropes_made);
    put_number(out, object, "rope_types", job->bill.rope_types);
    put_number(out, object, "blocks", job->blocks.blocks);
    cJSON *ropes = put_array(out, object, "ropes_list");
    for (int i = 0; i < job->layup.ropes; i++) append_rope(out, ropes, i);
    cJSON *types = put_array(out, object, "types_list");
    for (int i = 0; i < job->bill.rope_types; i++) append_type(out, types, &job->bill.rope[i]);
    cJSON *blocks = put_array(out, object, "blocks_list");
    for (int i = 0; i < job->blocks.uses; i++) append_use(out, blocks, &job->blocks.use[i]);
    cJSON *wraps = put_array(out, object, "wraps_list");
    for (int i = 0; i < job->layup.wraps; i++) append_wrap(out, wraps, i);
    cJSON *pulls = put_array(out, object, "pulls");
    for (int i = 0; i < job->bill.pulls; i++) append_pull(out, pulls, &job->bill.pull[i]);
    cJSON *rings = put_array(out, object, "rings");
    for (int i = 0; i < job->grid.rings; i++) {
        cJSON *ring = append_object(out, rings);
        put_text(out, ring, "candy", candy_name(out, job->grid.ring[i].candy));
        put_number(out, ring, "outer", job->grid.ring[i].outer);
        put_number(out, ring, "inner", job->grid.ring[i].inner);
    }
}
