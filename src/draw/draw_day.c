/* The day: the plan of work along a clock that starts when the candy is poured. SPDX-License-Identifier: MIT
 *
 * Above a chart: a lane for each person and the kettle, a bar for each task. Below it the tasks as a list, by
 * their start; what waits long in the warm box is told. */
#include "draw/bench_pages.h"

#include "base/text.h"
#include "say/bench_words.h"

#include <math.h>

enum {
    LANES_HIGH = 176, /* pt: of all lanes, if they are many */

    LANE_NAME = 48,
    ROW = 20,
    MINUTE_ROOM = 44,
    WHO_ROOM = 52,
    WAIT_ROOM = 128
};

static const double wait_told = 2; /* minutes in the warm box worth a word */

/* Darker what is nearer to the candy: the kettle light, ropes dark, blocks and log black. */
static double grey_of(TaskKind kind) {
    static const double grey[TASK_KINDS] = {
        [TASK_WEIGH] = 0.9, [TASK_BOIL] = 0.9,  [TASK_COOL] = 0.8,  [TASK_PULL] = 0.7,
        [TASK_FOLD] = 0.7,  [TASK_ROPES] = 0.5, [TASK_BLOCK] = 0.2, [TASK_SHEETS] = 0.5,
        [TASK_WRAP] = 0.2,  [TASK_DRAW] = 0.7,  [TASK_PACK] = 0.9};
    return grey[kind];
}

/* Minutes along the page. */
typedef struct Clock {
    double left, per_minute, from, to; /* pt, pt, minutes */
} Clock;

static double clock_x(const Clock *clock, double minute) {
    return clock->left + (minute - clock->from) * clock->per_minute;
}

static void draw_bar(Sheet *s, const Clock *clock, const WorkTask *task, double y, double high) {
    double x = clock_x(clock, task->start), w = fmax(task->minutes * clock->per_minute, 0.6);
    double grey = grey_of(task->kind);
    cairo_rectangle(s->cr, x, y + high * 0.15, w, high * 0.7);
    cairo_set_source_rgb(s->cr, grey, grey, grey);
    cairo_fill_preserve(s->cr);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    canvas_stroke(s->cr, 0.4);
}

/* Lines at whole tens of minutes, or as many tens as leave room for their numbers; bold where the candy is
 * poured. */
static void draw_scale(Sheet *s, const Clock *clock, double top, double bottom) {
    double every = 10;
    while (every * clock->per_minute < 26) every += every < 30 ? 10 : 30;
    for (double minute = ceil(clock->from / every) * every; minute <= clock->to; minute += every) {
        char text[16];
        double x = clock_x(clock, minute);
        cairo_move_to(s->cr, x, top);
        cairo_line_to(s->cr, x, bottom);
        cairo_set_source_rgb(s->cr, 0, 0, 0);
        canvas_stroke(s->cr, minute == 0 ? 1.6 : 0.3);
        (void)snprintf(text, sizeof text, "%.0f", minute + 0.0);
        type_show(s->cr, x, bottom + 13, 11, minute == 0, ALIGN_CENTRE, text);
    }
}

static void draw_lanes(Sheet *s, const WorkPlan *work) {
    const int people = work->people;
    const double high = fmin(22, (double)LANES_HIGH / (people + 1));
    double room = sheet_width(s) - LANE_NAME - 10, top = s->y + 4;
    const Clock clock = {SHEET_MARGIN + LANE_NAME, room / fmax(work->ends - work->begins, 1), work->begins,
                         work->ends};
    draw_scale(s, &clock, top, top + high * (people + 1));
    for (int lane = 0; lane <= people; lane++) {
        const int person = lane == 0 ? PEOPLE_NOBODY : lane - 1;
        double y = top + high * lane;
        char who[16];
        person_print(work, person, who);
        type_show(s->cr, SHEET_MARGIN, y + high * 0.7, fmin(12, high * 0.8), true, ALIGN_LEFT, who);
        for (int i = 0; i < work->tasks; i++) {
            const WorkTask *task = &work->task[i];
            bool all = task->person == PEOPLE_EVERYBODY && person >= 0;
            if (task->person == person || all) draw_bar(s, &clock, task, y, high);
        }
    }
    s->y = top + high * (people + 1) + 26;
}

static void draw_row(Sheet *s, const Job *job, const WorkLine *line) {
    char minute[16], who[16], waits[64] = "";
    double x = SHEET_MARGIN + MINUTE_ROOM + WHO_ROOM;
    const bool bold = line->kind == TASK_WRAP;
    sheet_room(s, ROW + 1);
    s->y += ROW;
    minute_print(line->start, minute);
    person_print(&job->work, line->person, who);
    type_show(s->cr, SHEET_MARGIN + MINUTE_ROOM - 12, s->y, TYPE_BENCH, true, ALIGN_RIGHT, minute);
    type_show(s->cr, SHEET_MARGIN + MINUTE_ROOM, s->y, TYPE_BENCH, false, ALIGN_LEFT, who);
    if (line->waits >= wait_told && line->kind >= TASK_COOL)
        (void)snprintf(waits, sizeof waits, "warm box: %.0f min", line->waits);
    type_fit(s->cr, x, s->y, TYPE_BENCH, bold, SHEET_MARGIN + sheet_width(s) - x - (waits[0] ? WAIT_ROOM : 0),
             line->text);
    type_show(s->cr, SHEET_MARGIN + sheet_width(s), s->y, 12, false, ALIGN_RIGHT, waits);
}

void draw_day(Sheet *s, const Job *job) {
    char line[LOG_LINE];
    WorkLine row;
    sheet_page(s, "The day: minutes from when the candy is poured");
    day_words(job, FORM_SHEET, line);
    sheet_paragraph(s, TYPE_BENCH, true, 2, 0, line);
    day_least_words(job, FORM_SHEET, line);
    sheet_paragraph(s, 12, false, 2, 4, line);
    sheet_paragraph(s, 12, true, 0, 4,
                    "Hot sugar sticks and burns: gloves, sleeves, closed shoes, cold water at hand, no "
                    "children at the bench.");
    draw_lanes(s, &job->work);
    for (int at = 0; work_line_next(job, &at, &row);) draw_row(s, job, &row);
    waits_words(job, FORM_SHEET, line);
    sheet_paragraph(s, 12, false, 10, 0, line);
    sheet_paragraph(
        s, 12, false, 4, 0,
        "Ropes are formed as late as their block allows. What waits lies in the warm box. All minutes are "
        "habits of the shop, not measurements: write yours beside them.");
}
