/* Ropes, sheets and blocks as paths, and filled. SPDX-License-Identifier: MIT
 *
 * A rest is filled whole and what is round in it over it; a sheet is filled between its two outlines, so that
 * sheets and other ropes may come in any order. */
#include "draw/bench_pages.h"

#include "model/wrapped.h"

double view_x(const View *v, double x) {
    return v->mirrored ? v->x - x * v->scale : v->x + x * v->scale;
}

double view_y(const View *v, double y) {
    return v->y + y * v->scale;
}

void disc_path(const View *v, Circle c) {
    cairo_new_sub_path(v->cr);
    cairo_arc(v->cr, view_x(v, c.x), view_y(v, c.y), c.r * v->scale, 0, 2 * PI);
    cairo_close_path(v->cr);
}

void section_path(const View *v, const Outline *o, bool round) {
    if (round) {
        disc_path(v, square_disc(o));
        return;
    }
    cairo_new_sub_path(v->cr);
    for (int i = 0; i < o->corners; i++)
        cairo_line_to(v->cr, view_x(v, o->corner[i].x), view_y(v, o->corner[i].y));
    cairo_close_path(v->cr);
}

void core_clip(const View *v) {
    cairo_save(v->cr);
    disc_path(v, v->job->grid.core);
    cairo_clip(v->cr);
}

static void fill_path(const View *v, int candy) {
    cairo_set_source_rgb(v->cr, 0, 0, 0);
    candy_fill(v->cr, v->job, &v->job->palette.candy[candy], 0.9);
}

/* Does the block hold it? A rest, and a sheet, whose middle may be that of what it goes round, lie in it with
 * all corners. */
static bool is_in(const Outline *block, const Outline *o, bool round_others) {
    return round_others ? outline_holds(block, o) : outline_side(block, outline_middle(o)) >= 0;
}

static void fill_ropes(const View *v, const Outline *block, bool rests) {
    const LayUp *layup = &v->job->layup;
    for (int i = 0; i < layup->ropes; i++) {
        const Rope *rope = &layup->rope[i];
        if (rope->rest != rests || !is_in(block, &rope->outline, rests)) continue;
        section_path(v, &rope->outline, rope->round);
        fill_path(v, rope->candy);
    }
}

static void fill_sheets(const View *v, const Outline *block) {
    const LayUp *layup = &v->job->layup;
    cairo_set_fill_rule(v->cr, CAIRO_FILL_RULE_EVEN_ODD);
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *sheet = &layup->wrap[i];
        if (!is_in(block, &sheet->outline, true)) continue;
        section_path(v, &sheet->outline, sheet->round);
        section_path(v, &sheet->inner, sheet->round);
        fill_path(v, sheet->candy);
    }
    cairo_set_fill_rule(v->cr, CAIRO_FILL_RULE_WINDING);
}

void ropes_draw(const View *v, const Outline *block) {
    core_clip(v);
    fill_ropes(v, block, true);
    fill_ropes(v, block, false);
    fill_sheets(v, block);
    cairo_restore(v->cr);
    cairo_save(v->cr); /* the rim */
    section_path(v, block, false);
    cairo_clip(v->cr);
    disc_path(v, v->job->grid.core);
    canvas_stroke(v->cr, 1.6);
    cairo_restore(v->cr);
}
