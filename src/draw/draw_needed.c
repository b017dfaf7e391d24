/* The ropes in the order in which they are needed: what one carries to the warm box. SPDX-License-Identifier:
 * MIT
 *
 * A row a rope, by the plan of work: when it is formed, by whom, its section as it is made, the block it goes
 * into. A box to tick. */
#include "draw/bench_pages.h"

#include "base/text.h"
#include "say/bench_words.h"

enum {
    ROW = 21,
    TICK = 11,
    TICK_AT = 0,
    MINUTE_AT = 52,
    WHO_AT = 62,
    ROPE_AT = 84,
    CANDY_AT = 154,
    SECTION_AT = 248
};

static const double block_from_right = 92; /* pt */

static void draw_heads(Sheet *s, Units units) {
    const struct {
        double at;
        const char *name;
    } head[] = {{18, "minute"},
                {ROPE_AT, "rope"},
                {CANDY_AT, "candy"},
                {SECTION_AT, units == UNITS_IN ? "section, inches" : "section, mm"}};
    s->y += 16;
    for (size_t i = 0; i < sizeof head / sizeof *head; i++)
        type_show(s->cr, SHEET_MARGIN + head[i].at, s->y, 12, false, ALIGN_LEFT, head[i].name);
    type_show(s->cr, SHEET_MARGIN + sheet_width(s) - block_from_right, s->y, 12, false, ALIGN_LEFT,
              "goes into");
    s->y += 4;
}

/* A row for the rope, of a block, or the core's one rope if `block` is NULL. */
static void draw_rope(Sheet *s, const Job *job, const WorkTask *task, const Block *block, const Rope *rope) {
    const RopeRow *row = &job->bill.rope[rope->type];
    const Candy *candy = &job->palette.candy[row->candy];
    const double scale = block ? block->scale : 1, right = SHEET_MARGIN + sheet_width(s);
    char text[ROPE_SIZE], section[ROPE_SIZE], who[16];
    sheet_room(s, 2 * ROW);
    s->y += ROW;
    double x = SHEET_MARGIN, y = s->y;
    cairo_rectangle(s->cr, x + TICK_AT, y - TICK, TICK, TICK);
    canvas_stroke(s->cr, 0.8);
    minute_print(task->start, text);
    type_show(s->cr, x + MINUTE_AT, y, TYPE_BENCH, false, ALIGN_RIGHT, text);
    person_print(&job->work, task->person, who);
    type_show(s->cr, x + WHO_AT, y, TYPE_BENCH, false, ALIGN_LEFT, who);
    (void)snprintf(text, sizeof text, "%d.%d", rope->type + 1, rope->serial);
    type_show(s->cr, x + ROPE_AT, y, TYPE_BENCH, true, ALIGN_LEFT, text);
    shape_draw(s, job, row, x + CANDY_AT - 26, y - 15, 20, 18);
    type_fit(s->cr, x + CANDY_AT, y, TYPE_BENCH, false, SECTION_AT - CANDY_AT - 6, candy->name);
    rope_section_print(row, scale, false, job->order.units, section);
    if (block && block->builds > 1) text_append(section, sizeof section, ", %d times", block->builds);
    const int alike = rope_alike(&job->bill, rope->type);
    if (alike >= 0) text_append(section, sizeof section, "; not %d", alike + 1);
    const double beside = right - block_from_right - x - SECTION_AT - 6;
    const bool below =
        type_width(s->cr, TYPE_BENCH, false, section) * 12 > beside * TYPE_BENCH; /* 12 pt at least */
    if (!below) type_fit(s->cr, x + SECTION_AT, y, TYPE_BENCH, false, beside, section);
    if (block)
        (void)snprintf(text, sizeof text, "block %d", task->index + 1);
    else
        (void)snprintf(text, sizeof text, "the core");
    type_show(s->cr, right - block_from_right, y, TYPE_BENCH, true, ALIGN_LEFT, text);
    if (!below) return;
    s->y += ROW - 4;
    type_fit(s->cr, x + CANDY_AT, s->y, TYPE_BENCH, false, right - x - CANDY_AT, section);
}

static void draw_block_ropes(Sheet *s, const Job *job, const WorkTask *task) {
    const Block *block = &job->blocks.block[task->index];
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        const Item *item = &job->blocks.item[i];
        const Rope *rope = item->is_block ? NULL : &job->layup.rope[item->index];
        if (rope && rope->type >= 0) draw_rope(s, job, task, block, rope);
    }
}

void draw_needed(Sheet *s, const Job *job) {
    char words[ROPE_LINE] = "";
    sheet_section(s, "Ropes in the order in which they are needed", 240);
    text_append(words, sizeof words,
                "Tick what lies ready; it goes to its block, or waits in the warm box. \"Not 12\": type "
                "12 looks nearly like it. Lumps: page \"Ropes to pull\"%s",
                job->blocks.blocks > 0 ? "; figures: SIZES, above the first card." : ".");
    sheet_paragraph(s, 12, false, 2, 0, words);
    draw_heads(s, job->order.units);
    for (int t = 0; t < job->work.tasks; t++) {
        const WorkTask *task = &job->work.task[t];
        if (task->kind != TASK_ROPES) continue;
        if (task->index >= 0) draw_block_ropes(s, job, task);
        for (int i = 0; i < job->layup.ropes && task->index < 0; i++)
            if (job->layup.rope[i].type >= 0) draw_rope(s, job, task, NULL, &job->layup.rope[i]);
    }
}
