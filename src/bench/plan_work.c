/* The plan of work. SPDX-License-Identifier: MIT
 *
 * Input: what is cooked, laid and wrapped for a log, and the shop's minutes. Output: tasks with people and
 * times.
 * 1. Tasks, and what each needs first. list_tasks.c.
 * 2. Everything is set as late as what comes after it allows, so that little waits: from the last task
 * backwards, one task at a time, always that which can end latest; of several ropes first, which cool
 * soonest, then the one with the longest chain of tasks before it, as the critical one. A block is given to
 * whoever lays up the block that holds it, if that hand is free: so two people work on blocks that do not
 * hang together. One kettle; wrapping, drawing out and packing take everybody, and a share of the time each.
 * 3. Times are told from the end of the first boiling, when the first candy is poured. Colour goes in while
 * it is hot: what is poured is coloured as soon as somebody is idle. The next log is poured when all hands
 * are done, and one of them has weighed out for it in between, or when the kettle is. Minutes are rounded to
 * 1/64, so that all sums are exact. Invariants: nothing starts before what it needs has ended, nobody does
 * two things at once, and the whole takes at least as long as the longest chain, the kettle, and the work of
 * all hands divided by the people. Cost: tasks^2 * edges at most, a millisecond or two. */
#include "bench/planning.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- 2. times, backwards from the end --- */

/* The longest chains up to each task, and from the pouring on. */
static void find_chains(Planning *p) {
    WorkPlan *w = &p->work;
    for (int i = 0; i < w->edges; i++) p->after[w->edge[i].before]++;
    for (int t = 0, e = 0; t < w->tasks; t++)
        for (; e < w->edges && w->edge[e].after == t; e++) {
            int before = w->edge[e].before;
            p->before[t] = fmax(p->before[t], p->before[before] + w->task[before].minutes);
        }
    double first = minutes_rounded(p->shop->minutes_weigh) + minutes_rounded(p->shop->minutes_boil);
    for (int t = 0; t < w->tasks; t++) w->chain = fmax(w->chain, p->before[t] + w->task[t].minutes - first);
}

/* When, backwards, a hand is free for the task; *person: whose. The wished one, if it is free by `late`,
 * before which the task cannot end. */
static double hand_free(const Planning *p, const WorkTask *task, int wish, double late, int *person) {
    double at = 0;
    *person = task->person;
    if (task->person == PEOPLE_NOBODY) return p->kettle_free;
    if (task->person == PEOPLE_EVERYBODY) {
        for (int i = 0; i < p->shop->people; i++) at = fmax(at, p->free_at[i]);
        return at;
    }
    *person = wish;
    for (int i = 0; i < p->shop->people; i++)
        if (p->free_at[wish] > late && p->free_at[i] < p->free_at[*person]) *person = i;
    return p->free_at[*person];
}

static void take_hand(Planning *p, const WorkTask *task, double until) {
    if (task->person == PEOPLE_NOBODY) p->kettle_free = until;
    for (int i = 0; i < p->shop->people; i++)
        if (task->person == PEOPLE_EVERYBODY || task->person == i) p->free_at[i] = until;
}

/* Who does what comes after it soonest; 0 if everybody does. */
static int wished_person(const Planning *p, int t) {
    double soonest = HUGE_VAL;
    int person = 0;
    for (int i = 0; i < p->work.edges; i++) {
        const WorkTask *after = &p->work.task[p->work.edge[i].after];
        double starts = p->ends[p->work.edge[i].after] + after->minutes;
        if (p->work.edge[i].before != t || after->person < 0 || starts >= soonest) continue;
        soonest = starts;
        person = after->person;
    }
    return person;
}

/* Is task t to be set before u, where both can end as late? Ropes, which cool first, before all else; then
 * what has the longest chain up to its end. */
static bool goes_first(const Planning *p, int t, int u) {
    const WorkTask *a = &p->work.task[t], *b = &p->work.task[u];
    bool ropes = a->kind == TASK_ROPES, others = b->kind == TASK_ROPES;
    return ropes != others ? ropes : p->before[t] + a->minutes > p->before[u] + b->minutes;
}

