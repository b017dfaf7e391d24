/* A plan of work while it is made. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLANNING_H
#define LOGOCANE_PLANNING_H

#include "bench/bench.h"

/* All of one planning; not owned but for the work. */
typedef struct Planning {
    const Palette *palette;
    const Cane *cane;
    const Shop *shop;
    const LayUp *layup;
    const Blocks *blocks;
    const Bill *bill;
    const Heat *heat;
    const Recipe *recipe;
    WorkPlan work;
    int boilings;                                   /* of the log */
    int material[MATERIALS_MAX], blend[BLENDS_MAX]; /* the task after which it is to hand; -1 = not cooked */
    int *block;                                     /* [blocks] the task that lays it up; owned */
    double *before;     /* [tasks] minutes of the longest chain of tasks before it; owned */
    double *ends;       /* [tasks] backwards: minutes from its end to the end of all; owned */
    double *late;       /* [tasks] backwards: the least that `ends` can be, by what comes after; owned */
    int *after;         /* [tasks] tasks after it that are not set yet; owned */
    double *free_at;    /* [people] backwards: minutes from the end of all; owned */
    double kettle_free; /* likewise */
} Planning;

/* Minutes rounded to 1/64, so that sums are exact. */
double minutes_rounded(double minutes);

/* Room for all that list_tasks can list; false and ERR_MEMORY if there is none. */
bool tasks_room(Planning *planning, size_t *tasks, Err *err) MUST_CHECK;

/* Lists the tasks of a log, and what each needs first: what is needed stands before it. */
void list_tasks(Planning *planning);

#endif
