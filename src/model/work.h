/* Public. The plan of work: what is done for a log, by whom and when. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WORK_H
#define LOGOCANE_WORK_H

#include <stdbool.h>

/* In the order in which a candy goes through them. */
typedef enum TaskKind {
    TASK_WEIGH,  /* sugar, syrup and water of a boiling weighed out */
    TASK_BOIL,   /* a boiling, to its temperature: the kettle's time, nobody's */
    TASK_COOL,   /* a candy poured out, coloured, cooled until it can be handled */
    TASK_PULL,   /* a candy pulled until opaque */
    TASK_FOLD,   /* a blend folded from its two candies */
    TASK_ROPES,  /* the ropes of a block formed and drawn */
    TASK_BLOCK,  /* a block laid up, wrapped, drawn out and cut, as it is built */
    TASK_SHEETS, /* rings and jacket rolled out */
    TASK_WRAP,   /* rings and jacket laid round the core, the log rolled even */
    TASK_DRAW,   /* the log drawn out, its cane cut to bench lengths */
    TASK_PACK,   /* chopped, cooled, packed */
    TASK_KINDS
} TaskKind;

enum { PEOPLE_EVERYBODY = -1, PEOPLE_NOBODY = -2 };

/* Minutes are multiples of 1/64, so that their sums are exact; 0 is when the first candy is poured.
 * Filled by plan_work. */
typedef struct WorkTask {
    TaskKind kind;
    int index;    /* boiling of the log (weigh, boil), row of Bill.material (cool, pull) or Bill.blend (fold),
                     block (ropes, block; -1: the one rope that is the core); else 0 */
    int boiling;  /* of the log: of weigh, boil and cool, which is of a candy's share of one; else 0 */
    int count;    /* of ropes made, of sheets; else 0 */
    double start; /* minutes after the pouring; before it under 0 */
    double minutes; /* it takes */
    int person;     /* 0.. or PEOPLE_EVERYBODY; PEOPLE_NOBODY: the kettle */
    double waits; /* minutes from its end until the last of it is taken: in the warm box, of a boiling on the
                     slab */
    double keeps; /* minutes that what comes of it stays workable out of the warm box; 0 = not known */
} WorkTask;

/* What must be done before what. Filled by plan_work. */
typedef struct WorkEdge {
    int before, after; /* indices of tasks */
} WorkEdge;

/* Of one log; all logs are worked alike, one after the other. Filled by plan_work. */
typedef struct WorkPlan {
    int tasks;
    WorkTask *task; /* in the order of their starts, then of kind and index; owned */
    int edges;
    WorkEdge *edge; /* by `after`, then by `before`; owned */
    int people;     /* at work */
    double laying;  /* minutes from the first rope to the log wrapped and rolled */
    double begins;  /* minutes after the pouring at which the first task starts: under 0 */
    double ends;    /* minutes after the pouring at which the last task ends */
    double hands;   /* minutes of work from the pouring on, of all people together */
    double chain;   /* minutes of the longest chain of tasks from the pouring on */
    double kettle;  /* minutes of all boilings but the first, which ends with the pouring */
    double paid; /* minutes that people are at it, all together: from the pouring to the end, and weighing out
                    before */
    double next; /* minutes after the pouring at which the next log's first candy is poured */
} WorkPlan;

void work_free(WorkPlan *work);

#endif
