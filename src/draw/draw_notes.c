/* Blanks to write in, for the next time. SPDX-License-Identifier: MIT
 *
 * What the sheets reckon with stands beside an empty place for what came out: from three jobs like that a
 * shop has numbers of its own. */
#include "draw/bench_pages.h"

#include "base/text.h"
#include "say/bench_words.h"

enum { LINE_HEIGHT = 20, LINES_FREE = 3 };

static const double reckoned_at = 250, blank_at = 372; /* pt from the margin */

static void draw_blank(Sheet *s, const char *what, const char *reckoned, const char *unit) {
    const double x = SHEET_MARGIN, right = x + sheet_width(s);
    sheet_room(s, LINE_HEIGHT + 1);
    s->y += LINE_HEIGHT;
    type_fit(s->cr, x, s->y, TYPE_BENCH, false, reckoned_at - 8, what);
    type_fit(s->cr, x + reckoned_at, s->y, TYPE_BENCH, false, blank_at - reckoned_at - 8, reckoned);
    type_show(s->cr, right, s->y, TYPE_BENCH, false, ALIGN_RIGHT, unit);
    cairo_move_to(s->cr, x + blank_at, s->y + 3);
    cairo_line_to(s->cr, right - (unit[0] ? type_width(s->cr, TYPE_BENCH, false, unit) + 6 : 0), s->y + 3);
    canvas_stroke(s->cr, 0.6);
}

/* When the first task of that kind starts, or the last one ends. */
static double minute_of(const WorkPlan *work, TaskKind kind, bool end) {
    double minute = 0;
    bool any = false;
    for (int i = 0; i < work->tasks; i++) {
        const WorkTask *task = &work->task[i];
        if (task->kind != kind || (any && !end)) continue;
        minute = end ? task->start + task->minutes : task->start;
        any = true;
    }
    return minute;
}

static void draw_minutes(Sheet *s, const WorkPlan *work) {
    const struct {
        const char *what;
        TaskKind kind;
        bool end;
    } row[] = {{"first rope formed, minute", TASK_ROPES, false},
               {"log wrapped and rolled, minute", TASK_WRAP, true},
               {"cane drawn out, minute", TASK_DRAW, true},
               {"last bag, minute", TASK_PACK, true}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char minute[16];
        minute_print(minute_of(work, row[i].kind, row[i].end), minute);
        draw_blank(s, row[i].what, minute, "");
    }
}

void draw_notes(Sheet *s, const Job *job) {
    const Units units = job->order.units;
    const char *small = units == UNITS_IN ? "lb" : "kg";
    char text[64], what[64];
    sheet_section(s, "Write down, for the next time", 370);
    sheet_paragraph(
        s, 12, false, 2, 0,
        "Beside what these sheets reckon with. Three jobs give a shop numbers of its own: they go into its "
        "shop file.");
    draw_blank(s, "date, and who worked", "", "");
    draw_minutes(s, &job->work);
    mass_print(text, sizeof text, job->bill.log_mass_g, units);
    draw_blank(s, "mass of the log, wrapped", text, small);
    length_print(text, sizeof text, job->cane.log_diameter_mm, units);
    draw_blank(s, "across the log", text, units == UNITS_IN ? "in" : "mm");
    text_number(text, sizeof text, (double)job->cane.pieces, 0);
    (void)snprintf(what, sizeof what, "good pieces%s", job->cane.logs > 1 ? ", of all logs" : "");
    draw_blank(s, what, text, "");
    mass_print(text, sizeof text, job->recipe.whole.candy_g, units);
    draw_blank(s, job->cane.logs > 1 ? "candy cooked, all logs" : "candy cooked", text, small);
    draw_blank(s, "candy left over", "", small);
    (void)snprintf(text, sizeof text, "%.0f %%", job->shop->lost_share * 100);
    draw_blank(s, "lost in ends and starting", text, "%");
    draw_blank(s, "the room's temperature", "", units == UNITS_IN ? "\302\260F" : "\302\260C");
    draw_blank(s, "what went wrong, and where", "", "");
    for (int i = 0; i < LINES_FREE; i++) {
        sheet_room(s, LINE_HEIGHT + 1);
        s->y += LINE_HEIGHT;
        cairo_move_to(s->cr, SHEET_MARGIN, s->y + 3);
        cairo_line_to(s->cr, SHEET_MARGIN + sheet_width(s), s->y + 3);
        canvas_stroke(s->cr, 0.6);
    }
}