/* The task that can end latest of those whose followers are all set; of several that goes_first, then the
 * last of the list. *ends: when, backwards; *person: whose. */
static int next_task(const Planning *p, double *ends, int *person) {
    int best = -1;
    for (int t = p->work.tasks - 1; t >= 0; t--) {
        const WorkTask *task = &p->work.task[t];
        if (p->after[t] != 0) continue;
        int who;
        int wish = task->person < 0 ? 0 : wished_person(p, t);
        double at = fmax(p->late[t], hand_free(p, task, wish, p->late[t], &who));
        if (best >= 0 && at >= *ends && !(at == *ends && goes_first(p, t, best))) continue;
        best = t;
        *ends = at;
        *person = who;
    }
    return best;
}

static void set_times(Planning *p) {
    for (int set = 0; set < p->work.tasks; set++) {
        double ends = 0;
        int person = 0, t = next_task(p, &ends, &person);
        WorkTask *task = &p->work.task[t];
        double starts = ends + task->minutes;
        task->person = person;
        p->ends[t] = ends;
        p->after[t] = -1; /* set */
        take_hand(p, task, starts);
        for (int i = 0; i < p->work.edges; i++) {
            if (p->work.edge[i].after != t) continue;
            int before = p->work.edge[i].before;
            p->after[before]--;
            p->late[before] = fmax(p->late[before], starts);
        }
    }
}

/* --- 3. times, forwards from the pouring --- */

static double end_of(const WorkTask *task) {
    return task->start + task->minutes;
}

/* Has the person nothing else to do from then to then? */
static bool is_idle(const WorkPlan *w, int person, double from, double to, int but) {
    for (int i = 0; i < w->tasks; i++) {
        const WorkTask *task = &w->task[i];
        bool theirs = task->person == person || task->person == PEOPLE_EVERYBODY;
        if (i != but && theirs && task->start < to && end_of(task) > from) return false;
    }
    return true;
}

/* Somebody who is idle for the task from then on; -1 if nobody is. */
static int idle_person(const WorkPlan *w, int t, double from) {
    for (int person = 0; person < w->people; person++)
        if (is_idle(w, person, from, from + w->task[t].minutes, t)) return person;
    return -1;
}

/* Colour goes into candy while it is hot: the task is set as soon as its boiling is done and somebody is
 * idle, at once or when another task ends. */
static void pour_early(WorkPlan *w, int t) {
    WorkTask *task = &w->task[t];
    double ready = -HUGE_VAL, best = task->start;
    for (int i = 0; i < w->edges; i++)
        if (w->edge[i].after == t) ready = fmax(ready, end_of(&w->task[w->edge[i].before]));
    for (int i = -1; i < w->tasks; i++) {
        double from = i < 0 ? ready : end_of(&w->task[i]);
        if (from < ready || from >= best) continue;
        int person = idle_person(w, t, from);
        if (person < 0) continue;
        best = from;
        task->person = person;
    }
    task->start = best;
}

static void set_starts(Planning *p) {
    WorkPlan *w = &p->work;
    double poured = 0;
    for (int t = 0; t < w->tasks; t++)
        if (w->task[t].kind == TASK_BOIL) poured = fmax(poured, p->ends[t]);
    for (int t = 0; t < w->tasks; t++) w->task[t].start = poured - p->ends[t] - w->task[t].minutes;
    for (int boiling = 0; boiling < p->boilings; boiling++)
        for (int t = 0; t < w->tasks; t++)
            if (w->task[t].kind == TASK_COOL && w->task[t].boiling == boiling) pour_early(w, t);
}

