/* Public. A job: all that is known of one logo and one order. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JOB_H
#define LOGOCANE_JOB_H

#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "base/err.h"
#include "model/grid.h"
#include "model/heat.h"
#include "model/ink.h"
#include "model/judgement.h"
#include "model/layup.h"
#include "model/order.h"
#include "model/picture.h"
#include "model/flaw.h"
#include "model/recipe.h"
#include "model/shop.h"

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
    Flaws flaws; /* what of the logo does not come out */
    Bill bill;
    Heat heat;
    Recipe recipe;
} Job;

void job_free_laid(Job *job);    /* empties what hangs on the lay-up: grid to fine map */
void job_free_results(Job *job); /* empties all that the stages fill but the palette and the cane */
void job_free(Job *job);         /* frees what it owns and resets it to {0} */

#endif
