/* The plan of work in words. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>

enum { ROPES_NAMED = 4, WAITS_TOLD = 3 };

static const double waits_least = 2; /* minutes in the warm box worth a word */

void minute_print(double minute, char out[16]) {
    (void)snprintf(out, 16, "%.0f", floor(minute + 0.5) + 0.0); /* no -0 */
}

const char *task_name(TaskKind kind) {
    static const char *const name[TASK_KINDS] = {
        [TASK_WEIGH] = "weigh out", [TASK_BOIL] = "boil",         [TASK_COOL] = "cool and colour",
        [TASK_PULL] = "pull",       [TASK_FOLD] = "fold",         [TASK_ROPES] = "form ropes",
        [TASK_BLOCK] = "lay up",    [TASK_SHEETS] = "roll",       [TASK_WRAP] = "wrap and roll",
        [TASK_DRAW] = "draw out",   [TASK_PACK] = "chop and pack"};
    return name[kind];
}

void task_of_print(const Job *job, const WorkTask *task, char out[CANDY_NAME]) {
    out[0] = 0;
    switch (task->kind) {
    case TASK_WEIGH:
    case TASK_BOIL:
        (void)snprintf(out, CANDY_NAME, "boiling %d", task->index + 1);
        return;
    case TASK_COOL:
    case TASK_PULL:
        (void)snprintf(out, CANDY_NAME, "%s", job->bill.material[task->index].candy.name);
        return;
    case TASK_FOLD:
        (void)snprintf(out, CANDY_NAME, "%s", job->bill.blend[task->index].whole.candy.name);
        return;
    case TASK_ROPES:
    case TASK_BLOCK:
        if (task->index < 0)
            (void)snprintf(out, CANDY_NAME, "core");
        else
            (void)snprintf(out, CANDY_NAME, "block %d", task->index + 1);
        return;
    case TASK_SHEETS:
        (void)snprintf(out, CANDY_NAME, "%s", job->grid.rings > 0 ? "rings and jacket" : "jacket");
        return;
    case TASK_WRAP:
    case TASK_DRAW:
        (void)snprintf(out, CANDY_NAME, "log");
        return;
    case TASK_PACK:
        (void)snprintf(out, CANDY_NAME, "pieces");
        return;
    case TASK_KINDS:
        return;
    }
}

void person_print(const WorkPlan *work, int person, char out[16]) {
    if (person == PEOPLE_NOBODY)
        (void)snprintf(out, 16, "kettle");
    else if (person == PEOPLE_EVERYBODY)
        (void)snprintf(out, 16, work->people > 1 ? "all" : "A");
    else
        (void)snprintf(out, 16, "%c", 'A' + person);
}

/* --- a line of the plan --- */

/* What hands do with a candy: of a log. */
static void print_candy_task(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    const MaterialRow *row = &job->bill.material[task->index];
    char mass[32];
    mass_print(mass, sizeof mass, row->with_spare_g / job->cane.logs, job->order.units);
    if (task->kind == TASK_COOL && job->recipe.boilings > job->cane.logs)
        (void)snprintf(out, ROPE_LINE, "colour the %s of boiling %d; cool it", row->candy.name,
                       task->boiling + 1);
    else
        (void)snprintf(out, ROPE_LINE, task->kind == TASK_PULL ? "pull %s, %s" : "colour %s, %s; cool it",
                       row->candy.name, mass);
}

static void print_weigh(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    char mass[32];
    mass_print(mass, sizeof mass, job->recipe.boiling.candy_g, job->order.units);
    if (job->recipe.boilings > job->cane.logs)
        (void)snprintf(out, ROPE_LINE, "weigh out sugar, syrup, water: boiling %d, %s of candy",
                       task->index + 1, mass);
    else
        (void)snprintf(out, ROPE_LINE, "weigh out sugar, syrup, water for %s of candy", mass);
}

/* Which candies the boiling gives: those that wait for it. */
static void print_boil(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    const WorkPlan *work = &job->work;
    const int at = (int)(task - work->task);
    (void)snprintf(out, ROPE_LINE, "boil it for ");
    for (int i = 0, told = 0; i < work->edges; i++) {
        const WorkTask *after = &work->task[work->edge[i].after];
        if (work->edge[i].before != at || after->kind != TASK_COOL) continue;
        text_append(out, ROPE_LINE, "%s%s", told++ > 0 ? ", " : "",
                    job->bill.material[after->index].candy.name);
    }
}