static void tell_times(Planning *p) {
    WorkPlan *w = &p->work;
    double first_rope = HUGE_VAL, wrapped = 0;
    for (int t = 0; t < w->tasks; t++) {
        const WorkTask *task = &w->task[t];
        const double before = fmax(0, fmin(0, end_of(task)) - task->start); /* the pouring */
        const int hands = task->person == PEOPLE_EVERYBODY ? w->people : task->person >= 0;
        w->begins = fmin(w->begins, task->start);
        w->ends = fmax(w->ends, end_of(task));
        w->paid += before * hands;
        w->hands += (task->minutes - before) * hands;
        if (task->kind == TASK_BOIL && task->index > 0) w->kettle += task->minutes;
        if (task->kind == TASK_ROPES) first_rope = fmin(first_rope, task->start);
        if (task->kind == TASK_WRAP) wrapped = end_of(task);
    }
    w->laying = fmax(0, wrapped - first_rope);
    w->paid += w->ends * w->people;
    w->next = fmax(w->ends + minutes_rounded(p->shop->minutes_weigh),
                   w->kettle + minutes_rounded(p->shop->minutes_boil));
    for (int i = 0; i < w->edges; i++) {
        WorkTask *before = &w->task[w->edge[i].before];
        before->waits = fmax(before->waits, w->task[w->edge[i].after].start - end_of(before));
    }
}

/* --- the order in which they are told --- */

static int compare_tasks(const void *a, const void *b) {
    const WorkTask *s = a, *t = b;
    if (s->start != t->start) return s->start < t->start ? -1 : 1;
    if (s->kind != t->kind) return s->kind < t->kind ? -1 : 1;
    return s->index != t->index ? s->index - t->index : s->boiling - t->boiling;
}

static int compare_edges(const void *a, const void *b) {
    const WorkEdge *s = a, *t = b;
    return s->after != t->after ? s->after - t->after : s->before - t->before;
}

static int place_of(const WorkPlan *work, const WorkTask *task) {
    const WorkTask *found = bsearch(task, work->task, (size_t)work->tasks, sizeof *task, compare_tasks);
    return (int)(found - work->task);
}

/* By start; kind and index name a task, so its place is found again. `tasks` as listed first. */
static void sort_tasks(WorkPlan *work, const WorkTask *tasks) {
    qsort(work->task, (size_t)work->tasks, sizeof *work->task, compare_tasks);
    for (int i = 0; i < work->edges; i++) {
        WorkEdge *edge = &work->edge[i];
        *edge = (WorkEdge){place_of(work, &tasks[edge->before]), place_of(work, &tasks[edge->after])};
    }
    qsort(work->edge, (size_t)work->edges, sizeof *work->edge, compare_edges);
}

static bool take_room(Planning *p, WorkTask **copy, Err *err) {
    size_t most;
    return tasks_room(p, &most, err) && (*copy = mem_alloc(most, sizeof **copy, err)) &&
           (p->before = mem_alloc(most, sizeof *p->before, err)) &&
           (p->ends = mem_alloc(most, sizeof *p->ends, err)) &&
           (p->late = mem_alloc(most, sizeof *p->late, err)) &&
           (p->after = mem_alloc(most, sizeof *p->after, err)) &&
           (p->free_at = mem_alloc((size_t)p->shop->people, sizeof *p->free_at, err));
}

static void free_room(Planning *p, WorkTask *copy) {
    free(copy);
    free(p->block);
    free(p->before);
    free(p->ends);
    free(p->late);
    free(p->after);
    free(p->free_at);
}

bool plan_work(const Palette *palette, const Cane *cane, const Shop *shop, const LayUp *layup,
               const Blocks *blocks, const Bill *bill, const Heat *heat, const Recipe *recipe, WorkPlan *out,
               Err *err) {
    Planning p = {.palette = palette,
                  .cane = cane,
                  .shop = shop,
                  .layup = layup,
                  .blocks = blocks,
                  .bill = bill,
                  .heat = heat,
                  .recipe = recipe,
                  .work = {.people = shop->people}};
    WorkTask *copy = NULL;
    p.boilings = recipe->boilings / cane->logs;
    bool good = take_room(&p, &copy, err);
    if (good) {
        list_tasks(&p);
        find_chains(&p);
        set_times(&p);
        set_starts(&p);
        tell_times(&p);
        memcpy(copy, p.work.task, (size_t)p.work.tasks * sizeof *copy);
        sort_tasks(&p.work, copy);
        *out = p.work;
    } else
        work_free(&p.work);
    free_room(&p, copy);
    return good;
}
