/* Public. A job: all that is known of one logo and one order. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JOB_H
#define LOGOCANE_JOB_H

#include "base/err.h"
#include "base/stop.h"
#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "model/choice.h"
#include "model/grid.h"
#include "model/ink.h"
#include "model/judgement.h"
#include "model/layup.h"
#include "model/measures.h"
#include "model/order.h"
#include "model/picture.h"
#include "model/shop.h"
#include "model/work.h"

enum { OPTIONS_TEXT = 480 };

/* What --advised added to what was typed. Filled by advised_take. */
typedef struct Advised {
    bool taken;                 /* else all is 0 */
    Verdict from;               /* of the job as it was asked for */
    char options[OPTIONS_TEXT]; /* as they would be typed: "--people 3" */
} Advised;

/* Picture to order are given; typed and advised may be left empty. Each of the others names the stage that
 * fills it: job_run runs them, in the order of the fields. */
typedef struct Job {
    const Picture *picture; /* not owned: jobs of one logo share it */
    const InkMap *inks;     /* not owned, likewise */
    const Shop *shop;       /* not owned */
    char file[256];         /* the logo's file name, without folders; "-" for standard input */
    const char *typed;      /* the options typed, as a shell takes them; NULL = not known; not owned */
    const Stop *stop;       /* NULL = it runs to its end; not owned */
    Advised advised;        /* by advised_take */
    Order order;
    Palette palette;     /* by choose_palette */
    Choice choice;       /* by choose_palette: what else was tried */
    Cane cane;           /* by size_cane */
    Grid grid;           /* by frame */
    LayUp layup;         /* by lay_up; weigh numbers the ropes */
    Blocks blocks;       /* by find_blocks; plan_builds says how each is built */
    Face face;           /* by soften: the softened face, over the whole core */
    FineMap fine;        /* by mark_fine: what of the wanted face is finer than hands lay */
    Bill bill;           /* by weigh and plan_pulls */
    Heat heat;           /* by cool */
    Recipe recipe;       /* by cook */
    WorkPlan work;       /* by plan_work */
    Judgement judgement; /* by judge; ways out of it by advise */
    Measures measures;   /* by measure: how like the logo the face is, as people see it */
    Flaws flaws;         /* by find_flaws: what of the logo does not come out */
} Job;

void job_free_laid(Job *job);    /* empties what depends on the lay-up: grid to fine map */
void job_free_results(Job *job); /* empties all that the stages fill but the palette and the cane */
void job_free(Job *job);         /* frees all that it owns and resets it to {0} */

#endif