/* "form ropes 7.2, 12.1"; of many only how many. */
static void print_ropes(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    if (task->index < 0) {
        (void)snprintf(out, ROPE_LINE, "form the core: one rope");
        return;
    }
    const Block *block = &job->blocks.block[task->index];
    out[0] = 0;
    int told = 0, trims = 0;
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        const Item *item = &job->blocks.item[i];
        const Rope *rope = item->is_block ? NULL : &job->layup.rope[item->index];
        trims += rope && rope->trim && !rope->rest;
        if (!rope || rope->type < 0) continue;
        if (told < ROPES_NAMED)
            text_append(out, ROPE_LINE, "%s%d.%d", told > 0 ? ", " : "", rope->type + 1, rope->serial);
        told++;
    }
    if (told > ROPES_NAMED) text_append(out, ROPE_LINE, " and %d more", told - ROPES_NAMED);
    if (trims > 0) text_append(out, ROPE_LINE, ", %d trim%s", trims, trims == 1 ? "" : "s");
    char names[ROPE_LINE];
    (void)snprintf(names, sizeof names, "%s", out);
    (void)snprintf(out, ROPE_LINE, "form rope%s ", told > 1 ? "s" : "");
    text_append(out, ROPE_LINE, "%s", names);
    if (block->builds > 1) text_append(out, ROPE_LINE, ", %d times", block->builds);
}

static void print_block(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    const Block *block = &job->blocks.block[task->index];
    const bool log = task->index == job->blocks.blocks - 1;
    (void)snprintf(out, ROPE_LINE, "%s block %d%s%s",
                   block->kind == BLOCK_WRAPPED ? "wrap"
                   : block->kind == BLOCK_ROUND ? "press round"
                                                : "lay up",
                   task->index + 1,
                   !log                  ? ""
                   : job->grid.rings > 0 ? ", inside the rings"
                                         : ", the core",
                   block_is_drawn(block) ? ", draw it out" : "");
    if (block->builds > 1) text_append(out, ROPE_LINE, ", %d times", block->builds);
}

static void print_log_task(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    char across[64], bench[32];
    const char *rings = job->grid.rings > 0 ? "rings and " : "";
    length_print(across, sizeof across, job->order.piece_diameter_mm, job->order.units);
    hand_print(bench, sizeof bench, job->shop->bench_length_mm, job->order.units);
    if (task->kind == TASK_SHEETS)
        (void)snprintf(out, ROPE_LINE, "roll out %sjacket: %d sheet%s", rings, task->count,
                       task->count == 1 ? "" : "s");
    else if (task->kind == TASK_WRAP)
        (void)snprintf(out, ROPE_LINE, "lay %sjacket round the core, roll the log even; TEST SLICE", rings);
    else if (task->kind == TASK_DRAW)
        (void)snprintf(out, ROPE_LINE, "draw out to %s, cut to canes of %s", across, bench);
    else
        (void)snprintf(out, ROPE_LINE, "chop, cool, pack");
}

void task_words(const Job *job, const WorkTask *task, char out[ROPE_LINE]) {
    switch (task->kind) {
    case TASK_WEIGH:
        print_weigh(job, task, out);
        return;
    case TASK_BOIL:
        print_boil(job, task, out);
        return;
    case TASK_COOL:
    case TASK_PULL:
        print_candy_task(job, task, out);
        return;
    case TASK_FOLD:
        (void)snprintf(out, ROPE_LINE, "fold %s", job->bill.blend[task->index].whole.candy.name);
        return;
    case TASK_ROPES:
        print_ropes(job, task, out);
        return;
    case TASK_BLOCK:
        print_block(job, task, out);
        return;
    case TASK_SHEETS:
    case TASK_WRAP:
    case TASK_DRAW:
    case TASK_PACK:
        print_log_task(job, task, out);
        return;
    case TASK_KINDS:
        out[0] = 0;
        return;
    }
}

const WorkTask *block_task(const Job *job, TaskKind kind, int block) {
    for (int i = 0; i < job->work.tasks; i++)
        if (job->work.task[i].kind == kind && job->work.task[i].index == block) return &job->work.task[i];
    return NULL;
}

/* Is the block laid up by who formed its ropes, and at once? */
static bool goes_on(const WorkTask *ropes, const WorkTask *block) {
    return ropes && block && ropes->person == block->person && ropes->start + ropes->minutes == block->start;
}

