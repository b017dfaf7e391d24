/* A job: all that is known of one logo and one order, and the order of the stages. SPDX-License-Identifier:
 * MIT */
#ifndef LOGOCANE_JOB_H
#define LOGOCANE_JOB_H

#include "bill.h"
#include "block.h"
#include "candy.h"
#include "cane.h"
#include "err.h"
#include "grid.h"
#include "heat.h"
#include "ink.h"
#include "judgement.h"
#include "layup.h"
#include "order.h"
#include "picture.h"
#include "place.h"
#include "recipe.h"
#include "shop.h"

typedef struct Job {
    const Picture *picture; /* not owned: jobs of one logo share it */
    const InkMap *inks;     /* not owned, likewise */
    const Shop *shop;       /* not owned */
    char file[256];         /* the logo's file name, without folders; "-" for standard input */
    Order order;
    Palette palette;
    Cane cane;
    Grid grid;
    LayUp layup;
    Blocks blocks;
    Face face;    /* the softened face, over the whole core */
    FineMap fine; /* what of the wanted face is finer than hands lay */
    Judgement judgement;
    Places places; /* what of the logo does not come out */
    Bill bill;
    Heat heat;
    Recipe recipe;
} Job;

/* Runs the stages from matching on. `job` must have picture, inks, shop, file and order set and the rest
 * empty. An order by mass is run with the pieces N for which N - 1 pieces of the mass they come to weigh less
 * than ordered, N at least that; order.pieces says how many. Fails as the stages do; then the job is empty
 * but for what was set. */
bool job_run(Job *job, Err *err) MUST_CHECK;

/* Runs a job that was run before once more, after a change of the order's pieces, mass or piece size, or of
 * the shop's people or temperatures, and of nothing else. The lay-up depends on these through the steps only:
 * while they stay, it is kept, and only the cheap rest is worked out. The results are those of job_run. */
bool job_run_again(Job *job, Err *err) MUST_CHECK;

void job_free(Job *job); /* frees what it owns and resets it to {0} */

#endif
