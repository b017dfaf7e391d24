/* The order of the stages. SPDX-License-Identifier: MIT */
#include "job.h"

#include "find_blocks.h"
#include "frame.h"
#include "judge.h"
#include "lay_up.h"
#include "match_candy.h"
#include "plan_builds.h"
#include "plan_pulls.h"
#include "size_cane.h"
#include "soften.h"
#include "weigh.h"

/* Weighing comes before judging: ropes made, minutes and the log's mass are among what is judged. */
static bool run_stages(Job *j, Err *err) {
    bool built = match_candy(j->inks, &j->order, &j->shop->stock, &j->palette, err) &&
                 size_cane(&j->order, &j->palette, j->shop, &j->cane, err) &&
           frame(j->inks, &j->palette, &j->cane, j->shop, &j->grid, err) &&
                 lay_up(&j->grid, &j->order, &j->layup, err) &&
                 find_blocks(&j->grid, &j->layup, &j->blocks, err);
    if (!built) return false;
    plan_builds(&j->cane, j->shop, &j->blocks);
    return soften(&j->grid, &j->layup, j->shop, &j->face, err) &&
           weigh(&j->palette, &j->cane, &j->grid, j->shop, &j->blocks, &j->layup, &j->bill, err) &&
           plan_pulls(&j->palette, j->shop, &j->layup, &j->blocks, &j->bill, err) &&
           judge(j, &j->judgement, err);
}

static void free_results(Job *j) {
    grid_free(&j->grid);
    layup_free(&j->layup);
    blocks_free(&j->blocks);
    face_free(&j->face);
    judgement_free(&j->judgement);
    bill_free(&j->bill);
}

bool job_run(Job *job, Err *err) {
    if (run_stages(job, err)) return true;
    free_results(job);
    return false;
}

void job_free(Job *job) {
    free_results(job);
    *job = (Job){0};
}