bool work_line_next(const Job *job, int *at, WorkLine *out) {
    const WorkPlan *work = &job->work;
    for (; *at < work->tasks; (*at)++) {
        const WorkTask *task = &work->task[*at];
        if (task->kind == TASK_BLOCK && goes_on(block_task(job, TASK_ROPES, task->index), task)) continue;
        const WorkTask *block = task->kind == TASK_ROPES ? block_task(job, TASK_BLOCK, task->index) : NULL;
        const bool both = goes_on(task, block);
        *out = (WorkLine){.kind = task->kind,
                          .start = task->start,
                          .minutes = task->minutes + (both ? block->minutes : 0),
                          .person = task->person,
                          .waits = both ? block->waits : task->waits};
        task_words(job, task, out->text);
        char more[ROPE_LINE];
        if (both) task_words(job, block, more);
        if (both) text_append(out->text, ROPE_LINE, "; %s", more);
        if (!both && task->kind == TASK_ROPES && task->index >= 0)
            text_append(out->text, ROPE_LINE, " for block %d", task->index + 1);
        (*at)++;
        return true;
    }
    return false;
}

/* --- the whole of it --- */

double work_least(const WorkPlan *work) {
    return fmax(fmax(work->chain, work->kettle), work->hands / work->people);
}

void day_words(const Job *job, Form form, char out[LOG_LINE]) {
    const WorkPlan *work = &job->work;
    (void)snprintf(out, LOG_LINE,
                   "%s %.0f minutes before the candy is poured; from then on %.0f minutes%s to the "
                   "last bag, for %d %s (habits)",
                   form == FORM_TEXT ? "begin" : "Begin", 0 - work->begins, work->ends,
                   job->cane.logs > 1 ? " a log" : "", work->people, work->people == 1 ? "person" : "people");
    if (job->cane.logs > 1)
        text_append(out, LOG_LINE, "; each further log is poured %.0f minutes after the one before",
                    work->next);
}

void day_least_words(const Job *job, Form form, char out[LOG_LINE]) {
    const WorkPlan *work = &job->work;
    const double over = work->ends - work_least(work);
    (void)snprintf(out, LOG_LINE, "%s work itself is %.0f minutes%s, the longest chain of tasks %.0f",
                   form == FORM_TEXT ? "the" : "The", work->hands / work->people,
                   work->people > 1 ? " for each" : "", work->chain);
    if (work->kettle > 0) text_append(out, LOG_LINE, ", the kettle's further boilings %.0f", work->kettle);
    if (over >= 1)
        text_append(out, LOG_LINE, "; %.0f over, as %s", over,
                    work_least(work) <= work->kettle ? "hands wait for the kettle"
                    : work->people > 1               ? "tasks that hang together leave a hand waiting"
                                                     : "one waits for the other");
}

/* The longest first. */
void waits_words(const Job *job, Form form, char out[LOG_LINE]) {
    const WorkPlan *work = &job->work;
    char of[CANDY_NAME];
    double below = HUGE_VAL;
    int last = -1;
    out[0] = 0;
    for (int told = 0; told < WAITS_TOLD; told++) {
        int next = -1;
        for (int i = 0; i < work->tasks; i++) {
            const WorkTask *task = &work->task[i];
            bool waits = task->kind >= TASK_COOL && task->kind <= TASK_BLOCK && task->waits >= waits_least;
            bool after = task->waits < below || (task->waits == below && i > last);
            if (waits && after && (next < 0 || task->waits > work->task[next].waits)) next = i;
        }
        if (next < 0) break;
        below = work->task[next].waits;
        last = next;
        task_of_print(job, &work->task[next], of);
        text_append(out, LOG_LINE, "%s%s %.0f min",
                    told > 0            ? ", "
                    : form == FORM_TEXT ? "longest in the warm box: "
                                        : "Longest in the warm box: ",
                    of, below);
    }
}

void block_minute_words(const Job *job, int block, char out[WORDS_SIZE]) {
    const WorkTask *ropes = block_task(job, TASK_ROPES, block), *laid = block_task(job, TASK_BLOCK, block);
    char who[16], minute[16];
    out[0] = 0;
    if (!laid) return;
    text_append(out, WORDS_SIZE, "min ");
    person_print(&job->work, laid->person, who);
    if (ropes && !goes_on(ropes, laid)) {
        char other[16];
        person_print(&job->work, ropes->person, other);
        minute_print(ropes->start, minute);
        text_append(out, WORDS_SIZE, "%s %s, ", minute, other);
    }
    minute_print(goes_on(ropes, laid) ? ropes->start : laid->start, minute);
    text_append(out, WORDS_SIZE, "%s %s", minute, who);
}
