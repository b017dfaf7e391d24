/* What goes into a block, on its card. SPDX-License-Identifier: MIT
 *
 * A line a rope or block: its number, its candy, its size, on the same line where there is room for both, and
 * how a block lies that is not laid as it was built; then the sheets of a wrapped block, or the rest of a
 * round one. */
#include "draw/bench_pages.h"

#include "say/bench_words.h"

#include <math.h>

enum {
    ROW = 19,   /* pt: a line of the list */
    SWATCH = 18 /* pt: width of a swatch */
};

static const double name_at = 42; /* pt: where a candy's swatch stands, behind a number */

/* A list as it is drawn. */
typedef struct List {
    Sheet *s;           /* not owned */
    const Job *job;     /* not owned */
    const Block *block; /* not owned */
    double room;        /* pt */
} List;

/* Number and candy of a rope, number of a block; returns where the line goes on. */
static double draw_name(const List *l, const Item *item, double x, double y) {
    Sheet *s = l->s;
    char number[32];
    if (item->is_block) {
        (void)snprintf(number, sizeof number, "%d", item->index + 1);
        double width = type_width(s->cr, TYPE_BENCH, true, number) + 8;
        cairo_rectangle(s->cr, x, y - TYPE_BENCH, width, TYPE_BENCH * 1.25);
        cairo_fill(s->cr);
        cairo_set_source_rgb(s->cr, 1, 1, 1);
        type_show(s->cr, x + 4, y, TYPE_BENCH, true, ALIGN_LEFT, number);
        cairo_set_source_rgb(s->cr, 0, 0, 0);
        return x + width + 6 + type_show(s->cr, x + width + 6, y, TYPE_BENCH, false, ALIGN_LEFT, "block");
    }
    const Rope *rope = &l->job->layup.rope[item->index];
    const Candy *candy = &l->job->palette.candy[rope->candy];
    const RopeRow *row = rope->trim ? NULL : &l->job->bill.rope[rope->type];
    rope_number(rope, number);
    double at = x + fmax(type_fit(s->cr, x, y, TYPE_BENCH + 1, true, 52, number) + 5, name_at);
    if (row && (rope_kind(row) == KIND_SLANTED || rope_kind(row) == KIND_ROUND))
        shape_draw(s, l->job, row, at, y - TYPE_BENCH + 1, SWATCH, TYPE_BENCH);
    else
        swatch_draw(s, l->job, candy, at, y + 1, SWATCH, TYPE_BENCH);
    at += SWATCH + 5;
    return at + type_fit(s->cr, at, y, TYPE_BENCH, false, fmin(l->room - (at - x), 130), candy->name);
}

/* How far draw_name goes. */
static double name_width(const List *l, const Item *item) {
    cairo_t *cr = l->s->cr;
    char number[32];
    if (item->is_block) {
        (void)snprintf(number, sizeof number, "%d", item->index + 1);
        return type_width(cr, TYPE_BENCH, true, number) + 14 + type_width(cr, TYPE_BENCH, false, "block");
    }
    const Rope *rope = &l->job->layup.rope[item->index];
    rope_number(rope, number);
    double at = fmax(fmin(type_width(cr, TYPE_BENCH + 1, true, number), 52) + 5, name_at) + SWATCH + 5;
    double name = type_width(cr, TYPE_BENCH, false, l->job->palette.candy[rope->candy].name);
    return at + fmin(name, fmin(l->room - at, 130));
}

/* A size is on the name's line where there is room for both, perhaps a little smaller. */
static bool size_is_beside(const List *l, const Item *item, const char *size) {
    static const double narrow = 185, least = 12.1 / TYPE_BENCH;
    double left = l->room - name_width(l, item) - 8;
    return l->room >= narrow && type_width(l->s->cr, TYPE_BENCH, true, size) * least <= left;
}

static double item_height(const List *l, const Item *item) {
    char size[ROPE_SIZE];
    const char *way;
    item_words(l->job, l->block, item, size, &way);
    double height = ROW, room = l->room - 8;
    if (!size_is_beside(l, item, size)) height += type_height(l->s->cr, TYPE_BENCH, true, room, size) + 2;
    return height + (*way ? type_height(l->s->cr, TYPE_BENCH, false, room, way) : 0);
}

static void draw_item(const List *l, const Item *item, double x, double y) {
    cairo_t *cr = l->s->cr;
    char size[ROPE_SIZE];
    const char *way;
    item_words(l->job, l->block, item, size, &way);
    y += ROW - 4;
    double used = draw_name(l, item, x, y) - x;
    if (size_is_beside(l, item, size))
        type_fit(cr, x + used + 8, y, TYPE_BENCH, true, l->room - used - 8, size);
    else
        y = type_wrap(cr, x + 8, y + ROW - 1, TYPE_BENCH, true, l->room - 8, size) - ROW + 1;
    if (*way) type_wrap(cr, x + 8, y + TYPE_BENCH + 3, TYPE_BENCH, false, l->room - 8, way);
}

/* The lines behind a swatch. */
static double sheet_height(const List *l, int sheet) {
    char words[ROPE_LINE];
    block_wrap_words(l->job, l->block, sheet, words);
    return fmax(ROW, type_height(l->s->cr, TYPE_BENCH, true, l->room - SWATCH - 5, words) + 4);
}

static void draw_sheet(const List *l, int sheet, double x, double y) {
    char words[ROPE_LINE];
    const Wrap *wrap = &l->job->layup.wrap[l->block->wrap[sheet]];
    block_wrap_words(l->job, l->block, sheet, words);
    y += ROW - 4;
    swatch_draw(l->s, l->job, &l->job->palette.candy[wrap->candy], x, y + 1, SWATCH, TYPE_BENCH);
    type_wrap(l->s->cr, x + SWATCH + 5, y, TYPE_BENCH, true, l->room - SWATCH - 5, words);
}

/* The rest as if it were an item. */
static Item rest_of(const Block *block) {
    return (Item){.index = block->rest};
}

double block_list_height(Sheet *s, const Job *job, const Block *block, double room) {
    const List l = {s, job, block, room};
    const Item rest = rest_of(block);
    double height = ROW;
    for (int i = 0; i < block->items; i++)
        height += item_height(&l, &job->blocks.item[block->first_item + i]);
    for (int k = 0; k < block->wraps; k++) height += sheet_height(&l, k);
    if (block->kind == BLOCK_ROUND) height += item_height(&l, &rest);
    return height + 4;
}

void block_list_draw(Sheet *s, const Job *job, const Block *block, double x, double y, double room) {
    const List l = {s, job, block, room};
    const Item rest = rest_of(block);
    type_show(s->cr, x, y + ROW - 6, TYPE_BENCH, false, ALIGN_LEFT, block_list_words(block->kind));
    y += ROW;
    for (int i = 0; i < block->items; i++) {
        const Item *item = &job->blocks.item[block->first_item + i];
        draw_item(&l, item, x, y);
        y += item_height(&l, item);
    }
    for (int k = 0; k < block->wraps; k++) {
        draw_sheet(&l, k, x, y);
        y += sheet_height(&l, k);
    }
    if (block->kind == BLOCK_ROUND) draw_item(&l, &rest, x, y);
}
